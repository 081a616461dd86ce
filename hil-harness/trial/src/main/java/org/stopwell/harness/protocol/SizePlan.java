package org.stopwell.harness.protocol;

import java.util.List;
import java.util.OptionalInt;
import java.util.OptionalLong;
import org.stopwell.harness.stats.Anytime;
import org.stopwell.harness.stats.CanalCounts;
import org.stopwell.harness.stats.CanalSize;
import org.stopwell.harness.stats.SampleSize;
import org.stopwell.rig.random.RandomStream;

/**
 * What the number of trials was planned with.
 *
 * @param trueShare share that is expected; 0 for all of them
 * @param deviationMicrons standard deviation of the stop error that is expected, µm
 * @param biasMicrons mean stop error that is expected, µm
 * @param power wanted chance of showing a true claim
 * @param correlation intraclass correlation of trials in one canal
 * @param lost share of trials that the rig will spoil: a missing trial counts against a claim
 */
public record SizePlan(
    double trueShare,
    int deviationMicrons,
    int biasMicrons,
    double power,
    double correlation,
    double lost) {

  private static final int MOST = 10_000;

  /** Seed of the simulated campaigns: the same plan always needs the same number. */
  private static final long SEED = 1;

  /**
   * Computes how many trials a claim needs, by the rule that decides it.
   *
   * @param claim the claim
   * @param perCanal trials in each canal
   * @param rule when the campaign ends
   * @return trials to plan, empty when no number is enough
   */
  public OptionalLong needed(Claim claim, int perCanal, StoppingRule rule) {
    OptionalInt canals =
        switch (claim.endpoint()) {
          case BIAS -> bias(claim, perCanal, rule);
          case OVER_TRAVEL, OVERRUN -> share(claim, 1 - claim.share(), perCanal, rule);
          case WITHIN, REFUSED -> share(claim, claim.share(), perCanal, rule);
        };
    return canals.isEmpty()
        ? OptionalLong.empty()
        : OptionalLong.of((long) canals.getAsInt() * perCanal);
  }

  /** At the strictest, a claim on a mean is shown at the last look. */
  private static double last(Claim claim, StoppingRule rule) {
    List<Double> confidences = rule.looksAt(claim);
    return confidences.get(confidences.size() - 1);
  }

  private OptionalInt mean(Claim claim, int perCanal, double confidence) {
    return SampleSize.trialsForBias(
        claim.withinMicrons(),
        SampleSize.deviationOfCanal(deviationMicrons, perCanal, perCanal > 1 ? correlation : 0),
        biasMicrons,
        confidence,
        power,
        lost);
  }

  private OptionalInt share(Claim claim, double claimed, int perCanal, StoppingRule rule) {
    double truth = trueShare == 0 ? 1 : trueShare;
    // A trial that the rig spoils counts as a miss.
    double expected = truth * (1 - lost);
    if (rule.decides(claim) && rule.kind() == StoppingRule.Kind.SPRT) {
      return rule.sprt(claim, MOST).leastCap(1 - expected, power);
    }
    if (rule.decides(claim) && rule.kind() == StoppingRule.Kind.ANYTIME) {
      return Anytime.leastCap(claimed, claim.confidence(), expected, power, MOST);
    }
    List<Double> confidences = rule.looksAt(claim);
    if (perCanal == 1) {
      return SampleSize.trialsForShare(claimed, confidences, expected, power);
    }
    CanalCounts counts = CanalCounts.betaBinomial(perCanal, truth, correlation).lost(lost);
    return CanalSize.least(
        counts, claimed, confidences, power, () -> RandomStream.of(SEED, "size")::nextDouble);
  }

  /** Enough for the mean, and enough to bound the share of trials without a stop. */
  private OptionalInt bias(Claim claim, int perCanal, StoppingRule rule) {
    OptionalInt mean = mean(claim, perCanal, last(claim, rule));
    OptionalInt stops = share(claim, 1 - claim.refusedAtMost(), perCanal, rule);
    return mean.isEmpty() || stops.isEmpty()
        ? OptionalInt.empty()
        : OptionalInt.of(Math.max(mean.getAsInt(), stops.getAsInt()));
  }
}
