package org.stopwell.rig.adversary;

import org.stopwell.core.settings.Calibration;

/**
 * Whether a file has left the canal, as far as a controller can see it: it was drawn above the
 * fluid; or the signal shows it outside and either the file last turned where the reading ends, so
 * the two cannot be distinguished, or the operator has released the demand meanwhile.
 */
final class Left {
  /** Above this the settings call the tip out of the fluid, µm above the foramen. */
  static final double HEIGHT = 6_500;

  /** Policy approach gives no place above this: what its weights were fitted for, µm. */
  private static final double APPROACH_ENDS = 3_200;

  private final double end;
  private boolean beyond = true;
  private boolean left;

  Left(Setup setup) {
    Calibration curve = setup.settings().calibration();
    end =
        switch (setup.policy()) {
          case RATIO, RESISTANCE ->
              curve.farthestMicrons() - new StatedBound(setup).microns(curve.farthestMicrons(), 0);
          case LOCATOR -> HEIGHT;
          case APPROACH -> APPROACH_ENDS;
        };
  }

  /** The motor has stopped. */
  void begin() {
    left = false;
  }

  boolean see(Moment moment) {
    if (moment.drives()) {
      beyond = moment.remaining >= end || !moment.out.readingPresent;
    }
    left |= moment.remaining >= HEIGHT;
    left |= moment.seemsOut && (beyond || !moment.in.demand);
    return left;
  }
}
