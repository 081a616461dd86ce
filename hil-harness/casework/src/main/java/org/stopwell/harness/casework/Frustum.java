package org.stopwell.harness.casework;

import java.util.Locale;

/**
 * A slice of a shaped canal, as one file has cut it.
 *
 * @param file the file
 * @param fromMm its lower end above the end of the shaping, mm
 * @param toMm its upper end, mm
 * @param lowerMm diameter at the lower end, mm
 * @param upperMm diameter at the upper end, mm
 */
record Frustum(StepFile file, double fromMm, double toMm, double lowerMm, double upperMm) {
  /** Volume: π h / 12 (d1² + d1 d2 + d2²), mm³. */
  double volumeMm3() {
    return Math.PI
        * (toMm - fromMm)
        / 12
        * (lowerMm * lowerMm + lowerMm * upperMm + upperMm * upperMm);
  }

  /** The formula with its numbers. */
  String arithmetic() {
    return String.format(
        Locale.ROOT,
        "π · %.2f / 12 · (%.3f² + %.3f · %.3f + %.3f²)",
        toMm - fromMm,
        lowerMm,
        lowerMm,
        upperMm,
        upperMm);
  }
}
