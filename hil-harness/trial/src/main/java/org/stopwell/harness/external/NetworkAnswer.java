package org.stopwell.harness.external;

/** What a device that did not turn in a trial did in a plain known network: a closed list. */
public enum NetworkAnswer {
  /** It turned in the trial, or the bench cannot show such a network. */
  NOT_ASKED("No known network was shown, so a device without a reading looks the same."),
  /** It turned there, so it had no reading in the canal of the trial. */
  TURNED("It turned in a known network, so it had no reading in this canal."),
  /** It did not turn there either. */
  STAYED("It did not turn in a known network either.");

  private final String sentence;

  NetworkAnswer(String sentence) {
    this.sentence = sentence;
  }

  /**
   * What it says of a device that did not turn.
   *
   * @return one sentence
   */
  public String sentence() {
    return sentence;
  }
}
