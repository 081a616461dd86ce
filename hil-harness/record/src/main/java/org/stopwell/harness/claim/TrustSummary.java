package org.stopwell.harness.claim;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/**
 * What the controller knew when it decided to stop, in one condition.
 *
 * @param stopped trials that stopped, out of the analysed ones
 * @param sure stops decided under trust {@code SURE}, out of all stops
 * @param sureAndWrong stops decided under {@code SURE} that lie outside of the tolerance, out of
 *     those decided under {@code SURE}
 * @param covered stops whose reading had an error within its stated bound, out of those with a
 *     stated bound and a known error
 * @param medianBoundMicrons median of the stated bounds, µm; empty where none was stated
 */
public record TrustSummary(
    Proportion stopped,
    Proportion sure,
    Proportion sureAndWrong,
    Proportion covered,
    OptionalDouble medianBoundMicrons) {

  /**
   * A point of the curve of share against error.
   *
   * @param boundMicrons the bound up to which a reading would be called sure, µm
   * @param sure stops that would be called sure, out of all stops with a stated bound
   * @param wrong those of them outside of the tolerance
   */
  public record Point(int boundMicrons, Proportion sure, Proportion wrong) {}

  /**
   * Sums up one condition.
   *
   * @param condition the condition
   * @param analysed its analysed trials
   * @return its summary
   */
  public static TrustSummary of(Condition condition, List<TrialResult> analysed) {
    List<TrialResult> stops = analysed.stream().filter(TrialResult::stopped).toList();
    List<TrialResult> sure = stops.stream().filter(TrialResult::sureAtStop).toList();
    List<TrialResult> checked = stops.stream().filter(TrialResult::hasCheckedBound).toList();
    int[] bounds =
        stops.stream()
            .mapToInt(TrialResult::boundMicrons)
            .filter(bound -> bound > 0)
            .sorted()
            .toArray();
    return new TrustSummary(
        share(analysed, TrialResult::stopped),
        share(stops, TrialResult::sureAtStop),
        share(sure, t -> isWrong(condition, t)),
        share(checked, TrialResult::isCovered),
        bounds.length == 0
            ? OptionalDouble.empty()
            : OptionalDouble.of(
                (bounds[(bounds.length - 1) / 2] + bounds[bounds.length / 2]) / 2.0));
  }

  /**
   * Whether a stop lies outside of the tolerance.
   *
   * @param condition its condition
   * @param trial a trial that stopped
   * @return true beyond the edge of the band
   */
  public static boolean isWrong(Condition condition, TrialResult trial) {
    return !ConditionSummary.isWithin(trial, condition.toleranceMicrons());
  }

  /**
   * What another limit of the bound would call sure, and how much of it would be wrong.
   *
   * @param stops stops with a stated bound
   * @param wrong whether a stop lies outside of the tolerance
   * @return one point for each bound that was stated, the narrowest first
   */
  public static List<Point> curve(List<TrialResult> stops, Predicate<TrialResult> wrong) {
    List<TrialResult> sorted =
        stops.stream().sorted(Comparator.comparingInt(TrialResult::boundMicrons)).toList();
    List<Point> points = new ArrayList<>();
    long off = 0;
    for (int i = 0; i < sorted.size(); i++) {
      int bound = sorted.get(i).boundMicrons();
      off += wrong.test(sorted.get(i)) ? 1 : 0;
      if (i + 1 == sorted.size() || sorted.get(i + 1).boundMicrons() > bound) {
        points.add(
            new Point(bound, new Proportion(i + 1L, sorted.size()), new Proportion(off, i + 1L)));
      }
    }
    return List.copyOf(points);
  }

  private static Proportion share(List<TrialResult> trials, Predicate<TrialResult> counts) {
    return new Proportion(trials.stream().filter(counts).count(), trials.size());
  }
}
