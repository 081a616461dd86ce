package org.stopwell.rig.adversary;

import org.stopwell.core.settings.FeedLimit;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;

/** The file rests within the stated bound and feed times reaction of the standoff. */
final class RestCheck implements Check {
  private static final double NS_PER_S = 1e9;
  private static final double FAR_MICRONS = 5_000;

  private final StatedBound bound;
  private final boolean stops;
  private final int standoff;
  private final double travel;
  private double stated;
  private double margin = FAR_MICRONS;

  RestCheck(Setup setup, Scenario scenario) {
    ParameterValues stage = setup.settings().stage(setup.stage());
    bound = new StatedBound(setup);
    stops = !stage.choice(StageParameters.APICAL).equals(StageParameters.NONE);
    standoff = stage.getInt(StageParameters.STANDOFF);
    FeedLimit limit = FeedLimit.of(setup.settings(), setup.stage());
    travel = scenario.feedMicronsPerSecond() * (limit.reactionNs() / NS_PER_S);
  }

  @Override
  public String name() {
    return "the file rests within stated bound and feed times reaction of the standoff";
  }

  @Override
  public void see(Moment moment) {
    if (moment.drives()) {
      stated = moment.statedMicrons;
    }
    if (stops && moment.feeding && !moment.displaced) {
      double allowed = bound.microns(standoff, stated) + travel;
      margin = Math.min(margin, moment.remaining - (standoff - allowed));
    }
  }

  @Override
  public double margin() {
    return margin / 1_000;
  }
}
