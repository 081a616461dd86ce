package org.stopwell.harness.cli;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import org.stopwell.rig.time.MachineClock;

/** The date for the record; nothing is ever decided by it. */
final class Clock {
  private Clock() {}

  static String now() {
    return Instant.EPOCH
        .plus(MachineClock.epochMicros(), ChronoUnit.MICROS)
        .truncatedTo(ChronoUnit.SECONDS)
        .toString();
  }
}
