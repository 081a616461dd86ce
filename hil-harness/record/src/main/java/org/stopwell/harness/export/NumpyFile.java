package org.stopwell.harness.export;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.stream.Collectors;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.TrialResult;

/**
 * Trials as one NumPy structured array (format version 1.0, NEP 1): whole numbers of 64 bits,
 * little endian; flags as booleans; texts as UTF-32 of the length of the longest. {@code
 * numpy.load} needs no options.
 */
public final class NumpyFile {
  private static final byte[] MAGIC = {(byte) 0x93, 'N', 'U', 'M', 'P', 'Y', 1, 0};

  private NumpyFile() {}

  /**
   * Writes the array.
   *
   * @param trials the trials
   * @param columns the columns
   * @return the bytes of the file
   */
  public static byte[] of(List<TrialResult> trials, List<TrialColumn> columns) {
    List<Field> fields =
        columns.stream().map(column -> new Field(column, length(column, trials))).toList();
    byte[] header = header(fields, trials.size());
    int rowBytes = fields.stream().mapToInt(Field::bytes).sum();
    ByteBuffer out =
        ByteBuffer.allocate(header.length + Math.multiplyExact(rowBytes, trials.size()))
            .order(ByteOrder.LITTLE_ENDIAN)
            .put(header);
    for (TrialResult trial : trials) {
      fields.forEach(field -> field.put(out, trial));
    }
    return out.array();
  }

  private static byte[] header(List<Field> fields, int rows) {
    String description =
        fields.stream()
            .map(f -> "('" + f.column.name() + "', '" + f.type() + "')")
            .collect(Collectors.joining(", ", "{'descr': [", "]"));
    String dictionary = description + ", 'fortran_order': False, 'shape': (" + rows + ",), }";
    // The data begin at a multiple of 64 bytes; the header ends with a line feed.
    int unpadded = MAGIC.length + 2 + dictionary.length() + 1;
    String padded = dictionary + " ".repeat((64 - unpadded % 64) % 64) + "\n";
    return ByteBuffer.allocate(MAGIC.length + 2 + padded.length())
        .order(ByteOrder.LITTLE_ENDIAN)
        .put(MAGIC)
        .putShort((short) padded.length())
        .put(padded.getBytes(StandardCharsets.US_ASCII))
        .array();
  }

  private static int length(TrialColumn column, List<TrialResult> trials) {
    return column.kind() != TrialColumn.Kind.TEXT
        ? 0
        : trials.stream().mapToInt(t -> codePoints(column, t).length).max().orElse(0);
  }

  private static int[] codePoints(TrialColumn column, TrialResult trial) {
    return column.value().apply(trial).toString().codePoints().toArray();
  }

  private record Field(TrialColumn column, int length) {
    String type() {
      return switch (column.kind()) {
        case INTEGER -> "<i8";
        case FLAG -> "|b1";
        case TEXT -> "<U" + Math.max(1, length);
      };
    }

    int bytes() {
      return switch (column.kind()) {
        case INTEGER -> 8;
        case FLAG -> 1;
        case TEXT -> 4 * Math.max(1, length);
      };
    }

    void put(ByteBuffer out, TrialResult trial) {
      switch (column.kind()) {
        case INTEGER -> out.putLong((Long) column.value().apply(trial));
        case FLAG -> out.put(((Long) column.value().apply(trial)).byteValue());
        case TEXT -> {
          int[] points = codePoints(column, trial);
          for (int i = 0; i < Math.max(1, length); i++) {
            out.putInt(i < points.length ? points[i] : 0);
          }
        }
      }
    }
  }
}
