package org.stopwell.harness.protocol;

import java.util.Arrays;
import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.stopwell.harness.stats.GroupSequential;
import org.stopwell.harness.stats.Sprt;

/**
 * When a campaign ends before its last trial, and the limits that keep the rate of false claims.
 *
 * @param kind which method
 * @param claim the one claim that it decides; the others are held against the trials there are
 * @param goodShare with {@link Kind#SPRT}: the share that shall be accepted
 * @param power with {@link Kind#SPRT}: chance of accepting it
 * @param looks with {@link Kind#GROUP_SEQUENTIAL}: how many looks, the last included
 * @param shape with {@link Kind#GROUP_SEQUENTIAL}: 0 strict at first, 0.5 the same at every look
 */
public record StoppingRule(
    Kind kind, Claim.Endpoint claim, double goodShare, double power, int looks, double shape) {
  private static final NormalDistribution NORMAL = NormalDistribution.of(0, 1);

  /** Every trial is run. */
  public static final StoppingRule FIXED =
      new StoppingRule(Kind.FIXED, Claim.Endpoint.WITHIN, 0, 0.5, 1, 0);

  /** The methods. */
  public enum Kind {
    /** Every trial is run. */
    FIXED("fixed"),
    /** Wald's sequential test of a share, with the plan's trials as its cap. */
    SPRT("sprt"),
    /** A few looks, each with a stricter confidence. */
    GROUP_SEQUENTIAL("group-sequential"),
    /** Bounds that hold at every trial at once. */
    ANYTIME("anytime");

    private final String key;

    Kind(String key) {
      this.key = key;
    }

    /**
     * The word for it in plans and run files.
     *
     * @return lower case
     */
    public String key() {
      return key;
    }

    /**
     * The method with a word.
     *
     * @param key a word of a plan or a run file
     * @return the method
     * @throws IllegalArgumentException for any other word
     */
    public static Kind ofKey(String key) {
      return Arrays.stream(values())
          .filter(k -> k.key.equals(key))
          .findFirst()
          .orElseThrow(() -> new IllegalArgumentException("no stopping rule " + key));
    }

    /**
     * The words for all of them.
     *
     * @return in order
     */
    public static List<String> keys() {
      return Arrays.stream(values()).map(Kind::key).toList();
    }
  }

  /**
   * Wald's test of the misses of a claim on a share.
   *
   * @param decided the claim
   * @param cap most trials
   * @return the test; a miss is a trial that speaks against the claim
   */
  public Sprt sprt(Claim decided, int cap) {
    boolean atMost = decided.endpoint().isAtMost();
    double bad = atMost ? decided.share() : 1 - decided.share();
    double good = atMost ? goodShare : 1 - goodShare;
    return new Sprt(good, bad, 1 - power, 1 - decided.confidence(), cap);
  }

  /**
   * Whether the rule decides a claim.
   *
   * @param claimed one of the plan's claims
   * @return false where every trial is run for it
   */
  public boolean decides(Claim claimed) {
    return kind != Kind.FIXED && claim == claimed.endpoint();
  }

  /**
   * The confidence of each look at a claim.
   *
   * @param claimed one of the plan's claims
   * @return one per look of a group-sequential rule, else the claim's own at the end
   */
  public List<Double> looksAt(Claim claimed) {
    return decides(claimed) && kind == Kind.GROUP_SEQUENTIAL
        ? confidences(claimed.confidence())
        : List.of(claimed.confidence());
  }

  /**
   * The one-sided confidence that a claim is held against at each look, so that over all looks
   * together it is claimed wrongly no more often than its own confidence allows.
   *
   * @param confidence the claim's own
   * @return one per look: the normal probability below the limit of Wang and Tsiatis
   */
  public List<Double> confidences(double confidence) {
    return GroupSequential.of(looks, 2 * (1 - confidence), shape).limits().stream()
        // Rounded up to what can be read: stricter by less than one in ten thousand.
        .map(z -> Math.min(0.9999, Math.ceil(NORMAL.cumulativeProbability(z) * 1e4) / 1e4))
        .toList();
  }
}
