package org.stopwell.rig.time;

import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;

/** Date and time for the record; no trial is decided by it. */
public final class Utc {
  private Utc() {}

  /**
   * The date: whether a proof or a calibration is overdue goes by it.
   *
   * @return the date, UTC
   */
  public static LocalDate today() {
    return LocalDate.parse(now().substring(0, 10));
  }

  /**
   * Date and time.
   *
   * @return such as {@code 2026-03-02T10:15:00Z}
   */
  public static String now() {
    return Instant.EPOCH
        .plus(MachineClock.epochMicros(), ChronoUnit.MICROS)
        .truncatedTo(ChronoUnit.SECONDS)
        .toString();
  }
}
