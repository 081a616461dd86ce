package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SampleSizeTest {
  /** The classical table of sampling by attributes, 95 % confidence. */
  @ParameterizedTest
  @CsvSource({
    "0.90, 29, 46, 61, 76",
    "0.95, 59, 93, 124, 153",
    "0.99, 299, 473, 628, 773",
  })
  void trialsForAShareByMisses(double share, int none, int one, int two, int three) {
    assertEquals(OptionalInt.of(none), SampleSize.trialsForShare(share, 0.95, 0));
    assertEquals(OptionalInt.of(one), SampleSize.trialsForShare(share, 0.95, 1));
    assertEquals(OptionalInt.of(two), SampleSize.trialsForShare(share, 0.95, 2));
    assertEquals(OptionalInt.of(three), SampleSize.trialsForShare(share, 0.95, 3));
  }

  @Test
  void powerOfAShareByHand() {
    // 59 trials must all hit: 0.99^59.
    assertEquals(Math.pow(0.99, 59), SampleSize.powerOfShare(59, 0.95, 0.95, 0.99), 1e-12);
    assertEquals(0, SampleSize.powerOfShare(58, 0.95, 0.95, 0.99));
    int n = SampleSize.trialsForShare(0.95, List.of(0.95), 0.99, 0.9).orElseThrow();
    assertTrue(SampleSize.powerOfShare(n, 0.95, 0.95, 0.99) >= 0.9);
    assertTrue(SampleSize.powerOfShare(n - 1, 0.95, 0.95, 0.99) < 0.9);
    assertEquals(OptionalInt.empty(), SampleSize.trialsForShare(0.95, List.of(0.95), 0.94, 0.9));
  }

  /** Two one-sided tests at 0.05, power 0.9 (computed with SciPy 1.17, adaptive quadrature). */
  @ParameterizedTest
  @CsvSource({"1, 13, 17", "1.5, 26, 36", "2, 45, 63", "3, 99, 139"})
  void trialsForABias(double deviation, int centred, int quarter) {
    assertEquals(centred, SampleSize.trialsForBias(1, deviation, 0, 0.95, 0.9, 0).orElseThrow());
    assertEquals(quarter, SampleSize.trialsForBias(1, deviation, 0.25, 0.95, 0.9, 0).orElseThrow());
  }

  /** Chance that the 95/95 tolerance interval lies within ±0.5 mm (simulated in Python). */
  @ParameterizedTest
  @CsvSource({
    "0.10, 0.00, 15, 1.00",
    "0.15, 0.05, 15, 0.56",
    "0.15, 0.05, 20, 0.71",
    "0.15, 0.05, 30, 0.89",
    "0.15, 0.10, 50, 0.86",
    "0.18, 0.05, 50, 0.68",
    "0.20, 0.00, 20, 0.19",
    "0.20, 0.00, 100, 0.87",
  })
  void powerOfATolerance(double deviation, double bias, int trials, double power) {
    assertEquals(
        power, SampleSize.powerOfTolerance(trials, 0.95, 0.95, 0.5, deviation, bias), 0.012);
  }

  @Test
  void trialsForAToleranceIntervalAreTheFewestWithThatPower() {
    int n = SampleSize.trialsForTolerance(0.95, 0.95, 0.5, 0.15, 0.05, 0.9).orElseThrow();
    assertEquals(31, n, 2, "89 % at 30");
    assertTrue(SampleSize.powerOfTolerance(n, 0.95, 0.95, 0.5, 0.15, 0.05) >= 0.9);
    assertTrue(SampleSize.powerOfTolerance(n - 1, 0.95, 0.95, 0.5, 0.15, 0.05) < 0.9);
    assertEquals(OptionalInt.empty(), SampleSize.trialsForTolerance(0.95, 0.95, 0.5, 0.4, 0, 0.9));
  }

  /** Bland and Altman 1986: 17 pairs with s = 38.8 know a limit to ± 2.12 √(3/17) 38.8 = 34.5. */
  @Test
  void pairsForLimitsOfAgreement() {
    assertEquals(17, SampleSize.pairsForLimits(34.6, 38.8, 0.95).orElseThrow());
    assertEquals(18, SampleSize.pairsForLimits(34.4, 38.8, 0.95).orElseThrow());
  }

  /**
   * Jennison and Turnbull, Group Sequential Methods, 2000, tables 2.2 and 2.4, α = 0.05, power 0.9
   * (from memory): most trials over those of a fixed plan.
   */
  @ParameterizedTest
  @CsvSource({"2, 1.100, 1.007", "3, 1.151, 1.016", "4, 1.183, 1.022", "5, 1.207, 1.026"})
  void lookingCostsFewTrials(int looks, double pocock, double obrien) {
    assertEquals(pocock, SampleSize.inflation(GroupSequential.of(looks, 0.05, 0.5), 0.9), 0.001);
    assertEquals(obrien, SampleSize.inflation(GroupSequential.of(looks, 0.05, 0), 0.9), 0.001);
  }

  /**
   * Looking after every trial for "above 95 %": without any miss the evidence, an average of the
   * powers (q/0.95)ⁿ, passes 20 at the 88th trial; with a share of 99 % after 146 trials on average
   * (simulated in Python).
   */
  @Test
  void trialsUntilAClaimIsShownAtAnyLook() {
    Sprt.Behaviour perfect = Anytime.behaviour(0.95, 0.95, 1, 300);
    assertEquals(88, perfect.meanTrials(), 1e-9);
    assertEquals(1, perfect.accept(), 1e-12);
    assertEquals(146, Anytime.behaviour(0.95, 0.95, 0.99, 2000).meanTrials(), 3);
    Sprt.Behaviour justFalse = Anytime.behaviour(0.95, 0.95, 0.95, 1000);
    assertTrue(justFalse.accept() < 0.05, "claims falsely " + justFalse.accept());
  }

  /**
   * Two-sample t test, 0.05 two-sided, power 0.9. An effect of one standard deviation needs 23 per
   * arm by the t distribution (22 by the normal approximation n = 2 (1.960 + 1.282)² = 21.01); 0.2
   * needs 527 against 526.
   */
  @ParameterizedTest
  @CsvSource({"0.05, 23", "0.02, 133", "0.01, 527"})
  void trialsForAShiftOfTheMean(double shift, int perArm) {
    assertEquals(perArm, SampleSize.trialsForShift(shift, 0.05, 0.05, 0.9).orElseThrow(), 1);
    assertTrue(SampleSize.powerOfShift(perArm, shift, 0.05, 0.05) > 0.895);
  }

  /** From the planned number on, no more trials spoil the power. */
  @Test
  void everyLargerNumberOfTrialsReachesThePowerToo() {
    int n = SampleSize.trialsForShare(0.95, List.of(0.95), 0.995, 0.9).orElseThrow();
    assertEquals(124, n, "93 trials reach it as well, 94 do not (SciPy)");
    for (int more = n; more < n + 200; more++) {
      assertTrue(SampleSize.powerOfShare(more, 0.95, 0.95, 0.995) >= 0.9, "with " + more);
    }
  }

  /** A program in C found 0.7148 ± 0.0032 for 360 of true 0.9751. */
  @Test
  void thePowerOfACampaignWithLooksIsThatOfSimulatedOnes() {
    assertEquals(
        0.7148,
        SampleSize.powerOfShare(360, 0.95, List.of(0.9985, 0.9819, 0.9556), 0.995 * 0.98),
        0.01);
    assertEquals(
        SampleSize.powerOfShare(181, 0.95, 0.95, 0.99),
        SampleSize.powerOfShare(181, 0.95, List.of(0.95), 0.99),
        1e-12);
    List<Double> looks = List.of(0.9985, 0.9819, 0.9556);
    int planned = SampleSize.trialsForShare(0.95, looks, 0.995, 0.9).orElseThrow();
    assertTrue(planned >= 100 && planned <= 140, "about the 124 of one look: " + planned);
    assertTrue(SampleSize.powerOfShare(planned, 0.95, looks, 0.995) >= 0.9);
    // With no true difference the looks together claim falsely in at most one of twenty.
    for (int n : new int[] {60, 100, 150, 288, 600}) {
      double falsely = SampleSize.powerOfShare(n, 0.95, List.of(0.9985, 0.9819, 0.9556), 0.95);
      assertTrue(falsely <= 0.05, n + ": " + falsely);
    }
  }

  @Test
  void lostTrialsCountAgainstAClaimOnAMean() {
    int none = SampleSize.trialsForBias(1, 1, 0, 0.95, 0.9, 0).orElseThrow();
    int some = SampleSize.trialsForBias(1, 1, 0, 0.95, 0.9, 0.05).orElseThrow();
    assertTrue(some > none + 2, none + " to " + some);
  }

  @Test
  void aCanalIsAsSpreadAsItsTrialsAgree() {
    assertEquals(2, SampleSize.deviationOfCanal(2, 10, 1), 1e-12);
    assertEquals(1, SampleSize.deviationOfCanal(2, 4, 0), 1e-12);
    assertEquals(Math.sqrt(1.75), SampleSize.deviationOfCanal(2, 4, 0.25), 1e-12);
  }
}
