package org.stopwell.rig.time;

import java.util.Arrays;

/**
 * How late the steps of a loop were, in classes that double: up to 1 µs, 2 µs, 4 µs and so on.
 * Adding allocates nothing.
 */
public final class LatenessHistogram {
  /** Upper edge of the first class, ns. */
  public static final long FIRST_NS = 1_000;

  /** How many classes there are; the last has no upper edge. */
  public static final int CLASSES = 22;

  private final long[] counts = new long[CLASSES];
  private long worstNs;

  /** No steps yet. */
  public LatenessHistogram() {}

  /**
   * Counts one step.
   *
   * @param latenessNs how late it began, ns, 0 or more
   */
  public void add(long latenessNs) {
    int at = 0;
    while (at < CLASSES - 1 && latenessNs > edgeNs(at)) {
      at++;
    }
    counts[at]++;
    worstNs = Math.max(worstNs, latenessNs);
  }

  /**
   * Adds the steps of another loop.
   *
   * @param other its histogram
   */
  public void add(LatenessHistogram other) {
    Arrays.setAll(counts, i -> counts[i] + other.counts[i]);
    worstNs = Math.max(worstNs, other.worstNs);
  }

  /**
   * Upper edge of a class.
   *
   * @param at its number, from 0
   * @return ns; steps just as late belong to it
   */
  public static long edgeNs(int at) {
    return FIRST_NS << at;
  }

  /**
   * Steps of one class.
   *
   * @param at its number, from 0
   * @return how many
   */
  public long count(int at) {
    return counts[at];
  }

  /**
   * All steps.
   *
   * @return how many
   */
  public long steps() {
    return Arrays.stream(counts).sum();
  }

  /**
   * The latest step.
   *
   * @return ns, 0 without steps
   */
  public long worstNs() {
    return worstNs;
  }

  /**
   * A lateness that so large a share of the steps does not exceed.
   *
   * @param share 0 to 1
   * @return upper edge of the class in which the share is reached, at most the worst, ns
   */
  public long quantileNs(double share) {
    long wanted = (long) Math.ceil(share * steps());
    long seen = 0;
    for (int at = 0; at < CLASSES - 1; at++) {
      seen += counts[at];
      if (seen >= wanted) {
        return Math.min(edgeNs(at), worstNs);
      }
    }
    return worstNs;
  }
}
