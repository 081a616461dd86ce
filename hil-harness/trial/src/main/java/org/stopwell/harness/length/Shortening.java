package org.stopwell.harness.length;

/**
 * How much shorter a curved canal becomes when it is shaped and so straightened: J Endod
 * 2002;28(6), abstract.
 *
 * @param wholeMicrons shaped to its length at once, µm
 * @param flaredMicrons with the upper part flared first, µm
 */
public record Shortening(int wholeMicrons, int flaredMicrons) {
  /** Shaped with nickel-titanium files. */
  public static final Shortening NICKEL_TITANIUM = new Shortening(220, 70);

  /** Shaped with steel files. */
  public static final Shortening STEEL = new Shortening(480, 360);

  /**
   * The shortening of an alloy.
   *
   * @param alloy as the settings of the file say
   * @return its mean shortening
   */
  public static Shortening of(String alloy) {
    return alloy.equals("steel") ? STEEL : NICKEL_TITANIUM;
  }
}
