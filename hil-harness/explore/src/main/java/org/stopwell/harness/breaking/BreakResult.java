package org.stopwell.harness.breaking;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What a search for the smallest disturbance found. Simulated.
 *
 * @param plan name of the plan
 * @param condition the condition that was disturbed
 * @param groups what was allowed to disturb it
 * @param kinds kinds of fault among it
 * @param canals canals that were looked at, each with its own noise
 * @param undisturbed how many of them over-travel without a disturbance; no search is made there
 * @param starts random disturbances that the search set out from
 * @param trials trials that were simulated
 * @param complete whether the search was not interrupted
 * @param alone each ingredient of hand and noise without the others
 * @param still keys that took no part: the plan states their limit, or they do not act
 * @param nearestMicrons least clearance of the trials that do not over-travel, µm; the greatest
 *     integer when there is none
 * @param breach the smallest disturbance that over-travels, found in a canal that does not
 *     over-travel without one where there is such a canal; empty when none was found
 */
public record BreakResult(
    String plan,
    String condition,
    List<String> groups,
    List<String> kinds,
    int canals,
    int undisturbed,
    int starts,
    long trials,
    boolean complete,
    List<Single> alone,
    List<String> still,
    int nearestMicrons,
    Optional<Breach> breach) {
  /** Copies the lists. */
  public BreakResult {
    groups = List.copyOf(groups);
    kinds = List.copyOf(kinds);
    alone = List.copyOf(alone);
    still = List.copyOf(still);
  }

  /**
   * An ingredient in a disturbance, or alone. The start of a fault has no limit and a share of 0.
   *
   * @param key key of the scene, or kind of fault and key of the fault
   * @param unit unit of the values
   * @param plan value of the plan
   * @param value value that over-travels
   * @param limit value of share 1; empty where any value costs nothing
   * @param share of the limit, from −1 to 1
   */
  public record Part(
      String key, String unit, String plan, String value, String limit, double share) {}

  /**
   * An ingredient alone.
   *
   * @param part at the least value that over-travels, else at its limit
   * @param past whether it over-travels
   */
  public record Single(Part part, boolean past) {}

  /**
   * How sharp the finding is, in other canals with other noise that the plan draws.
   *
   * @param seeds seeds that were tried, that of the finding included
   * @param past how many over-travel with the disturbance
   * @param pastBelow how many over-travel with 0.95 of it
   */
  public record Margin(int seeds, int past, int pastBelow) {}

  /**
   * A disturbance that over-travels.
   *
   * @param seed seed of the plan of one trial
   * @param size sum of the shares
   * @param parts its ingredients, the greatest share first
   * @param deepestMicrons true distance short of the foramen at the deepest, µm; empty when
   *     interrupted
   * @param stateHash hash of the controller after the trial; 0 when interrupted
   * @param margin empty when interrupted, or when nothing disturbs the trial
   */
  public record Breach(
      long seed,
      double size,
      List<Part> parts,
      OptionalInt deepestMicrons,
      long stateHash,
      Optional<Margin> margin) {
    /** Copies the list. */
    public Breach {
      parts = List.copyOf(parts);
    }
  }
}
