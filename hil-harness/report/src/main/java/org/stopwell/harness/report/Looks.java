package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.claim.ClaimOutcome;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.stats.Anytime;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/** What the claims say to someone who looks at a campaign under way. */
final class Looks {
  private Looks() {}

  static List<StatisticRow> of(CampaignSummary summary, List<TrialResult> trials) {
    List<StatisticRow> findings = new ArrayList<>();
    for (ClaimOutcome outcome : summary.claims()) {
      Claim claim = outcome.claim();
      if (claim.endpoint() == Claim.Endpoint.BIAS) {
        continue;
      }
      boolean atMost = claim.endpoint().isAtMost();
      Proportion seen = outcome.counted();
      findings.add(
          StatisticRow.of(
              "At every look: " + Words.endpoint(claim.endpoint()),
              seen.trials() == 0
                  ? Numbers.NOT_ESTIMABLE
                  : atMost
                      ? "at most "
                          + Numbers.upperPercent(Anytime.upperBound(seen, claim.confidence()))
                      : "at least "
                          + Numbers.lowerPercent(Anytime.lowerBound(seen, claim.confidence())),
              "This bound holds at every number of trials at once, so a reader may look after each trial"
                  + " and stop (Robbins 1970). The limit of "
                  + Numbers.plainPercent(claim.share())
                  + firstShown(claim, summary, trials)
                  + "."));
    }
    return findings;
  }

  /** After which trial the claim was first shown, had one looked after each. */
  private static String firstShown(Claim claim, CampaignSummary summary, List<TrialResult> trials) {
    Map<String, Condition> conditions =
        ClaimOutcome.spokenOf(claim, summary.conditions()).stream()
            .map(ConditionSummary::condition)
            .collect(Collectors.toMap(Condition::name, c -> c, (one, same) -> one));
    boolean atMost = claim.endpoint().isAtMost();
    double limit = atMost ? 1 - claim.share() : claim.share();
    if (!(limit > 0 && limit < 1)) {
      return " cannot be shown";
    }
    long good = 0;
    long all = 0;
    for (TrialResult t : trials) {
      Condition condition = conditions.get(t.condition());
      if (ConditionSummary.isAnalysed(t.verdict())
          && condition != null
          && ClaimOutcome.isAbout(claim, condition, t)) {
        all++;
        good += ClaimOutcome.counts(claim, condition, t) != atMost ? 1 : 0;
        if (good > all * limit
            && Anytime.logEvidenceAbove(new Proportion(good, all), limit)
                >= -Math.log(1 - claim.confidence())) {
          return " was first met after " + Words.count(all, "such trial");
        }
      }
    }
    return " was not met at any look";
  }
}
