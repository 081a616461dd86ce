package org.stopwell.core.sense;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.trace.StateHash;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthPass;
import org.stopwell.core.weights.DepthWeights;

/**
 * A joint estimate of depth, leak and what else cannot be known beforehand (resistance of the fluid
 * column, resistance beyond the foramen) from all samples of one approach, each with a standard
 * error.
 */
public final class DepthEstimate {
  /** How many numbers are estimated. */
  public static final int TARGETS = DepthWeights.TARGETS;

  /** Estimated: distance to the foramen, mm. */
  public static final int REMAINING = 0;

  /** Estimated: share of the current that goes around the canal. */
  public static final int LEAK_SHARE = 1;

  /** Estimated: logarithm of the resistance of the narrowest canal per length, kΩ/mm. */
  public static final int COLUMN = 2;

  /** Estimated: logarithm of the resistance beyond the foramen, kΩ. */
  public static final int BEYOND = 3;

  /** Contradictions between canal and record that count as chance; assumed. */
  private static final double SIGMAS = 2.5;

  /** Contradictions after which the record is dropped; assumed: 0.1 s of updates. */
  private static final int SUSPICIONS = 5;

  /** Inputs of the network of a single approach: the features, size and taper of the file. */
  public static final int INPUTS = DepthWeights.INPUTS;

  /** Where its inputs hold the distance of a single approach, which it corrects. */
  public static final int CORRECTED = 2 * INPUTS + 2 * TARGETS + REMAINING;

  private final ApproachMemory memory = new ApproachMemory();
  private double size;
  private double taperPercent;
  private final long fingerprint;
  private final DepthBound bound;
  private final DepthPass alone;
  private final @Nullable DepthPass withRecord;
  private final double[] features = new double[INPUTS];
  private final double[] record = new double[INPUTS + 2 * TARGETS];
  private final double[] both = new double[DepthWeights.RECORDED_INPUTS];
  private final int[] sums;
  private DepthPass used;
  private double remainingMm;
  private double errorMm;
  private double novelty;
  private int suspicion;
  private boolean recorded;
  private boolean present;

  /**
   * An estimate of nothing.
   *
   * @param size tip diameter of the file, 1/100 mm
   * @param taperPercent growth of its diameter, %
   * @param weights what the estimate was taught
   */
  public DepthEstimate(double size, double taperPercent, DepthWeights weights) {
    this.size = size;
    this.taperPercent = taperPercent;
    fingerprint = weights.fingerprint();
    bound = weights.bound();
    alone = new DepthPass(weights.alone());
    withRecord = weights.recorded().isPresent() ? new DepthPass(weights.recorded().get()) : null;
    sums = new int[bound.sums().outputs()];
    used = alone;
  }

  /**
   * Takes another file.
   *
   * @param size tip diameter of the file, 1/100 mm
   * @param taperPercent growth of its diameter, %
   */
  public void file(double size, double taperPercent) {
    this.size = size;
    this.taperPercent = taperPercent;
  }

  /** Forgets the approach, and keeps the record. */
  public void forget() {
    memory.forget();
    present = false;
  }

  /**
   * Takes in one sample of four frequencies.
   *
   * @param in the sample
   * @return whether there is an approach to estimate from
   */
  public boolean add(ControllerInput in) {
    boolean wet = memory.add(in);
    present &= wet;
    return wet;
  }

  /**
   * Recomputes the estimate.
   *
   * @param useRecord whether the record of this canal may be used, if there is one
   */
  public void update(boolean useRecord) {
    memory.features(features);
    features[ApproachMemory.FEATURES] = size;
    features[ApproachMemory.FEATURES + 1] = taperPercent;
    System.arraycopy(features, 0, alone.inputs(), 0, INPUTS);
    alone.run();
    novelty = bound.novelty(alone.normalised(), sums);
    use(alone, alone.output(REMAINING));
    DepthPass second = withRecord;
    if (second != null && useRecord && recorded) {
      System.arraycopy(recordedInputs(), 0, second.inputs(), 0, DepthWeights.RECORDED_INPUTS);
      second.run();
      double corrected = alone.output(REMAINING) + second.output(REMAINING);
      boolean fits = fits(second, corrected);
      suspicion = fits ? Math.max(0, suspicion - 1) : suspicion + 1;
      if (suspicion >= SUSPICIONS) {
        drop();
      } else {
        use(second, corrected);
      }
    }
    present = true;
  }

