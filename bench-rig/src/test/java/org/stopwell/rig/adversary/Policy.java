package org.stopwell.rig.adversary;

/** The sensing policies. */
enum Policy {
  RATIO,
  RESISTANCE,
  LOCATOR,
  APPROACH;

  /** Whether the settings declare its drift as a resistance in series, not as a distance. */
  boolean feelsOhms() {
    return this == RATIO || this == RESISTANCE;
  }

  /** The frequencies that it needs, Hz. */
  int[] hertz() {
    return switch (this) {
      case RATIO -> new int[] {630, 6_300};
      case RESISTANCE, LOCATOR -> new int[] {630};
      case APPROACH -> new int[] {300, 1_500, 7_000, 20_000};
    };
  }
}
