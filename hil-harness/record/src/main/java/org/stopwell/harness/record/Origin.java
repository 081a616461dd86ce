package org.stopwell.harness.record;

import java.util.LinkedHashMap;
import java.util.Map;

/**
 * Where the stops of a run were measured.
 *
 * @param imported whether they were measured elsewhere and read from a table
 * @param table name of the table that they were read from; empty when measured here
 * @param sha256 SHA-256 of that table, 64 hexadecimal digits; empty when measured here
 * @param place who measured them, in the words of the plan; may be empty
 * @param uncertaintyMicrons expanded uncertainty of a distance, 95 %, as stated by who measured
 *     them, µm; 0 when not stated
 */
public record Origin(
    boolean imported, String table, String sha256, String place, int uncertaintyMicrons) {
  /** Measured by this program, on its bench. */
  public static final Origin HERE = new Origin(false, "", "", "", 0);

  /** What an imported number is called wherever it is shown. */
  public static final String NOT_HERE = "not measured here";

  private static final String KEY = "origin";
  private static final String IMPORTED = "imported";
  private static final String TABLE = "origin.table";
  private static final String SHA256 = "origin.sha256";
  private static final String PLACE = "origin.place";
  private static final String UNCERTAINTY = "origin.u95_um";

  /**
   * Stops that were measured elsewhere.
   *
   * @param table name of their table
   * @param sha256 its SHA-256
   * @param place who measured them
   * @param uncertaintyMicrons expanded uncertainty of a distance, 95 %, µm; 0 when not stated
   * @return their origin
   */
  public static Origin elsewhere(
      String table, String sha256, String place, int uncertaintyMicrons) {
    return new Origin(true, table, sha256, place, uncertaintyMicrons);
  }

  /** The texts that a run file keeps; none for {@link #HERE}. */
  Map<String, String> rows() {
    Map<String, String> rows = new LinkedHashMap<>();
    if (imported) {
      rows.put(KEY, IMPORTED);
      rows.put(TABLE, table);
      rows.put(SHA256, sha256);
      rows.put(PLACE, place);
      rows.put(UNCERTAINTY, Integer.toString(uncertaintyMicrons));
    }
    return rows;
  }

  /**
   * Reads what {@link #rows} gave.
   *
   * @throws IllegalArgumentException when a value is none of its kind
   */
  static Origin of(Map<String, String> rows) {
    String word = rows.get(KEY);
    if (word == null) {
      return HERE;
    }
    if (!word.equals(IMPORTED)) {
      throw new IllegalArgumentException("origin " + word + ", must be " + IMPORTED);
    }
    return elsewhere(
        rows.getOrDefault(TABLE, ""),
        rows.getOrDefault(SHA256, ""),
        rows.getOrDefault(PLACE, ""),
        Integer.parseInt(rows.getOrDefault(UNCERTAINTY, "0")));
  }
}
