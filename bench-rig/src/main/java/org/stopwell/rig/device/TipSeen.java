package org.stopwell.rig.device;

/**
 * How far a file advanced after a stop until an observer saw its tip at the foramen of an extracted
 * tooth: the distance at rest, without the measured length of the tooth.
 *
 * @param microns that distance, µm; 0 where the tip showed at once
 * @param boundMicrons its U95, µm
 */
public record TipSeen(int microns, int boundMicrons) {
  /** Way from one look to the next, µm (assumed: below the scatter of an observer). */
  public static final int STEP_MICRONS = 20;

  /** Standard deviation of the place at which one observer sees the tip, µm (assumed). */
  public static final double OBSERVER_MICRONS = 10;

  /** Standard uncertainty of the way of the stage, µm: U95 10 µm, docs/devices.md. */
  private static final double SCALE_MICRONS = 5;

  /**
   * The tip that showed after the last of some steps: it came into sight within that step.
   *
   * @param advancedMicrons whole way, µm
   * @return the middle of the last step, with k = 2
   */
  public static TipSeen after(int advancedMicrons) {
    double step = STEP_MICRONS / Math.sqrt(12);
    double u =
        Math.sqrt(
            OBSERVER_MICRONS * OBSERVER_MICRONS + step * step + SCALE_MICRONS * SCALE_MICRONS);
    return new TipSeen(Math.max(0, advancedMicrons - STEP_MICRONS / 2), (int) Math.ceil(2 * u));
  }
}
