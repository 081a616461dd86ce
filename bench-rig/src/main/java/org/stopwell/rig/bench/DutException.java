package org.stopwell.rig.bench;

/** The device under test failed, not the bench: the trial says something about the device. */
public final class DutException extends Exception {
  private static final long serialVersionUID = 1L;

  /** What failed. The name is the code of the trial. */
  public enum Kind {
    /** A step did not end; the watchdog of the board reset it. */
    DUT_HUNG,
    /** It was reset, by something else than its watchdog. */
    DUT_RESET,
    /** A step took longer than the control period, by the clock of the board. */
    DUT_LATE,
    /** It decided otherwise than the same controller in this program, or is in another state. */
    DUT_DIFFERS,
    /** It went silent and did not come back. That can be the line as well as the board. */
    DUT_SILENT
  }

  private final Kind kind;

  /**
   * A failure.
   *
   * @param kind what failed
   * @param message what happened, with place, value, limit and unit
   */
  public DutException(Kind kind, String message) {
    super(message);
    this.kind = kind;
  }

  /**
   * What failed.
   *
   * @return the kind, whose name is the code of the trial
   */
  public Kind kind() {
    return kind;
  }

  /**
   * Whether a code of a trial says that the device under test failed.
   *
   * @param code the code
   * @return true for the name of a kind
   */
  public static boolean isCode(String code) {
    for (Kind each : Kind.values()) {
      if (code.equals(each.name())) {
        return true;
      }
    }
    return false;
  }
}
