package org.stopwell.harness.cli;

import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import org.stopwell.rig.time.MachineClock;

/** Date and time for the record; no trial is ever decided by it. */
final class Clock {
  private Clock() {}

  /** The date, UTC: whether a proof or a calibration is overdue goes by it. */
  static LocalDate today() {
    return LocalDate.parse(now().substring(0, 10));
  }

  static String now() {
    return Instant.EPOCH
        .plus(MachineClock.epochMicros(), ChronoUnit.MICROS)
        .truncatedTo(ChronoUnit.SECONDS)
        .toString();
  }
}
