package org.stopwell.harness.plan;

import java.util.Locale;
import java.util.Optional;

/**
 * An extracted tooth of a plan. A person measured its length; this length is the truth of every
 * trial in it.
 *
 * @param name name or code of the tooth
 * @param lengthMicrons reference point to foramen along the canal, µm
 * @param uncertaintyMicrons expanded uncertainty of the length, µm
 * @param coverageHundredths coverage factor k of the uncertainty, hundredths
 * @param medium what the tooth is mounted in; empty where the plan states its mount
 * @param temperatureTenths temperature of medium and fluid, tenths of a °C; counts only without a
 *     mount of the plan
 * @param zero the true zero that observers read; empty where nobody did
 * @param line where it stands in the plan
 */
public record ExtractedTooth(
    String name,
    int lengthMicrons,
    int uncertaintyMicrons,
    int coverageHundredths,
    String medium,
    int temperatureTenths,
    Optional<ToothZero> zero,
    int line) {
  private static final int NUMBERS = 999_999_999;

  /**
   * Standard uncertainty of the length: the expanded one divided by k.
   *
   * @return µm
   */
  public int standardMicrons() {
    return (int) Math.rint(100.0 * uncertaintyMicrons / coverageHundredths);
  }

  /**
   * The number that stands for the name in a scene. The same name has the same number in every
   * plan.
   *
   * @return 1 or more
   */
  public int number() {
    // Fowler-Noll-Vo, 32 bits, variant 1a
    int hash = 0x811C9DC5;
    for (char c : plain(name).toCharArray()) {
      hash = (hash ^ c) * 0x01000193;
    }
    return (int) (Integer.toUnsignedLong(hash) % NUMBERS) + 1;
  }

  /**
   * Whether a name means this tooth. Capitals and spaces at the ends do not count.
   *
   * @param other a name
   * @return true for the same tooth
   */
  public boolean isNamed(String other) {
    return plain(name).equals(plain(other));
  }

  private static String plain(String text) {
    return text.strip().toLowerCase(Locale.ROOT);
  }
}
