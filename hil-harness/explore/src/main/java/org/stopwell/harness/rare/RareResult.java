package org.stopwell.harness.rare;

import java.util.List;
import java.util.Optional;
import org.stopwell.rig.bench.Scene;

/**
 * What a search of a rare event found.
 *
 * @param plan name of the plan
 * @param condition the condition whose trials count
 * @param levels falling least remaining distances on the way to the event, µm; empty when the
 *     search stopped short of it
 * @param shares mean share of each level's set in the set before
 * @param runs estimates of the runs that are finished
 * @param estimate mean of the runs with its interval; empty with fewer than two runs
 * @param trials trials that were simulated
 * @param complete whether every run is finished
 * @param differences what differs where the event happens, the most different first
 * @param ways typical trials that reach the event
 */
public record RareResult(
    String plan,
    String condition,
    List<Integer> levels,
    List<Double> shares,
    List<Double> runs,
    Optional<Estimate> estimate,
    long trials,
    boolean complete,
    List<Ways.Difference> differences,
    List<Way> ways) {
  /** Copies the lists. */
  public RareResult {
    levels = List.copyOf(levels);
    shares = List.copyOf(shares);
    runs = List.copyOf(runs);
    differences = List.copyOf(differences);
    ways = List.copyOf(ways);
  }

  /**
   * One way to the event.
   *
   * @param deepestMicrons least true remaining distance, µm
   * @param scene what the trial was made of
   * @param csv its approach as a CSV trace with the true distance
   */
  public record Way(int deepestMicrons, Scene scene, String csv) {}
}
