package org.stopwell.harness.explore;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.harness.plan.Factor;

/**
 * Every trial as a row of a NumPy structured array (format version 1.0, NEP 1): whole numbers of 64
 * bits, little endian. A row has its place in the file from the beginning, so that rows can come in
 * any order and a continued exploration fills the gaps. The table is copied to CSV at the end.
 *
 * <p>Factors are in base units, as whole numbers: {@code length_mm} in µm. The column names end in
 * {@code _e3} where a value must be divided by 10³. Choices are places in the list of the space.
 */
public final class TrialTable implements RowSink, AutoCloseable {
  /** Name of the array. */
  public static final String NUMPY = "trials.npy";

  /** Name of the copy. */
  public static final String CSV = "trials.csv";

  private final ExploreWork work;
  private final Path directory;
  private final FileChannel file;
  private final int offset;
  private final int columns;

  /**
   * Opens the table.
   *
   * @param work the work
   * @param directory output directory, which exists
   * @throws IOException when the file cannot be written
   */
  public TrialTable(ExploreWork work, Path directory) throws IOException {
    this.work = work;
    this.directory = directory;
    byte[] header = header(names(), work.trials());
    this.offset = header.length;
    this.columns = names().size();
    this.file =
        FileChannel.open(
            directory.resolve(NUMPY),
            StandardOpenOption.CREATE,
            StandardOpenOption.READ,
            StandardOpenOption.WRITE);
    write(ByteBuffer.wrap(header), 0);
    long size = offset + work.trials() * columns * Long.BYTES;
    if (file.size() < size) {
      write(ByteBuffer.wrap(new byte[1]), size - 1);
    }
  }

  private void write(ByteBuffer bytes, long at) throws IOException {
    long place = at;
    while (bytes.hasRemaining()) {
      place += file.write(bytes, place);
    }
  }

  private List<String> names() {
    List<String> names =
        new java.util.ArrayList<>(work.columns().stream().map(RowColumn::name).toList());
    List<Factor> factors = work.space().factors();
    for (int i = 0; i < factors.size(); i++) {
      Factor factor = factors.get(i);
      if (scaled(factor)) {
        names.set(i, names.get(i) + "_e" + factor.parameter().decimals());
      }
    }
    return names;
  }

  private static boolean scaled(Factor factor) {
    return factor.shape() != Factor.Shape.CHOICE
        && factor.parameter().kind() == Parameter.Kind.NUMBER
        && factor.parameter().decimals() > 0;
  }

  private static byte[] header(List<String> names, long rows) {
    StringBuilder text = new StringBuilder("{'descr': [");
    names.forEach(name -> text.append("('").append(name).append("', '<i8'), "));
    text.append("], 'fortran_order': False, 'shape': (").append(rows).append(",), }");
    int unpadded = 10 + text.length() + 1;
    text.append(" ".repeat((64 - unpadded % 64) % 64)).append('\n');
    return ByteBuffer.allocate(10 + text.length())
        .order(ByteOrder.LITTLE_ENDIAN)
        .put(new byte[] {(byte) 0x93, 'N', 'U', 'M', 'P', 'Y', 1, 0})
        .putShort((short) text.length())
        .put(text.toString().getBytes(StandardCharsets.US_ASCII))
        .array();
  }

  @Override
  public void put(long trial, long[] values) {
    ByteBuffer row = ByteBuffer.allocate(columns * Long.BYTES).order(ByteOrder.LITTLE_ENDIAN);
    for (long value : values) {
      row.putLong(value);
    }
    try {
      write(row.flip(), offset + trial * columns * Long.BYTES);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * Copies the finished table to CSV, with factors as people write them.
   *
   * @throws IOException when a file cannot be read or written
   */
  public void copyToCsv() throws IOException {
    List<RowColumn> all = work.columns();
    ByteBuffer row = ByteBuffer.allocate(columns * Long.BYTES).order(ByteOrder.LITTLE_ENDIAN);
    try (BufferedWriter out =
        Files.newBufferedWriter(directory.resolve(CSV), StandardCharsets.UTF_8)) {
      out.write(String.join(",", all.stream().map(RowColumn::name).toList()) + "\n");
      for (long trial = 0; trial < work.trials(); trial++) {
        row.clear();
        long at = offset + trial * row.capacity();
        while (row.hasRemaining()) {
          if (file.read(row, at + row.position()) < 0) {
            throw new IOException(directory.resolve(NUMPY) + " ends before its last row");
          }
        }
        row.flip();
        for (int i = 0; i < columns; i++) {
          long value = row.getLong();
          out.write(i == 0 ? "" : ",");
          out.write(all.get(i).text().apply(value));
        }
        out.write('\n');
      }
    }
  }

  @Override
  public void close() throws IOException {
    file.close();
  }
}
