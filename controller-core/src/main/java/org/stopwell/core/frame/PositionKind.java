package org.stopwell.core.frame;

/** Which kind of position signal a sample holds. Codes are part of the wire and trace contract. */
public enum PositionKind {
  /** No sample has arrived yet. */
  ABSENT(0),
  /** Complex impedance at one to four frequencies. */
  IMPEDANCE(1),
  /** A distance from an outside locator. */
  DISTANCE(2),
  /** An outside locator is alive and shows no distance: the tip is dry, or outside of the canal. */
  NO_CONTACT(3);

  private static final PositionKind[] BY_CODE = values();

  private final int code;

  PositionKind(int code) {
    if (code != ordinal()) {
      throw new IllegalArgumentException("code " + code + " is not the ordinal " + ordinal());
    }
    this.code = code;
  }

  /**
   * Code of this value on the wire and in traces.
   *
   * @return a code from 0
   */
  public int code() {
    return code;
  }

  /**
   * The value with a code.
   *
   * @param code a number from the wire or a trace
   * @return the value, {@link #ABSENT} for an unknown code
   */
  public static PositionKind ofCode(int code) {
    return code >= 0 && code < BY_CODE.length ? BY_CODE[code] : ABSENT;
  }
}
