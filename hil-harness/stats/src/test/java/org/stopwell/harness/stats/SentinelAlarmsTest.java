package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.stats.Sentinels.Measured;

/** False alarms and power of the rules for sentinels, computed and simulated. */
class SentinelAlarmsTest {
  @Test
  void thePublishedRulesGiveTooManyFalseAlarms() {
    assertEquals(0.0688, SentinelAlarms.probability(13, 0, 0, 0), 0.0001, "13 sentinels, exact");
    assertEquals(0.1288, SentinelAlarms.probability(13, 30, 0, 0), 0.0005, "learned from 30");
  }

  @ParameterizedTest
  @CsvSource({"2", "5", "13", "50", "100", "1000", "100000"})
  void everyCampaignStaysFarBelowTwoPercent(int sentinels) {
    for (int learned : new int[] {0, 10, 30, 100, 1000}) {
      double widening = SentinelAlarms.widening(sentinels, learned);
      double alarm = SentinelAlarms.probability(sentinels, learned, widening, 0);
      assertTrue(alarm <= 0.005, alarm + " of " + learned);
      assertTrue(alarm > 0.0045 || widening == 0, "no wider than needed: " + alarm);
    }
  }

  @Test
  void moreTrialsTeachCloserLimitsAndFindASmallerShift() {
    double few = SentinelAlarms.widening(13, 30);
    double many = SentinelAlarms.widening(13, 1000);
    assertTrue(many < few, many + " < " + few);
    int afterFew = SentinelAlarms.foundAfter(60, 30, few, 2, 0.9).orElseThrow();
    int afterMany = SentinelAlarms.foundAfter(60, 1000, many, 2, 0.9).orElseThrow();
    assertEquals(List.of(56, 13), List.of(afterFew, afterMany));
    assertTrue(SentinelAlarms.foundAfter(13, 30, few, 2, 0.9).isEmpty(), "not in 13 sentinels");
    SentinelAlarms.Row row = SentinelAlarms.table(List.of(13), List.of(1000)).get(0);
    assertEquals(List.of(0, 13, 4, 2), row.foundAfter());
    assertEquals(many, row.widening());
  }

  /** The rules themselves, on results drawn at random, with a known answer that was learned. */
  @ParameterizedTest
  @CsvSource({"13, 30, 0", "13, 30, 1.5", "13, 0, 0", "40, 30, 0", "5, 10, 2", "13, 100, -1"})
  void theProbabilityIsThatOfTheRules(int sentinels, int learned, double shift) {
    int campaigns = 20_000;
    long seed = 31;
    Random random = new Random(seed);
    double widening = SentinelAlarms.widening(sentinels, learned);
    int alarms = 0;
    for (int c = 0; c < campaigns; c++) {
      double sum = 0;
      double squares = 0;
      for (int i = 0; i < learned; i++) {
        double one = random.nextGaussian();
        sum += one;
        squares += one * one;
      }
      double mean = learned == 0 ? 0 : sum / learned;
      double sd = learned == 0 ? 1 : Math.sqrt((squares - sum * mean) / (learned - 1));
      List<Measured> measured = new ArrayList<>();
      for (int i = 0; i < sentinels; i++) {
        measured.add(new Measured(i, shift + random.nextGaussian()));
      }
      boolean alarm =
          new Sentinels(mean, sd, widening)
              .judge(measured).stream().anyMatch(p -> p.broken().isPresent());
      alarms += alarm ? 1 : 0;
    }
    double exact = SentinelAlarms.probability(sentinels, learned, widening, shift);
    double error = Math.sqrt(exact * (1 - exact) / campaigns);
    assertEquals(exact, alarms / (double) campaigns, 4 * error, "seed " + seed);
  }
}
