package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SensingNeeds;
import org.stopwell.core.trace.StateHash;

/**
 * What the display of an outside locator allows: how much nearer than its newest value the file can
 * be, and how long the value may stay the same while the file turns.
 *
 * <pre>
 * nearest = value − step/2 − 3·noise − feed·age
 * longest unchanged = step / slowest feed + 1 / rate
 * </pre>
 */
final class Display {
  private static final double NS_PER_S = 1e9;

  /** Noise beyond the step that a value may hold, standard deviations; assumed. */
  private static final double SIGMAS = 3;

  private final boolean locator;
  private final double halfStepMicrons;
  private final double feedMicronsPerSecond;
  private final long longestNs;

  private boolean shows;
  private int valueMicrons;
  private long unchangedNs;

  Display(ControllerSettings settings) {
    ParameterValues sense = settings.section("sense");
    locator = settings.sensing().single() == SensingNeeds.Single.DISTANCE;
    double step = sense.get(SenseParameters.LOCATOR_STEP);
    halfStepMicrons = step / 2 + SIGMAS * sense.get(SenseParameters.DISTANCE_NOISE);
    feedMicronsPerSecond = sense.get(SenseParameters.LOCATOR_FEED);
    longestNs =
        (long) (step / sense.get(SenseParameters.LOCATOR_SLOW) * NS_PER_S) + updateNs(sense);
  }

  /** Time from value to value, ns. */
  private static long updateNs(ParameterValues sense) {
    return 1_000_000_000_000L / sense.get(SenseParameters.LOCATOR_RATE);
  }

  /** A new sample. */
  void take(ControllerInput in) {
    boolean distance = in.positionKind == PositionKind.DISTANCE;
    if (!distance || !shows || in.distanceMicrons != valueMicrons) {
      unchangedNs = 0;
    }
    shows = distance;
    valueMicrons = distance ? in.distanceMicrons : 0;
  }

  /** Time passes; whether the value should have changed by now. */
  boolean overdue(long dtNs, boolean turning) {
    if (!shows || !turning) {
      return false;
    }
    unchangedNs = Math.min(longestNs, unchangedNs + dtNs);
    return unchangedNs >= longestNs;
  }

  void forget() {
    shows = false;
    valueMicrons = 0;
    unchangedNs = 0;
  }

  /** Whether the decisions follow the display instead of the filter. */
  boolean decides() {
    return locator && shows;
  }

  double nearestMicrons(long ageNs) {
    return valueMicrons - halfStepMicrons - feedMicronsPerSecond * (ageNs / NS_PER_S);
  }

  double feedMicronsPerSecond() {
    return feedMicronsPerSecond;
  }

  long mixInto(long hash) {
    return shows ? StateHash.mix(StateHash.mix(hash, valueMicrons), unchangedNs) : hash;
  }
}
