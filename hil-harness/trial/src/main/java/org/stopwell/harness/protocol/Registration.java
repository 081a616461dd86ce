package org.stopwell.harness.protocol;

import java.util.List;

/**
 * The freeze that a campaign ran under.
 *
 * @param sha256 hash of what was frozen, empty when nothing was
 * @param frozenAt when, as the freeze file says
 * @param deviations what was not as frozen when the campaign began
 */
public record Registration(String sha256, String frozenAt, List<Deviation> deviations) {
  /** A campaign whose plan was never frozen. */
  public static final Registration NONE = new Registration("", "", List.of());

  /** Takes a copy. */
  public Registration {
    deviations = List.copyOf(deviations);
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
