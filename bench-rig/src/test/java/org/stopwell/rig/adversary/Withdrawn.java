package org.stopwell.rig.adversary;

import org.stopwell.core.settings.StageParameters;

/**
 * Whether the file has really been drawn back since a stop, as far as the noise lets it be seen.
 */
final class Withdrawn {
  private final double owed;
  private final StatedBound bound;
  private double deepest;
  private double stated;
  private double most;

  Withdrawn(Setup setup) {
    owed = setup.settings().stage(setup.stage()).getInt(StageParameters.REARM_DISTANCE);
    bound = new StatedBound(setup);
  }

  void begin(Moment moment) {
    deepest = moment.remaining;
    stated = moment.statedMicrons;
    most = 0;
  }

  boolean see(Moment moment) {
    deepest = Math.min(deepest, moment.remaining);
    most = Math.max(most, moment.remaining - deepest);
    double feigned = bound.microns(deepest, stated) + bound.microns(deepest + owed, 0);
    return most >= owed - feigned;
  }
}
