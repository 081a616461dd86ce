package org.stopwell.core.sense;

import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.trace.StateHash;

/**
 * The place of the tip, followed from sample to sample. A sample that lies farther away than a file
 * can have moved is not followed until it has proven itself.
 */
final class Track {
  private static final double NS_PER_S = 1e9;
  private static final long NEVER_NS = Long.MIN_VALUE;

  /** Spread allowed for a sample that is not a jump, standard deviations; assumed. */
  private static final double JUMP_SIGMAS = 4;

  private final PositionFilter filter;
  private final AxisLength axis;
  private final long signalAgeNs;
  private final double jumpSpeed;
  private final double driftOhms;
  private final double driftMicrons;

  private boolean tracking;
  private boolean far;

  /** The newest sample has no place; what was followed is kept while a sample is usable. */
  private boolean lost;

  private boolean doubted;

  /** Counts the threads of the reading: a new one begins after a loss and after a jump. */
  private long thread;

  /** The sample before lay farther away than the file can have moved. */
  private boolean strayed;

  private double boundMicrons;
  private double micronsPerOhm;
  private double witness;
  private double expectedWitness;
  private long filterTimeNs;

  private long steppedNs;

  /** The distance is asked for several times in a step and worked out once, in both forms. */
  private long carriedToNs = NEVER_NS;

  private double carried;
  private long readToNs = NEVER_NS;
  private double read;

  Track(ParameterValues sense, ParameterValues guard) {
    filter =
        new PositionFilter(
            sense.get(SenseParameters.FEED_CHANGE), sense.get(SenseParameters.STROKE));
    axis =
        new AxisLength(sense.get(SenseParameters.FEED_CHANGE), sense.get(SenseParameters.STROKE));
    signalAgeNs = guard.get(GuardParameters.SIGNAL_AGE);
    jumpSpeed = guard.get(GuardParameters.JUMP_SPEED);
    driftOhms = guard.get(GuardParameters.DRIFT_OHMS) * 1e-3;
    driftMicrons = guard.get(GuardParameters.DRIFT_DISTANCE);
  }

  /** Time passes: a place that was lost is given up once it is older than a usable sample. */
  void age(long nowNs) {
    steppedNs = nowNs;
    workOutAgain();
    if (lost && nowNs - filterTimeNs > signalAgeNs) {
      lose();
    }
  }

  /** The depth axis in this step, if the bench has one. */
  void axis(boolean present, int insertionMicrons) {
    axis.see(present, insertionMicrons);
  }

  /** Whether the axis contradicts the readings and is no longer used. */
  boolean axisDropped() {
    return axis.dropped();
  }

  private void workOutAgain() {
    carriedToNs = NEVER_NS;
    readToNs = NEVER_NS;
  }

  /** Nothing is followed any more. */
  void lose() {
    workOutAgain();
    tracking = false;
    far = false;
    lost = false;
    doubted = false;
    strayed = false;
  }

  /** The newest sample is none that a canal can give. */
  void doubt() {
    doubted = true;
    strayed = true;
  }

  /** The newest sample has no place. */
  void miss() {
    if (far) {
      lose();
    }
    lost = tracking;
  }

  /**
   * The newest sample has a place.
   *
   * @param sample its content
   * @param measuredNs when the file was there, ns
   * @param sound whether the signal was sound so far
   * @param jumpy whether samples have jumped for so long that a new place is accepted
   * @return whether the sample has jumped
   */
  boolean follow(Measurement sample, long measuredNs, boolean sound, boolean jumpy) {
    if (sample.jumped) {
      thread++;
    }
    if (sample.repeated && tracking && !lost) {
      return false;
    }
    workOutAgain();
    if (!tracking) {
      begin(sample, measuredNs);
      return false;
    }
    if (lost) {
      lost = false;
      thread++;
    }
    double variance = sample.sdMicrons * sample.sdMicrons;
    double dt = (measuredNs - filterTimeNs) / NS_PER_S;
    double noise = JUMP_SIGMAS * Math.sqrt(filter.variance() + variance);
    double farther = sample.remainingMicrons - filter.x();
    boolean within = Math.abs(farther) <= jumpSpeed * dt + noise;
    if (strayed && Math.abs(farther) > noise) {
      thread++; // the sample before was no single outlier
    }
    strayed = !within;
    doubted = (doubted || (!within && sound)) && seemsFarther(sample, farther, noise);
    if (doubted || !within) {
      if (!doubted && jumpy) {
        begin(sample, measuredNs);
      }
      return true;
    }
    if (sample.far) {
      restart(sample, measuredNs);
      return false;
    }
    far = false;
    filter.predict(dt);
    filter.update(sample.remainingMicrons, variance);
    accept(sample, measuredNs);
    axis.take(
        steppedNs,
        sample.remainingMicrons + filter.v() * (ageNs(steppedNs) / NS_PER_S),
        variance,
        byReadings(steppedNs),
        filter.variance());
    return false;
  }

