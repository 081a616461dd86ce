package org.stopwell.rig.proof;

/**
 * How late the steps of a loop were, and how much of it was the loop's own: a step can begin when
 * it is due and the answer to the one before is there. What comes after that, before the request is
 * sent, no bench can be blamed for.
 */
final class Punctuality {
  private long answeredNs = Long.MIN_VALUE;
  private long latestNs;
  private long ownNs;

  /**
   * Adds a step.
   *
   * @param dueNs when its request was to be sent, ns of any clock
   * @param sentNs when it was
   * @param answered when its answer was there
   */
  void add(long dueNs, long sentNs, long answered) {
    latestNs = Math.max(latestNs, sentNs - dueNs);
    ownNs = Math.max(ownNs, sentNs - Math.max(dueNs, answeredNs));
    answeredNs = answered;
  }

  /** The latest step, ns. */
  long latestNs() {
    return latestNs;
  }

  /** The longest time that the loop by itself was late, ns. */
  long ownNs() {
    return ownNs;
  }
}
