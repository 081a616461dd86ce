package org.stopwell.harness.protocol;

import java.util.Arrays;
import java.util.List;

/** What is measured in a trial. A protocol names one of them primary before the first trial. */
public enum Endpoint {
  /** Where the file comes to rest. */
  STOP_ERROR(
      "stop_error",
      "distance to the foramen at rest minus standoff, or depth limit minus depth at rest; trials"
          + " that must stop or rest at a depth limit"),
  /** Whether it went too far. */
  OVER_TRAVEL(
      "over_travel",
      "over-travel at any moment: past the foramen, or past the band of a standoff that"
          + " lies past the foramen on purpose; of the trials that must stop, those that were driven"
          + " (not refused, started, not cut short by the time limit) or went past all the same"),
  /** Whether it went past a depth limit. */
  OVERRUN(
      "overrun",
      "past the depth limit by more than the tolerance at any moment, by the depth axis; of the"
          + " trials that must rest at a depth limit, those that were driven (started, not cut short"
          + " by the time limit) or went past all the same"),
  /** Whether it stopped too early. */
  EARLY_STOP(
      "early_stop",
      "at rest before the standoff or the depth limit by more than the tolerance; trials that must"
          + " stop or rest there"),
  /** How long it took. */
  TIME("time", "bench time from the start to the decision to stop; trials that stopped"),
  /** Whether it reported that its reading is not valid. */
  REFUSAL(
      "refusal",
      "the controller reports that its reading is not valid; trials that must be refused");

  private final String key;
  private final String text;

  Endpoint(String key, String text) {
    this.key = key;
    this.text = text;
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
   * How it is defined.
   *
   * @return a few plain words
   */
  public String text() {
    return text;
  }

  /**
   * The endpoint with a word.
   *
   * @param key a word of a plan or a run file
   * @return the endpoint
   * @throws IllegalArgumentException for any other word
   */
  public static Endpoint ofKey(String key) {
    return Arrays.stream(values())
        .filter(e -> e.key.equals(key))
        .findFirst()
        .orElseThrow(() -> new IllegalArgumentException("no endpoint " + key));
  }

  /**
   * The words for all of them.
   *
   * @return in order
   */
  public static List<String> keys() {
    return Arrays.stream(values()).map(Endpoint::key).toList();
  }

  /**
   * The endpoint that a claim is about.
   *
   * @param claim what is counted
   * @return its endpoint
   */
  public static Endpoint of(Claim.Endpoint claim) {
    return switch (claim) {
      case WITHIN, BIAS -> STOP_ERROR;
      case OVER_TRAVEL -> OVER_TRAVEL;
      case OVERRUN -> OVERRUN;
      case REFUSED -> REFUSAL;
    };
  }
}
