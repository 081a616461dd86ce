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
 */
public record Claim(
    Endpoint endpoint,
    int withinMicrons,
    double share,
    double confidence,
    List<String> conditions) {

  /** The quantity of a claim. */
  public enum Endpoint {
    /** At least a share of the trials stop within a band around the standoff. */
    WITHIN("within"),
    /**
     * At most a share of the trials that must stop go past the foramen at any moment (over-travel).
     */
    OVER_TRAVEL("over_travel"),
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
     * Whether it is about trials of which so much is expected.
     *
     * @param expectation what a plan expects of them
     * @return true when such a trial can count for it or against it
     */
    public boolean isAbout(Expectation expectation) {
      return this == REFUSED ? expectation == Expectation.REFUSE : expectation.stops();
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
  }
}
