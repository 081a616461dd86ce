package org.stopwell.core.sense;

import java.util.Optional;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.trace.StateHash;

/**
 * A joint estimate of depth, leak and what else cannot be known beforehand (resistance of the fluid
 * column, resistance beyond the foramen) from all samples of one approach, each with a standard
 * error.
 */
public final class DepthEstimate {
  /** How many numbers are estimated. */
  public static final int TARGETS = 4;

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

  /** Inputs of the network of a single approach. */
  public static final int INPUTS = ApproachMemory.FEATURES + 2;

  /** Where its inputs hold the distance of a single approach, which it corrects. */
  public static final int CORRECTED = 2 * INPUTS + 2 * TARGETS + REMAINING;

  /** Inputs of the network that also knows an approach of before in the same canal. */
  public static final int LEARNED_INPUTS = 2 * INPUTS + 4 * TARGETS;

  private static final int[] SIZES = {INPUTS, 256, 128, 2 * TARGETS};
  private static final int[] LEARNED_SIZES = {LEARNED_INPUTS, 128, 64, 2 * TARGETS};

  private final ApproachMemory memory = new ApproachMemory();
  private final double size;
  private final double taperPercent;
  private final DepthNetwork alone;
  private final DepthNetwork learned;
  private final double[] features = new double[INPUTS];
  private final double[] record = new double[INPUTS + 2 * TARGETS];
  private DepthNetwork used;
  private int suspicion;
  private boolean recorded;
  private boolean present;

  /**
   * An estimate of nothing.
   *
   * @param size tip diameter of the file, 1/100 mm
   * @param taperPercent growth of its diameter, %
   * @param alone weights of the network of a single approach
   * @param learned weights of the network that also has a record
   */
  public DepthEstimate(double size, double taperPercent, double[] alone, double[] learned) {
    this.size = size;
    this.taperPercent = taperPercent;
    this.alone = new DepthNetwork(SIZES, DepthNetwork.NOTHING, alone);
    this.learned = new DepthNetwork(LEARNED_SIZES, CORRECTED, learned);
    used = this.alone;
  }

  /**
   * Widths of the layers.
   *
   * @param withRecord whether of the network that also has a record
   * @return inputs first
   */
  public static int[] sizes(boolean withRecord) {
    return withRecord ? LEARNED_SIZES.clone() : SIZES.clone();
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
    used = alone;
    if (useRecord && recorded) {
      learnedInputs();
      learned.run();
      used = learned;
      suspicion = fits() ? Math.max(0, suspicion - 1) : suspicion + 1;
      if (suspicion >= SUSPICIONS) {
        drop();
        used = alone;
      }
    }
    present = true;
  }

  /**
   * What the network that also has a record goes by: the features and the record, and what the
   * other network makes of each.
   *
   * @return the array itself, of {@link #LEARNED_INPUTS} numbers, good until the next update
   */
  public double[] learnedInputs() {
    double[] inputs = learned.inputs();
    System.arraycopy(features, 0, inputs, 0, INPUTS);
    System.arraycopy(record, 0, inputs, INPUTS, record.length);
    System.arraycopy(alone.outputs(), 0, inputs, INPUTS + record.length, 2 * TARGETS);
    return inputs;
  }

  /**
   * Whether the canal looks like the recorded one: what lies beyond the foramen has not changed,
   * and the record does not move the distance by more than both errors explain.
   */
  private boolean fits() {
    double beyond = alone.outputs()[BEYOND] - record[INPUTS + BEYOND];
    double distance = alone.outputs()[REMAINING] - learned.outputs()[REMAINING];
    return Math.abs(beyond) <= SIGMAS * sum(error(alone, BEYOND), recordedError(BEYOND))
        && Math.abs(distance) <= SIGMAS * sum(error(alone, REMAINING), error(learned, REMAINING));
  }

  private double recordedError(int target) {
    return Elementary.exp(record[INPUTS + TARGETS + target]);
  }

  private static double error(DepthNetwork network, int target) {
    return Elementary.exp(network.outputs()[TARGETS + target]);
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
    System.arraycopy(alone.outputs(), 0, record, INPUTS, 2 * TARGETS);
    recorded = true;
    suspicion = 0;
  }

  /**
   * The record as something to keep.
   *
   * @return empty when there is none
   */
  public Optional<LearnedCanal> learnedCanal() {
    return recorded ? Optional.of(new LearnedCanal(fingerprint(), record)) : Optional.empty();
  }

  /**
   * Takes up a record that was kept.
   *
   * @param canal what {@link #learnedCanal} gave
   * @return whether it is in use; false when other weights made it
   */
  public boolean recall(LearnedCanal canal) {
    if (canal.weights() != fingerprint()) {
      return false;
    }
    System.arraycopy(canal.numbers(), 0, record, 0, record.length);
    recorded = true;
    suspicion = 0;
    return true;
  }

  private long fingerprint() {
    return learned.mixWeights(alone.mixWeights(StateHash.START));
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
   * The record.
   *
   * @return the array itself
   */
  public double[] recordValues() {
    return record;
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
    return used.outputs()[REMAINING];
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
    double moved = alone.outputs()[REMAINING] - used.outputs()[REMAINING];
    return sum(error(used, REMAINING), moved);
  }

  /**
   * Share of the current that goes around the canal.
   *
   * @return 0 to 1, about
   */
  public double leakShare() {
    return used.outputs()[LEAK_SHARE];
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
