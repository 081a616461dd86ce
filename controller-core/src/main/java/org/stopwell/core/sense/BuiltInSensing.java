package org.stopwell.core.sense;

import org.stopwell.core.settings.ControllerSettings;

/** Makes the sensing policies that ship with the core. */
public final class BuiltInSensing {
  private BuiltInSensing() {}

  /**
   * Distance by the ratio of the magnitudes at two frequencies.
   *
   * @param settings checked settings with a curve
   * @return a new policy
   */
  public static Sensing ratio(ControllerSettings settings) {
    return new ImpedanceSensing(true, settings.section("sense"), settings.calibration());
  }

  /**
   * Distance by the magnitude at one frequency.
   *
   * @param settings checked settings with a curve
   * @return a new policy
   */
  public static Sensing resistance(ControllerSettings settings) {
    return new ImpedanceSensing(false, settings.section("sense"), settings.calibration());
  }

  /**
   * The distance of an outside locator.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public static Sensing locator(ControllerSettings settings) {
    return new LocatorSensing(settings.section("sense"));
  }

  /**
   * An estimate from four frequencies over the whole approach.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public static Sensing approach(ControllerSettings settings) {
    return new ApproachSensing(settings);
  }
}
