package org.stopwell.harness.length;

/** What reads the depth of the file at a stop. */
public enum DepthBy {
  /** An axis of the bench. It counts from the orifice. */
  AXIS("axis", 0, 100),
  /** A person, from a rubber stop that was set against the reference point. */
  RUBBER_STOP("rubber stop", 250, 500);

  private final String word;
  private final int errorMicrons;
  private final int rangeMicrons;

  DepthBy(String word, int errorMicrons, int rangeMicrons) {
    this.word = word;
    this.errorMicrons = errorMicrons;
    this.rangeMicrons = rangeMicrons;
  }

  /**
   * The word in files.
   *
   * @return one or two words
   */
  public String word() {
    return word;
  }

  /**
   * Largest error of the reading, either way, where nobody states another.
   *
   * @return µm; an axis: its readings show it; a rubber stop: 250 µm, from memory
   */
  public int errorMicrons() {
    return errorMicrons;
  }

  /**
   * Range within which length readings agree, where nobody states another.
   *
   * @return µm; assumed
   */
  public int rangeMicrons() {
    return rangeMicrons;
  }
}