  /**
   * Rises while the witness rises by two thirds of what the curve expects, in logarithms; assumed:
   * canals differ, and a withdrawal that is wrongly not believed costs the way out of the canal.
   */
  double farnessWitness() {
    double share = tracking && expectedWitness > 0 ? witness / expectedWitness : 0;
    return share * share * witness;
  }

  /**
   * Whether the tip only seems to be farther away: then the witness does not rise as it does in a
   * file that is withdrawn. Half of the rise of the curve is enough, since canals differ; in
   * logarithms, for a magnitude. Asked only of a signal that was sound: where the tip touches the
   * fluid first, the ratio rises and the magnitude falls until it is wetted.
   */
  private boolean seemsFarther(Measurement sample, double farther, double noise) {
    if (!(farther > noise) || !(expectedWitness > 0) || !(sample.expectedWitness > 0)) {
      return false;
    }
    double rise = sample.witness / witness;
    return rise * rise < sample.expectedWitness / expectedWitness;
  }

  private void begin(Measurement sample, long measuredNs) {
    thread++;
    strayed = false;
    restart(sample, measuredNs);
  }

  private void restart(Measurement sample, long measuredNs) {
    filter.start(sample.remainingMicrons, sample.sdMicrons * sample.sdMicrons);
    axis.begin();
    tracking = true;
    doubted = false;
    far = sample.far;
    accept(sample, measuredNs);
  }

  private void accept(Measurement sample, long measuredNs) {
    filterTimeNs = measuredNs;
    boundMicrons = sample.boundMicrons;
    micronsPerOhm = sample.micronsPerOhm;
    witness = sample.witness;
    expectedWitness = sample.expectedWitness;
  }

  boolean placed() {
    return tracking && !far && !lost;
  }

  boolean far() {
    return tracking && far;
  }

  double remainingMicrons(long nowNs) {
    if (carriedToNs != nowNs) {
      carriedToNs = nowNs;
      carried = far ? filter.x() : axis.microns(byReadings(nowNs), filter.variance());
    }
    return carried;
  }

  /** The place carried on to a time, by the readings alone. */
  double byReadings(long nowNs) {
    if (readToNs != nowNs) {
      readToNs = nowNs;
      read = far ? filter.x() : filter.ahead(ageNs(nowNs) / NS_PER_S);
    }
    return read;
  }

  double measuredMicrons() {
    return filter.x();
  }

  /** Stated bound of the place that was followed, µm; 0: none. */
  double boundMicrons() {
    return boundMicrons;
  }

  long thread() {
    return thread;
  }

  double feignedMicronsPerSecond() {
    return micronsPerOhm > 0 ? driftOhms * micronsPerOhm : driftMicrons;
  }

  double closingMicronsPerSecond() {
    return placed() ? -axis.speed(filter.v(), filter.speedVariance()) : 0;
  }

  double feedMicronsPerSecond() {
    return placed() ? -axis.feed(filter.feed(), filter.speedVariance()) : 0;
  }

  double closingMicronsPerSecond(long nowNs, long aheadNs) {
    if (!placed() || aheadNs <= 0) {
      return closingMicronsPerSecond();
    }
    double seconds = aheadNs / NS_PER_S;
    double then = filter.ahead(ageNs(nowNs) / NS_PER_S + seconds);
    double mean = (then - byReadings(nowNs)) / seconds;
    return -axis.speedAhead(nowNs, seconds, mean, filter.speedVariance());
  }

  private long ageNs(long nowNs) {
    return Math.max(0, Math.min(nowNs - filterTimeNs, signalAgeNs));
  }

  /** Of what changes with a sample alone. */
  long mixInto(long hash) {
    long h = axis.mixInto(filter.mixInto(hash));
    h = StateHash.mix(h, filterTimeNs);
    h = StateHash.mix(h, thread);
    h = StateHash.mix(h, boundMicrons);
    h = StateHash.mix(h, micronsPerOhm);
    h = StateHash.mix(h, witness);
    return StateHash.mix(h, expectedWitness);
  }

  /** The flags of the mode, as a number of four bits. */
  long modeBits() {
    return (tracking ? 1 : 0) | (far ? 2 : 0) | (doubted ? 4 : 0) | (lost ? 8 : 0);
  }

  /** All flags, as a number of five bits. They change with time alone as well. */
  long bits() {
    return modeBits() | (strayed ? 16 : 0);
  }
}
