package org.stopwell.harness.breaking;

import java.util.List;
import java.util.Locale;

/**
 * One number that a disturbance changes, as a share of its limit.
 *
 * @param name what it is, such as {@code hand.feed_mm_per_s}
 * @param group what it belongs to
 * @param twoSided whether it has two directions: shares from −1 to 1, else from 0 to 1
 * @param free whether it costs nothing, as the time of a fault
 */
public record Ingredient(String name, Group group, boolean twoSided, boolean free) {
  /** What a disturbance consists of. */
  public enum Group {
    /** Motion of the hand. */
    HAND,
    /** Noise, hum, drift and delay of the front end. */
    NOISE,
    /** One fault. */
    FAULTS;

    /**
     * Its word on the command line.
     *
     * @return lower case
     */
    public String key() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  double low() {
    return twoSided ? -1 : 0;
  }

  /**
   * The size of a disturbance: the sum of the shares of the limits. A sum, because then no
   * combination looks small by being spread over many ingredients, and every ingredient has its
   * part of the size.
   */
  static double size(List<Ingredient> ingredients, double[] shares) {
    double size = 0;
    for (int i = 0; i < shares.length; i++) {
      size += ingredients.get(i).free() ? 0 : Math.abs(shares[i]);
    }
    return size;
  }
}
