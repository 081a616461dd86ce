package org.stopwell.harness.protocol;

import java.util.OptionalInt;
import java.util.OptionalLong;
import org.stopwell.harness.stats.SampleSize;

/**
 * What the number of trials was planned with.
 *
 * @param trueShare share that is expected; 0 asks for no more than that every trial may go well
 * @param deviationMicrons standard deviation of the stop error that is expected, µm
 * @param biasMicrons mean stop error that is expected, µm
 * @param power wanted chance of showing a true claim
 * @param correlation intraclass correlation of trials in one canal
 * @param lost share of trials that the rig will spoil
 */
public record SizePlan(
    double trueShare,
    int deviationMicrons,
    int biasMicrons,
    double power,
    double correlation,
    double lost) {

  /**
   * Computes how many trials a claim needs.
   *
   * @param claim the claim
   * @param perCanal trials in each canal
   * @return trials to plan, empty when no number is enough
   */
  public OptionalLong needed(Claim claim, int perCanal) {
    OptionalInt independent =
        switch (claim.endpoint()) {
          case BIAS ->
              SampleSize.trialsForBias(
                  claim.withinMicrons(), deviationMicrons, biasMicrons, claim.confidence(), power);
          case OVER_TRAVEL -> share(1 - claim.share(), claim.confidence());
          case WITHIN, REFUSED -> share(claim.share(), claim.confidence());
        };
    return independent.isEmpty()
        ? OptionalLong.empty()
        : OptionalLong.of(SampleSize.planned(independent.getAsInt(), perCanal, correlation, lost));
  }

  private OptionalInt share(double claimed, double confidence) {
    return trueShare == 0
        ? SampleSize.trialsForShare(claimed, confidence, 0)
        : SampleSize.trialsForShare(claimed, confidence, trueShare, power);
  }
}
