package org.stopwell.harness.protocol;

import java.util.List;

/**
 * The freeze that a campaign ran under.
 *
 * @param sha256 hash of what was frozen, empty when nothing was
 * @param frozenAt when, as the freeze file says
 * @param deviations what was not as frozen when the campaign began
 * @param number number of the campaign under this freeze, from 1; 0 without a ledger
 * @param ledger hash of the campaign's first line in the ledger, empty without one
 */
public record Registration(
    String sha256, String frozenAt, List<Deviation> deviations, int number, String ledger) {
  /** A campaign whose plan was never frozen. */
  public static final Registration NONE = new Registration("", "", List.of());

  /** Takes a copy. */
  public Registration {
    deviations = List.copyOf(deviations);
  }

  /**
   * A campaign that stands in no ledger.
   *
   * @param sha256 hash of what was frozen, empty when nothing was
   * @param frozenAt when, as the freeze file says
   * @param deviations what was not as frozen when the campaign began
   */
  public Registration(String sha256, String frozenAt, List<Deviation> deviations) {
    this(sha256, frozenAt, deviations, 0, "");
  }

  /**
   * The same freeze, for a campaign that was entered in the ledger.
   *
   * @param place its number under this freeze, from 1
   * @param line hash of its first line in the ledger
   * @return the entered registration
   */
  public Registration entered(int place, String line) {
    return new Registration(sha256, frozenAt, deviations, place, line);
  }

  /**
   * Whether the plan was frozen before the campaign.
   *
   * @return true when there was a freeze file
   */
  public boolean isFrozen() {
    return !sha256.isEmpty();
  }
}
