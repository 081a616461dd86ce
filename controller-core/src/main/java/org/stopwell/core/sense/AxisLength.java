package org.stopwell.core.sense;

import org.stopwell.core.trace.StateHash;

/**
 * The foramen on the depth axis of the bench: distance and insertion of a sample add up to a length
 * that no feed changes, so the readings of the whole approach average in it.
 *
 * <pre>
 * length = distance + insertion        place = length − insertion
 * noise of the length: (10 %)²·1 mm for each µm of travel, and that of the reading
 * </pre>
 *
 * <p>The axis also gives the speed of the file, by a filter of its own.
 *
 * <p>Readings of one canal share most of their error, and no average takes that off: a reading
 * counts with the noise that is new in it, and the stated bound stays that of the newest reading.
 * The noise of the travel ends the memory after about one millimetre, since the shared error
 * changes on the way as well.
 *
 * <p>The axis is not trusted blindly. It moves the place by at most three standard deviations of
 * the filter, which knows the readings alone. An axis that contradicts the readings by more for ten
 * samples in a row is dropped until the readings begin anew.
 */
final class AxisLength {
  /** Share of the travel that the axis may err by, such as in a file that bends; assumed. */
  private static final double TRAVEL_ERROR = 0.1;

  /** Travel over which an error of the axis stays the same, µm; assumed. */
  private static final double TRAVEL_MICRONS = 1_000;

  /** Noise of the axis, standard deviation, µm; assumed. */
  private static final double NOISE_MICRONS = 10;

  /** Spread allowed between axis and readings, standard deviations; assumed. */
  private static final double SIGMAS = 3;

  /** Samples in a row that contradict the axis before it is dropped; assumed. */
  private static final int CONTRADICTIONS = 10;

  private static final double NS_PER_S = 1e9;

  private final PositionFilter motion;
  private long motionNs;
  private boolean present;
  private double insertionMicrons;
  private boolean known;
  private boolean dropped;
  private double lengthMicrons;
  private double variance;
  private double insertionThen;
  private int contradictions;

  /** An axis that was not seen yet; the file moves as {@link PositionFilter} says. */
  AxisLength(double feedSd, double strokeSd) {
    motion = new PositionFilter(feedSd, strokeSd);
  }

  /** The axis in one step. */
  void see(boolean isPresent, int microns) {
    present = isPresent;
    insertionMicrons = microns;
  }

  /** The readings begin anew. */
  void begin() {
    known = false;
    dropped = false;
  }

  /**
   * Takes in a sample that was followed.
   *
   * @param nowNs time of the step, ns
   * @param remainingMicrons its distance, carried on to the step, µm
   * @param ofReading variance of what is new in it, µm²
   * @param filterMicrons the place by the readings alone, carried on to the step, µm
   * @param ofFilter variance of that place, µm²
   */
  void take(
      long nowNs,
      double remainingMicrons,
      double ofReading,
      double filterMicrons,
      double ofFilter) {
    known &= present;
    if (!present || dropped) {
      return;
    }
    double read = remainingMicrons + insertionMicrons;
    double noise = ofReading + NOISE_MICRONS * NOISE_MICRONS;
    if (known) {
      motion.predict((nowNs - motionNs) / NS_PER_S);
      motion.update(-insertionMicrons, NOISE_MICRONS * NOISE_MICRONS);
      double travel = Math.abs(insertionMicrons - insertionThen);
      variance += TRAVEL_ERROR * TRAVEL_ERROR * TRAVEL_MICRONS * travel;
      double gain = variance / (variance + noise);
      lengthMicrons += gain * (read - lengthMicrons);
      variance -= gain * variance;
      double apart = lengthMicrons - insertionMicrons - filterMicrons;
      boolean contradicts = apart * apart > SIGMAS * SIGMAS * (variance + ofFilter);
      contradictions = contradicts ? contradictions + 1 : 0;
      dropped = contradictions >= CONTRADICTIONS;
    } else {
      known = true;
      motion.start(-insertionMicrons, NOISE_MICRONS * NOISE_MICRONS);
      lengthMicrons = read;
      variance = noise;
      contradictions = 0;
    }
    motionNs = nowNs;
    insertionThen = insertionMicrons;
  }

  /**
   * The place by the axis, no farther from that of the readings than the readings allow.
   *
   * @param filterMicrons the place by the readings alone, µm
   * @param ofFilter variance of that place, µm²
   * @return µm; the place of the readings where there is no axis
   */
  double microns(double filterMicrons, double ofFilter) {
    return isUsed()
        ? within(lengthMicrons - insertionMicrons, filterMicrons, ofFilter)
        : filterMicrons;
  }

  /** Whether there is an axis that does not contradict the readings. */
  private boolean isUsed() {
    return known && present && !dropped;
  }

  private static double within(double byAxis, double byReadings, double ofReadings) {
    double most = SIGMAS * Math.sqrt(ofReadings);
    return byReadings + Math.max(-most, Math.min(most, byAxis - byReadings));
  }

  /** Speed at which the distance changes, as {@link #microns}, µm/s. */
  double speed(double filterSpeed, double ofFilter) {
    return isUsed() ? within(motion.v(), filterSpeed, ofFilter) : filterSpeed;
  }

  /** The same by the feed alone, µm/s. */
  double feed(double filterFeed, double ofFilter) {
    return isUsed() ? within(motion.feed(), filterFeed, ofFilter) : filterFeed;
  }

  /** Mean speed over a time from now on, if the hand continues its motion, µm/s. */
  double speedAhead(long nowNs, double aheadSeconds, double filterSpeed, double ofFilter) {
    if (!isUsed()) {
      return filterSpeed;
    }
    double age = (nowNs - motionNs) / NS_PER_S;
    double mean = (motion.ahead(age + aheadSeconds) - motion.ahead(age)) / aheadSeconds;
    return within(mean, filterSpeed, ofFilter);
  }

  /** Whether the axis was dropped: it contradicts the readings. */
  boolean dropped() {
    return dropped;
  }

  /** The same without an axis as before there was one. */
  long mixInto(long hash) {
    if (!known && !dropped) {
      return hash;
    }
    long h = StateHash.mix(hash, lengthMicrons);
    h = StateHash.mix(motion.mixInto(h), motionNs);
    h = StateHash.mix(h, variance);
    h = StateHash.mix(h, insertionThen);
    return StateHash.mix(h, contradictions << 1 | (dropped ? 1 : 0));
  }
}
