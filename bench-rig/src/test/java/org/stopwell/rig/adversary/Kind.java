package org.stopwell.rig.adversary;

/** What the adversary may do beside moving the hand, each with its unit and its limits. */
enum Kind {
  /** Constant noise in place of the random one. */
  BIAS("standard deviations of the declared noise", -3, 3, true),
  /** A contact adds resistance in series from one sample to the next. */
  SERIES("Ohm in series", 2_000, 15_000, true),
  /** The higher frequencies are amplified or lost from one sample to the next. */
  HIGH_GAIN("times the higher frequencies", 0.6, 1.5, true),
  /** An outside locator jumps. */
  DISTANCE("um on the distance of the locator", -3_000, 3_000, true),
  /** Resistance in series grows. */
  DRIFT("of the declared drift", -1, 1, true),
  /** The fluid leaves the tip. */
  DRY("times a tip out of the fluid", 1, 1, true),
  /** The front end takes no more samples. */
  NO_SAMPLES("times a silent front end", 1, 1, true),
  /** The bench does not answer. */
  SILENT_LINK("times a silent bench", 1, 1, false),
  /** The operator lets go of the pedal. */
  NO_DEMAND("times the pedal released", 1, 1, false),
  /** The emergency stop is pressed. */
  STOP_LINE("times the stop line open", 1, 1, false),
  /** The reset line is closed. */
  RESET("times the reset line closed", 1, 1, false),
  /** The file meets resistance. */
  TORQUE("times the torque limit", 0.5, 10, false);

  final String unit;
  final double least;
  final double most;
  final boolean signal;

  Kind(String unit, double least, double most, boolean signal) {
    this.unit = unit;
    this.least = least;
    this.most = most;
    this.signal = signal;
  }

  /** Whether the place that the signal tells is wrong from then on, by more than noise. */
  boolean displaces() {
    return this == SERIES || this == HIGH_GAIN || this == DISTANCE || this == DRY;
  }
}
