package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SequentialTest {
  /**
   * The plan of NIST/SEMATECH e-Handbook 6.2.6 (p1 = .01, p2 = .10, α = .05, β = .10): "for n = 24
   * the acceptance number is 0 and the rejection number is 3". The boundaries that keep β exactly
   * accept one trial later.
   */
  @Test
  void theHandbooksSequentialPlanAcceptsOneTrialLater() {
    Sprt plan = new Sprt(.01, .10, .05, .10, 1000);
    assertEquals(.039747432, plan.slope(), 1e-9);
    // ln .1 and −ln .05 over ln(.1 · .99 / (.01 · .9)) = 2.397895.
    assertEquals(-.960252568, plan.acceptIntercept(), 1e-9);
    assertEquals(1.249317394, plan.rejectIntercept(), 1e-9);
    assertEquals(Sprt.Decision.GO_ON, plan.decide(24, 0));
    assertEquals(Sprt.Decision.ACCEPT, plan.decide(25, 0));
    assertEquals(Sprt.Decision.GO_ON, plan.decide(24, 2));
    assertEquals(Sprt.Decision.REJECT, plan.decide(24, 3));
  }

  /** Every sequence of trials up to the cap, one by one, for tests that are short enough. */
  @ParameterizedTest
  @CsvSource({
    ".05, .40, .05, .05, 16",
    ".10, .60, .20, .05, 14",
    ".20, .60, .10, .10, 17",
    ".3, .7, .4, .4, 9"
  })
  void noTestErrsMoreOftenThanItPromises(
      double good, double bad, double alpha, double beta, int cap) {
    Sprt plan = new Sprt(good, bad, alpha, beta, cap);
    double falselyRejected = 0;
    double falselyAccepted = 0;
    for (int way = 0; way < 1 << cap; way++) {
      int n = 0;
      int misses = 0;
      Sprt.Decision decision;
      do {
        misses += (way >> n) & 1;
        n++;
        decision = plan.decide(n, misses);
      } while (decision == Sprt.Decision.GO_ON);
      // Counted once: all ways that differ only after the decision share the first n trials.
      if (way >> n == 0) {
        if (decision == Sprt.Decision.REJECT) {
          falselyRejected += Math.pow(good, misses) * Math.pow(1 - good, n - misses);
        } else if (decision == Sprt.Decision.ACCEPT) {
          falselyAccepted += Math.pow(bad, misses) * Math.pow(1 - bad, n - misses);
        }
      }
    }
    assertTrue(falselyRejected <= alpha && falselyRejected > 0, "rejects " + falselyRejected);
    assertTrue(falselyAccepted <= beta && falselyAccepted > 0, "accepts " + falselyAccepted);
    assertEquals(falselyRejected, plan.behaviour(good).reject(), 1e-12);
    assertEquals(falselyAccepted, plan.behaviour(bad).accept(), 1e-12);
  }

  @ParameterizedTest
  @CsvSource({
    ".01, .05, .05, .05, 300",
    ".01, .05, .05, .05, 2000",
    ".01, .05, .20, .05, 300",
    ".005, .05, .10, .05, 288",
    ".001, .01, .05, .01, 3000",
    ".02, .05, .10, .10, 1000",
    ".01, .10, .05, .10, 1000",
  })
  void theExactErrorsOfLongTestsAreThosePromised(
      double good, double bad, double alpha, double beta, int cap) {
    Sprt plan = new Sprt(good, bad, alpha, beta, cap);
    Sprt.Behaviour atGood = plan.behaviour(good);
    Sprt.Behaviour atBad = plan.behaviour(bad);
    assertTrue(atGood.reject() <= alpha, "rejects " + atGood.reject());
    assertTrue(atBad.accept() <= beta, "accepts " + atBad.accept());
    assertTrue(atBad.accept() > 0.8 * beta, "not stricter than needed: " + atBad.accept());
    assertEquals(1, atGood.accept() + atGood.reject() + atGood.undecided(), 1e-12);
  }

  @Test
  void theFewestTrialsForAPowerAreTheCapThatReachesIt() {
    Sprt plan = new Sprt(.01, .05, .10, .05, 2000);
    int cap = plan.leastCap(.005, .9).orElseThrow();
    assertTrue(new Sprt(.01, .05, .10, .05, cap).behaviour(.005).accept() >= .9);
    assertTrue(new Sprt(.01, .05, .10, .05, cap - 1).behaviour(.005).accept() < .9);
    assertEquals(OptionalInt.empty(), plan.leastCap(.05, .9));
    int looks = Anytime.leastCap(.95, .95, .99, .9, 2000).orElseThrow();
    assertTrue(Anytime.behaviour(.95, .95, .99, looks).accept() >= .9);
    assertTrue(Anytime.behaviour(.95, .95, .99, looks - 1).accept() < .9);
  }

  @Test
  void theCapEndsATestThatCannotDecide() {
    Sprt plan = new Sprt(.01, .05, .05, .05, 60);
    assertEquals(Sprt.Decision.UNDECIDED, plan.decide(60, 1));
    Sprt.Behaviour between = plan.behaviour(.025);
    assertTrue(between.undecided() > 0.3 && between.meanTrials() <= 60, between.toString());
  }

  @Test
  void theExactBehaviourIsThatOfSimulatedCampaigns() {
    long seed = 77;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    Sprt plan = new Sprt(.01, .05, .05, .05, 300);
    Sprt.Behaviour exact = plan.behaviour(.02);
    int campaigns = 20_000;
    int accepted = 0;
    long trials = 0;
    for (int c = 0; c < campaigns; c++) {
      int n = 0;
      int misses = 0;
      Sprt.Decision decision;
      do {
        n++;
        misses += random.nextDouble() < .02 ? 1 : 0;
        decision = plan.decide(n, misses);
      } while (decision == Sprt.Decision.GO_ON);
      accepted += decision == Sprt.Decision.ACCEPT ? 1 : 0;
      trials += n;
    }
    double p = exact.accept();
    assertEquals(p, (double) accepted / campaigns, 4 * Math.sqrt(p * (1 - p) / campaigns));
    assertEquals(exact.meanTrials(), (double) trials / campaigns, 2);
  }

  /**
   * Jennison and Turnbull, Group Sequential Methods, 2000, tables 2.1 and 2.3, α = 0.05 two-sided
   * (from memory, three decimals).
   */
  @ParameterizedTest
  @CsvSource({
    "1, 1.960, 1.960",
    "2, 2.178, 1.977",
    "3, 2.289, 2.004",
    "4, 2.361, 2.024",
    "5, 2.413, 2.040"
  })
  void publishedConstantsOfPocockAndOfOBrienAndFleming(int looks, double pocock, double obrien) {
    assertEquals(pocock, GroupSequential.of(looks, 0.05, 0.5).constant(), 0.0006);
    assertEquals(obrien, GroupSequential.of(looks, 0.05, 0).constant(), 0.0006);
  }

  @Test
  void theFirstLookIsTheStrictest() {
    GroupSequential design = GroupSequential.of(5, 0.05, 0);
    assertEquals(4.562, design.limits().get(0), 0.002, "2.040 √5");
    assertEquals(2.040, design.limits().get(4), 0.0006);
    assertEquals(0.05, design.crossing(0), 1e-9);
    assertTrue(design.crossing(1.5) > 0.85, "power " + design.crossing(1.5));
  }

  @Test
  void fiveLooksClaimFalselyAsOftenAsAllowedAndPlainLooksThreeTimesAsOften() {
    long seed = 13;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    GroupSequential design = GroupSequential.of(5, 0.05, 0);
    int campaigns = 40_000;
    int careful = 0;
    int naive = 0;
    for (int c = 0; c < campaigns; c++) {
      double sum = 0;
      boolean crossed = false;
      boolean peeked = false;
      for (int k = 1; k <= 5; k++) {
        sum += random.nextGaussian();
        double z = Math.abs(sum) / Math.sqrt(k);
        crossed |= z >= design.limit(k);
        peeked |= z >= 1.96;
      }
      careful += crossed ? 1 : 0;
      naive += peeked ? 1 : 0;
    }
    assertEquals(0.05, (double) careful / campaigns, 0.0044, "four standard deviations");
    // Armitage, McPherson and Rowe 1969: five looks at 1.96 claim in 14.2 % (from memory).
    assertEquals(0.142, (double) naive / campaigns, 0.007);
  }

  /** Closed form with no miss: (1 − p₀^(n+1)) / ((n+1) (1−p₀) p₀ⁿ) ≥ 20 first at n = 88 and 43. */
  @ParameterizedTest
  @CsvSource({"0.95, 88", "0.90, 43"})
  void withoutAMissTheAnytimeBoundComesLaterThanTheFixedOne(double share, int trials) {
    assertTrue(Anytime.lowerBound(new Proportion(trials, trials), 0.95).orElseThrow() >= share);
    assertTrue(
        Anytime.lowerBound(new Proportion(trials - 1, trials - 1), 0.95).orElseThrow() < share);
    double closed =
        Math.log(1 - Math.pow(share, trials + 1.0))
            - Math.log(trials + 1.0)
            - Math.log(1 - share)
            - trials * Math.log(share);
    assertEquals(closed, Anytime.logEvidenceAbove(new Proportion(trials, trials), share), 1e-10);
  }

  @Test
  void lookingAfterEveryTrialClaimsFalselyInAtMostFivePercent() {
    long seed = 5;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    boolean[][] claims = new boolean[301][301];
    boolean[][] peeks = new boolean[301][301];
    for (int n = 1; n <= 300; n++) {
      for (int k = 0; k <= n; k++) {
        Proportion seen = new Proportion(k, n);
        claims[n][k] = Anytime.logEvidenceAbove(seen, 0.95) >= Math.log(20);
        peeks[n][k] = k > 0.9 * n && seen.lowerBound(0.95).orElseThrow() >= 0.95;
      }
    }
    int campaigns = 20_000;
    int valid = 0;
    int naive = 0;
    for (int c = 0; c < campaigns; c++) {
      int hits = 0;
      boolean claimed = false;
      boolean peeked = false;
      for (int n = 1; n <= 300; n++) {
        hits += random.nextDouble() < 0.95 ? 1 : 0;
        claimed |= claims[n][hits];
        peeked |= peeks[n][hits];
      }
      valid += claimed ? 1 : 0;
      naive += peeked ? 1 : 0;
    }
    assertTrue((double) valid / campaigns <= 0.05, "false claims " + valid + " of " + campaigns);
    assertTrue((double) naive / campaigns > 0.10, "plain peeking " + naive + " of " + campaigns);
  }

  @Test
  void boundsThatHoldAtAllTimesAreNoTighterThanThoseOfOneTime() {
    for (int k = 0; k <= 50; k += 5) {
      Proportion seen = new Proportion(k, 50);
      double low = Anytime.lowerBound(seen, 0.95).orElseThrow();
      double high = Anytime.upperBound(seen, 0.95).orElseThrow();
      assertTrue(low <= seen.lowerBound(0.95).orElseThrow() + 1e-12, "k = " + k);
      assertTrue(high >= seen.upperBound(0.95).orElseThrow() - 1e-12, "k = " + k);
    }
    assertEquals(OptionalDouble.empty(), Anytime.lowerBound(new Proportion(0, 0), 0.95));
    assertEquals(OptionalDouble.of(0), Anytime.lowerBound(new Proportion(0, 9), 0.95));
  }

  @Test
  void plansThatMakeNoSenseAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> new Sprt(.1, .05, .05, .05, 100));
    assertThrows(IllegalArgumentException.class, () -> GroupSequential.of(0, .05, 0));
    assertThrows(
        IllegalArgumentException.class,
        () -> Anytime.logEvidenceAbove(new Proportion(1, 2), Double.NaN));
  }
}
