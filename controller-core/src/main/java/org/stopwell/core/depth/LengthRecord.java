package org.stopwell.core.depth;

import java.math.BigDecimal;

/**
 * A length for the chart.
 *
 * @param lengthMicrons from the reference point to the standoff, µm: the median of the length
 *     readings that agree
 * @param standoffMicrons distance of that place from the foramen, µm
 * @param agreeing number of length readings that agree
 * @param taken number of length readings taken
 * @param spreadMicrons from the least to the greatest of those that agree, µm
 * @param reference the reference point, in words
 * @param referenceErrorMicrons how far off a reading of the reference point may be either way, µm
 * @param uncertaintyMicrons expanded uncertainty of the length, coverage factor 2, µm
 * @param fileSize tip diameter of the largest file among those that agree, 1/100 mm
 * @param radiograph whether a radiograph confirms the length
 */
public record LengthRecord(
    int lengthMicrons,
    int standoffMicrons,
    int agreeing,
    int taken,
    int spreadMicrons,
    String reference,
    int referenceErrorMicrons,
    int uncertaintyMicrons,
    int fileSize,
    Radiograph radiograph) {

  /** Version of the layout that {@link #toJson} writes. */
  public static final int VERSION = 2;

  /** What a radiograph says about a length. */
  public enum Radiograph {
    /** None was taken. */
    NOT_TAKEN("not taken"),
    /** It agrees. */
    CONFIRMS("confirms"),
    /** It does not agree: the length must not be used. */
    CONTRADICTS("contradicts");

    private final String word;

    Radiograph(String word) {
      this.word = word;
    }

    /**
     * The finding as a record says it.
     *
     * @return one or two words
     */
    public String word() {
      return word;
    }
  }

  /**
   * The same record after a radiograph.
   *
   * @param finding its content
   * @return a copy
   */
  public LengthRecord with(Radiograph finding) {
    return new LengthRecord(
        lengthMicrons,
        standoffMicrons,
        agreeing,
        taken,
        spreadMicrons,
        reference,
        referenceErrorMicrons,
        uncertaintyMicrons,
        fileSize,
        finding);
  }

  /**
   * Compares a later length with this one, as before filling with a larger file.
   *
   * @param later the later record, from the same reference point
   * @return whether the length has changed: the difference is beyond the root sum of squares of
   *     both uncertainties (JCGM 100, independent measurements)
   */
  public boolean hasChanged(LengthRecord later) {
    long difference = (long) later.lengthMicrons - lengthMicrons;
    long limit =
        (long) uncertaintyMicrons * uncertaintyMicrons
            + (long) later.uncertaintyMicrons * later.uncertaintyMicrons;
    return difference * difference > limit;
  }

  /**
   * The record as JSON, which is YAML as well; lengths in mm.
   *
   * @return one object
   */
  public String toJson() {
    return "{\"length_record\": "
        + VERSION
        + ", \"length_mm\": "
        + mm(lengthMicrons)
        + ", \"uncertainty_mm\": "
        + mm(uncertaintyMicrons)
        + ", \"coverage_factor\": 2, \"standoff_mm\": "
        + mm(standoffMicrons)
        + ", \"readings_agreeing\": "
        + agreeing
        + ", \"readings_taken\": "
        + taken
        + ", \"spread_mm\": "
        + mm(spreadMicrons)
        + ", \"reference\": "
        + quoted(reference)
        + ", \"reference_error_mm\": "
        + mm(referenceErrorMicrons)
        + ", \"file_size\": "
        + fileSize
        + ", \"radiograph\": \""
        + radiograph.word()
        + "\"}";
  }

  private static String mm(int microns) {
    return BigDecimal.valueOf(microns, 3).toPlainString();
  }

  /** RFC 8259, section 7: quotation mark, backslash and control characters are escaped. */
  private static String quoted(String text) {
    StringBuilder out = new StringBuilder("\"");
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '"' || c == '\\') {
        out.append('\\').append(c);
      } else if (c < 0x20) {
        out.append("\\u00").append(c < 0x10 ? "0" : "").append(Integer.toHexString(c));
      } else {
        out.append(c);
      }
    }
    return out.append('"').toString();
  }
}