  /** Takes a distance, and its error: what the record has moved the distance counts as well. */
  private void use(DepthPass network, double distance) {
    used = network;
    remainingMm = distance;
    errorMm = sum(error(network, REMAINING), alone.output(REMAINING) - distance);
  }

  /**
   * What the network that also has a record goes by: the features and the record, and what the
   * other network makes of each.
   */
  private double[] recordedInputs() {
    System.arraycopy(features, 0, both, 0, INPUTS);
    System.arraycopy(record, 0, both, INPUTS, record.length);
    for (int i = 0; i < 2 * TARGETS; i++) {
      both[INPUTS + record.length + i] = alone.output(i);
    }
    return both;
  }

  /**
   * Whether the canal looks like the recorded one: what lies beyond the foramen has not changed,
   * and the record does not move the distance by more than both errors explain.
   */
  private boolean fits(DepthPass second, double corrected) {
    double beyond = alone.output(BEYOND) - record[INPUTS + BEYOND];
    double distance = alone.output(REMAINING) - corrected;
    return Math.abs(beyond) <= SIGMAS * sum(error(alone, BEYOND), recordedError(BEYOND))
        && Math.abs(distance) <= SIGMAS * sum(error(alone, REMAINING), error(second, REMAINING));
  }

  private double recordedError(int target) {
    return Elementary.exp(record[INPUTS + TARGETS + target]);
  }

  private static double error(DepthPass network, int target) {
    return Elementary.exp(network.output(TARGETS + target));
  }

  private static double sum(double a, double b) {
    return Math.sqrt(a * a + b * b);
  }

  /** Keeps the present approach and its estimate as the record of this canal. */
  public void record() {
    if (!present) {
      return;
    }
    System.arraycopy(features, 0, record, 0, INPUTS);
    for (int i = 0; i < 2 * TARGETS; i++) {
      record[INPUTS + i] = alone.output(i);
    }
    recorded = true;
    suspicion = 0;
  }

  /**
   * The record as something to keep.
   *
   * @return empty when there is none, or when the weights do not use records
   */
  public Optional<LearnedCanal> learnedCanal() {
    return recorded && withRecord != null
        ? Optional.of(new LearnedCanal(fingerprint, record))
        : Optional.empty();
  }

  /**
   * Takes up a record that was kept.
   *
   * @param canal what {@link #learnedCanal} gave
   * @return whether it is in use; false when other weights made it or the weights use no records
   */
  public boolean recall(LearnedCanal canal) {
    if (withRecord == null || canal.weights() != fingerprint) {
      return false;
    }
    canal.copyTo(record);
    recorded = true;
    suspicion = 0;
    return true;
  }

  /** Drops the record. */
  public void drop() {
    recorded = false;
  }

  /**
   * The features of the present approach.
   *
   * @return the array itself, of {@link #INPUTS} numbers
   */
  public double[] features() {
    return features;
  }

  /**
   * Whether there is an estimate.
   *
   * @return true after an update
   */
  public boolean present() {
    return present;
  }

  /**
   * Distance from the file tip to the foramen.
   *
   * @return mm, positive short of it
   */
  public double remainingMm() {
    return remainingMm;
  }

  /**
   * How long before the newest sample the file was at that distance.
   *
   * @return ns
   */
  public double lagNs() {
    return memory.lagNs();
  }

  /**
   * Standard error of the distance. With a record, what the record has moved it counts as well:
   * where both estimates differ, one of them does not know this canal.
   *
   * @return mm
   */
  public double errorMm() {
    return errorMm;
  }

  /**
   * The stated bound over the standard error: the true distance is within the bound 95 times in
   * 100.
   *
   * @return infinite where the weights state no bound
   */
  public double boundFactor() {
    return bound.factor(novelty);
  }

  /**
   * Whether the reading is unlike everything that was learned.
   *
   * @return true when its novelty is above the limit of the weights
   */
  public boolean unfamiliar() {
    return !(novelty <= bound.limit());
  }

  /**
   * Share of the current that goes around the canal.
   *
   * @return 0 to 1, about
   */
  public double leakShare() {
    return used.output(LEAK_SHARE);
  }

  /**
   * Whether a record of this canal is there.
   *
   * @return false before the first one and after it was dropped
   */
  public boolean recorded() {
    return recorded;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(memory.mixInto(hash), present);
    h = StateHash.mix(h, recorded);
    h = StateHash.mix(h, suspicion);
    h = StateHash.mix(h, present ? remainingMm() : 0);
    return StateHash.mix(h, recorded ? record[0] : 0);
  }
}
