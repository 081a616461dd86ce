package org.stopwell.harness.protocol;

import java.util.List;
import org.stopwell.harness.trial.Expectation;

/**
 * A claim of a campaign, fixed before its first trial.
 *
 * @param endpoint what is counted
 * @param withinMicrons half width of the band around the standoff for {@link Endpoint#WITHIN}, the
 *     margin of the mean for {@link Endpoint#BIAS}, µm; 0 for the others
 * @param share the share of trials that the endpoint is held against, 0 to 1; 0 for {@link
 *     Endpoint#BIAS}
 * @param confidence one-sided confidence of the bound that decides, above 0.5 and below 1
 * @param conditions names of the conditions it speaks about; empty for all that it can speak about
 * @param each whether it must hold in each of these conditions alone; else it is about the trials
 *     of all of them together
 * @param refusedAtMost {@link Endpoint#BIAS}: the share of trials without a stop that it tolerates,
 *     above 0 and below 1, since such a trial has no stop error; 0 for the others
 */
public record Claim(
    Endpoint endpoint,
    int withinMicrons,
    double share,
    double confidence,
    List<String> conditions,
    boolean each,
    double refusedAtMost) {
  /** The share of trials without a stop that a claim on the mean tolerates by default; assumed. */
  public static final double REFUSED_AT_MOST = 0.05;

  /** The quantity of a claim. */
  public enum Endpoint {
    /**
     * At least a share of the trials stop within a band around the standoff or the depth limit.
     * Where a refusal is as expected too, the trials that stopped are counted.
     */
    WITHIN("within"),
    /**
     * Of the trials that must stop, or may, and were driven, at most a share go past the foramen at
     * any moment (over-travel).
     */
    OVER_TRAVEL("over_travel"),
    /**
     * Of the trials that must rest at a depth limit and were driven, at most a share go past it by
     * more than the tolerance at any moment (overrun).
     */
    OVERRUN("overrun"),
    /** At least a share of the trials that must be refused are refused. */
    REFUSED("refused"),
    /** The mean stop error lies within a margin on both sides of zero. */
    BIAS("bias");

    private final String key;

    Endpoint(String key) {
      this.key = key;
    }

    /**
     * The word for it in plans and run files.
     *
     * @return lower case with underscores
     */
    public String key() {
      return key;
    }

    /**
     * Whether it states an upper limit of a share: then a trial that counts speaks against it.
     *
     * @return true for over-travel and overrun
     */
    public boolean isAtMost() {
      return this == OVER_TRAVEL || this == OVERRUN;
    }

    /**
     * Whether it is about trials of which so much is expected.
     *
     * @param expectation what a plan expects of them
     * @return true when such a trial can count for it or against it
     */
    public boolean isAbout(Expectation expectation) {
      return switch (this) {
        case REFUSED -> expectation == Expectation.REFUSE;
        case OVERRUN -> expectation == Expectation.DEPTH_LIMIT;
        case WITHIN, OVER_TRAVEL ->
            expectation.rests() || expectation == Expectation.STOP_OR_REFUSE;
        case BIAS -> expectation.rests();
      };
    }

    /**
     * The endpoint with a word.
     *
     * @param key a word of a plan or a run file
     * @return the endpoint
     * @throws IllegalArgumentException for any other word
     */
    public static Endpoint ofKey(String key) {
      for (Endpoint endpoint : values()) {
        if (endpoint.key.equals(key)) {
          return endpoint;
        }
      }
      throw new IllegalArgumentException("no endpoint " + key);
    }
  }

  /**
   * Checks and closes a claim.
   *
   * @throws IllegalArgumentException with value, limit and unit
   */
  public Claim {
    conditions = List.copyOf(conditions);
    boolean banded = endpoint == Endpoint.WITHIN || endpoint == Endpoint.BIAS;
    if (banded ? withinMicrons <= 0 : withinMicrons != 0) {
      throw new IllegalArgumentException(
          "claim "
              + endpoint.key()
              + ": band "
              + withinMicrons
              + " µm, must be "
              + (banded ? "above 0 µm" : "0 µm, it has no band"));
    }
    if (!(share >= 0 && share <= 1)) {
      throw new IllegalArgumentException(
          "claim " + endpoint.key() + ": share " + share + ", must be 0 to 1");
    }
    if (!(confidence > 0.5 && confidence < 1)) {
      throw new IllegalArgumentException(
          "claim "
              + endpoint.key()
              + ": confidence "
              + confidence
              + ", must be above 0.5 and below 1");
    }
    boolean refusals = endpoint == Endpoint.BIAS;
    if (!(refusals ? refusedAtMost > 0 && refusedAtMost < 1 : refusedAtMost == 0)) {
      throw new IllegalArgumentException(
          "claim "
              + endpoint.key()
              + ": refused at most "
              + refusedAtMost
              + ", must be "
              + (refusals ? "above 0 and below 1" : "0, a refused trial counts in its share"));
    }
  }

  /**
   * A claim about the trials of all its conditions together, with the usual bound on refusals.
   *
   * @param endpoint what is counted
   * @param withinMicrons half width of the band, or margin of the mean, µm
   * @param share the share that the endpoint is held against
   * @param confidence one-sided confidence of the bound that decides
   * @param conditions names of the conditions it speaks about; empty for all
   */
  public Claim(
      Endpoint endpoint,
      int withinMicrons,
      double share,
      double confidence,
      List<String> conditions) {
    this(
        endpoint,
        withinMicrons,
        share,
        confidence,
        conditions,
        false,
        endpoint == Endpoint.BIAS ? REFUSED_AT_MOST : 0);
  }

  /**
   * The same claim with another confidence.
   *
   * @param other one-sided, above 0.5 and below 1
   * @return the changed claim
   */
  public Claim with(double other) {
    return new Claim(endpoint, withinMicrons, share, other, conditions, each, refusedAtMost);
  }

  /**
   * The same claim about one condition alone.
   *
   * @param condition its name
   * @return the changed claim
   */
  public Claim in(String condition) {
    return new Claim(
        endpoint, withinMicrons, share, confidence, List.of(condition), false, refusedAtMost);
  }

  /**
   * The claim at the strictest step of Holm, for a plan that must be large enough.
   *
   * @param count how many conditions it speaks about
   * @return with the confidence for the first of so many conditions; unchanged for a claim on all
   *     together
   */
  public Claim inEachOf(int count) {
    return each && count > 1 ? with(1 - (1 - confidence) / count) : this;
  }

  /**
   * The same claim about other conditions.
   *
   * @param others names of the conditions it speaks about
   * @return the changed claim
   */
  public Claim over(List<String> others) {
    return new Claim(endpoint, withinMicrons, share, confidence, others, each, refusedAtMost);
  }
}
