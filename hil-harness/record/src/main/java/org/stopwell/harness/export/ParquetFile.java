package org.stopwell.harness.export;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;

/**
 * Trials as a Parquet file (Apache Parquet format 2, <i>parquet.thrift</i>): every column required,
 * plain encoding, no compression, one page per column and group of rows. Whole numbers are INT64,
 * flags BOOLEAN, texts UTF-8 strings. The same trials give the same bytes.
 *
 * <p>It is written here because the library of the format brings 19 MB of jars for what are two
 * pages of code; the tests read it back with that library.
 */
public final class ParquetFile {
  private static final byte[] MAGIC = "PAR1".getBytes(StandardCharsets.US_ASCII);
  private static final int BOOLEAN = 0;
  private static final int INT64 = 2;
  private static final int BYTE_ARRAY = 6;
  private static final int PLAIN = 0;
  private static final int RLE = 3;

  /** Rows whose columns stand together; a reader need not hold more at once. */
  private static final int GROUP_ROWS = 100_000;

  private final ByteArrayOutputStream out = new ByteArrayOutputStream();

  private ParquetFile() {}

  /**
   * Writes the file.
   *
   * @param trials the trials
   * @param dictionary what {@link DataDictionary} says of them, kept in the footer as {@code
   *     stopwell}
   * @return the bytes of the file
   */
  public static byte[] of(List<TrialResult> trials, String dictionary) {
    return new ParquetFile().write(trials, dictionary);
  }

  private byte[] write(List<TrialResult> trials, String dictionary) {
    out.writeBytes(MAGIC);
    List<Consumer<ThriftCompact>> groups = new ArrayList<>();
    for (int from = 0; from < trials.size(); from += GROUP_ROWS) {
      groups.add(group(trials.subList(from, Math.min(trials.size(), from + GROUP_ROWS))));
    }
    byte[] footer =
        ThriftCompact.struct(
            file ->
                file.i32(1, 2)
                    .structs(2, schema())
                    .i64(3, trials.size())
                    .structs(4, groups)
                    .structs(5, List.of(pair -> pair.text(1, "stopwell").text(2, dictionary)))
                    .text(6, "stopwell"));
    out.writeBytes(footer);
    out.writeBytes(length(footer));
    out.writeBytes(MAGIC);
    return out.toByteArray();
  }

  private static List<Consumer<ThriftCompact>> schema() {
    List<Consumer<ThriftCompact>> schema = new ArrayList<>();
    schema.add(root -> root.text(4, "trials").i32(5, TrialColumn.ALL.size()));
    for (TrialColumn column : TrialColumn.ALL) {
      schema.add(
          element -> {
            element.i32(1, type(column)).i32(3, 0).text(4, column.name());
            if (column.kind() == TrialColumn.Kind.TEXT) {
              // UTF8 for readers of old, STRING for those of today.
              element.i32(6, 0).struct(10, logical -> logical.struct(1, string -> {}));
            }
          });
    }
    return schema;
  }

  private Consumer<ThriftCompact> group(List<TrialResult> trials) {
    List<Consumer<ThriftCompact>> chunks = new ArrayList<>();
    long bytes = 0;
    for (TrialColumn column : TrialColumn.ALL) {
      byte[] page = plain(column, trials);
      byte[] head =
          ThriftCompact.struct(
              header ->
                  header
                      .i32(1, 0)
                      .i32(2, page.length)
                      .i32(3, page.length)
                      .struct(
                          5,
                          data ->
                              data.i32(1, trials.size()).i32(2, PLAIN).i32(3, RLE).i32(4, RLE)));
      long offset = out.size();
      long size = (long) head.length + page.length;
      out.writeBytes(head);
      out.writeBytes(page);
      bytes += size;
      chunks.add(
          chunk ->
              chunk
                  .i64(2, offset)
                  .struct(
                      3,
                      meta ->
                          meta.i32(1, type(column))
                              .ints(2, List.of(PLAIN, RLE))
                              .texts(3, List.of(column.name()))
                              .i32(4, 0)
                              .i64(5, trials.size())
                              .i64(6, size)
                              .i64(7, size)
                              .i64(9, offset)));
    }
    long total = bytes;
    return group -> group.structs(1, chunks).i64(2, total).i64(3, trials.size());
  }

  private static int type(TrialColumn column) {
    return switch (column.kind()) {
      case INTEGER -> INT64;
      case FLAG -> BOOLEAN;
      case TEXT -> BYTE_ARRAY;
    };
  }

  private static byte[] plain(TrialColumn column, List<TrialResult> trials) {
    return switch (column.kind()) {
      case INTEGER -> {
        ByteBuffer page = ByteBuffer.allocate(8 * trials.size()).order(ByteOrder.LITTLE_ENDIAN);
        for (TrialResult trial : trials) {
          page.putLong((Long) column.value().apply(trial));
        }
        yield page.array();
      }
      case FLAG -> {
        byte[] page = new byte[(trials.size() + 7) / 8];
        for (int i = 0; i < trials.size(); i++) {
          if ((Long) column.value().apply(trials.get(i)) != 0) {
            page[i / 8] |= (byte) (1 << i % 8);
          }
        }
        yield page;
      }
      case TEXT -> {
        ByteArrayOutputStream page = new ByteArrayOutputStream();
        for (TrialResult trial : trials) {
          byte[] text = column.value().apply(trial).toString().getBytes(StandardCharsets.UTF_8);
          page.writeBytes(length(text));
          page.writeBytes(text);
        }
        yield page.toByteArray();
      }
    };
  }

  /** The length of some bytes in four of its own, the least first. */
  private static byte[] length(byte[] bytes) {
    return ByteBuffer.allocate(4).order(ByteOrder.LITTLE_ENDIAN).putInt(bytes.length).array();
  }
}
