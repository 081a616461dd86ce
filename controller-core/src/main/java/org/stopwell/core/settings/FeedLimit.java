package org.stopwell.core.settings;

import java.util.List;
import org.stopwell.core.frame.Stage;

/**
 * Greatest feed at which a standoff keeps the file short of the foramen, whatever the hand does:
 * (standoff − error of the reading) / reaction. The error is that of the declared noise and the
 * stated bound of the reading; without a bound the limit holds in the canal of the curve. A hand
 * can reverse inward at the moment when the stop is decided, and continue at its feed until it
 * reacts; no prediction helps against that.
 */
public final class FeedLimit {
  /** No declared noise is taken to be greater than this, standard deviations; assumed. */
  private static final double SIGMAS = 3;

  private static final double NS_PER_S = 1e9;
  private static final long NS_MILLIHERTZ = 1_000_000_000_000L;

  private final int standoffMicrons;
  private final double noiseMicrons;
  private final double boundMicrons;
  private final long reactionNs;

  private FeedLimit(
      int standoffMicrons, double noiseMicrons, double boundMicrons, long reactionNs) {
    this.standoffMicrons = standoffMicrons;
    this.noiseMicrons = noiseMicrons;
    this.boundMicrons = boundMicrons;
    this.reactionNs = reactionNs;
  }

  /**
   * Whether the settings say how wrong a reading may be.
   *
   * @param settings checked settings
   * @return false with a sensing policy that states neither a single value nor an error
   */
  public static boolean isKnown(ControllerSettings settings) {
    return settings.sensing().single() != SensingNeeds.Single.NONE
        || settings.sensing().reads(SenseParameters.REFUSE_BOUND.key());
  }

  /**
   * The limit of a stage; it {@link #isKnown}.
   *
   * @param settings checked settings
   * @param stage a stage that is written
   * @return its limit
   */
  public static FeedLimit of(ControllerSettings settings, Stage stage) {
    ParameterValues values = settings.stage(stage);
    int standoff = values.getInt(StageParameters.STANDOFF);
    return new FeedLimit(
        standoff,
        noiseMicrons(settings, standoff),
        boundMicrons(settings, values),
        values.get(StageParameters.REACTION) + updateNs(settings));
  }

  /** An outside locator shows a place no sooner than with its next value. */
  private static long updateNs(ControllerSettings settings) {
    return settings.sensing().single() == SensingNeeds.Single.DISTANCE
        ? NS_MILLIHERTZ / settings.section("sense").get(SenseParameters.LOCATOR_RATE)
        : 0;
  }

  /**
   * The bound of a reading that is sure, by the tolerance where it differs from reading to reading.
   */
  private static double boundMicrons(ControllerSettings settings, ParameterValues stage) {
    return switch (settings.sensing().single()) {
      case NONE -> stage.getInt(StageParameters.TOLERANCE);
      case DISTANCE -> settings.section("sense").getInt(SenseParameters.LOCATOR_ERROR);
      case RATIO, MAGNITUDE ->
          settings.calibration().boundAt(stage.getInt(StageParameters.STANDOFF));
    };
  }

  private static double noiseMicrons(ControllerSettings settings, int standoffMicrons) {
    ParameterValues sense = settings.section("sense");
    double noise = SIGMAS * sense.get(SenseParameters.DISTANCE_NOISE);
    double feature = SIGMAS * sense.get(SenseParameters.FEATURE_NOISE) / 100_000.0;
    return switch (settings.sensing().single()) {
      case NONE -> noise;
      case DISTANCE -> noise + sense.get(SenseParameters.LOCATOR_STEP);
      case RATIO, MAGNITUDE ->
          noise + feature * micronsPerShare(settings.calibration(), standoffMicrons);
    };
  }

  /** By how much the distance changes with the feature as a share of itself, at a place. */
  private static double micronsPerShare(Calibration curve, int microns) {
    List<Calibration.Point> points = curve.points();
    int i = 1;
    while (i + 1 < points.size() && points.get(i).remainingMicrons() <= microns) {
      i++;
    }
    Calibration.Point a = points.get(i - 1);
    Calibration.Point b = points.get(i);
    return (double) (b.remainingMicrons() - a.remainingMicrons())
        / (b.feature() - a.feature())
        * a.feature();
  }

  /**
   * How wrong a reading may be inside the declared noise, at the standoff.
   *
   * @return µm
   */
  public double noiseMicrons() {
    return noiseMicrons;
  }

  /**
   * The stated bound of a sure reading at the standoff.
   *
   * @return µm; 0 when the settings state none
   */
  public double boundMicrons() {
    return boundMicrons;
  }

  /**
   * The reaction that the settings expect, with one update of an outside locator.
   *
   * @return ns
   */
  public long reactionNs() {
    return reactionNs;
  }

  /**
   * The greatest feed at which the file stays short of the foramen.
   *
   * @param handReactionNs how late the hand answers, ns; the reaction of the settings counts when
   *     it is longer
   * @return µm/s; 0 when the reading alone may be wrong by the standoff
   */
  public double micronsPerSecond(long handReactionNs) {
    double seconds = Math.max(1, Math.max(reactionNs, handReactionNs)) / NS_PER_S;
    return Math.max(0, standoffMicrons - noiseMicrons - boundMicrons) / seconds;
  }
}
