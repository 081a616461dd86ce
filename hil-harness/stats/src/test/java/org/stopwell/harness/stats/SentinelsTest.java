package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.stats.Sentinels.Measured;
import org.stopwell.harness.stats.Sentinels.Point;
import org.stopwell.harness.stats.Sentinels.Rule;

class SentinelsTest {
  private static final Sentinels RIG = new Sentinels(500, 10);

  /** Distances in standard deviations; each rule is the first to break at the last of them. */
  @ParameterizedTest
  @CsvSource({
    "ONE_BEYOND_3S, 0.1 3.1",
    "ONE_BEYOND_3S, -3.1",
    "TWO_BEYOND_2S, 0.5 2.1 2.2",
    "RANGE_OF_4S, -2.1 2.1",
    "FOUR_BEYOND_1S, -0.2 1.1 1.2 1.9 1.1",
    "TEN_ON_ONE_SIDE, 0.1 0.2 0.3 0.1 0.5 0.9 0.2 0.3 0.4 0.1",
  })
  void eachRuleOfTheMultirule(Rule rule, String distances) {
    List<Point> points = RIG.judge(measured(distances));
    assertEquals(Optional.of(rule), points.get(points.size() - 1).broken());
    assertEquals(1, points.stream().filter(p -> p.broken().isPresent()).count());
  }

  @ParameterizedTest
  @CsvSource({"2.9", "2.1 -1.9 2.1", "1.1 1.2 1.3 0.9 1.1 1.2 -0.1", "1.9 1.9 1.9"})
  void aSoundRigIsLeftAlone(String distances) {
    RIG.judge(measured(distances)).forEach(p -> assertEquals(Optional.empty(), p.broken()));
  }

  @Test
  void aWideningMovesEveryLimitOutwardsByTheSameDistance() {
    Sentinels wide = new Sentinels(500, 10, 0.5);
    for (String good : List.of("3.4", "2.4 2.4", "1.4 1.4 1.4 1.4", "-2.4 2.6")) {
      assertTrue(
          wide.judge(measured(good)).stream().allMatch(p -> p.broken().isEmpty()), "good: " + good);
    }
    for (String bad : List.of("3.6", "2.6 2.6", "1.6 1.6 1.6 1.6", "-2.6 2.6")) {
      assertTrue(
          wide.judge(measured(bad)).stream().anyMatch(p -> p.broken().isPresent()), "bad: " + bad);
    }
    assertEquals("four in a row beyond 1.5 SD on one side", wide.text(Rule.FOUR_BEYOND_1S));
    assertEquals("ten in a row on one side", RIG.text(Rule.TEN_ON_ONE_SIDE));
    assertThrows(IllegalArgumentException.class, () -> new Sentinels(500, 10, -0.1));
    assertThrows(IllegalArgumentException.class, () -> new Sentinels(500, 10, Double.NaN));
  }

  @Test
  void aBadSentinelInvalidatesBackToTheLastGoodOne() {
    // Sentinels at trials 0, 10, 20 …; the third is bad.
    List<int[]> invalid = Sentinels.invalid(RIG.judge(measured("0.1 -0.4 3.5 0.2")));
    assertEquals(1, invalid.size());
    assertArrayEquals(new int[] {11, 20}, invalid.get(0));
  }

  @Test
  void soundRigsAreStoppedSeldomAndShiftedOnesSoon() {
    long seed = 8;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    int falseAlarms = 0;
    int caught = 0;
    for (int run = 0; run < 2000; run++) {
      List<Measured> sound = new ArrayList<>();
      List<Measured> shifted = new ArrayList<>();
      for (int i = 0; i < 10; i++) {
        sound.add(new Measured(i, 500 + 10 * random.nextGaussian()));
        shifted.add(new Measured(i, 525 + 10 * random.nextGaussian()));
      }
      falseAlarms += RIG.judge(sound).stream().anyMatch(p -> p.broken().isPresent()) ? 1 : 0;
      caught += RIG.judge(shifted).stream().anyMatch(p -> p.broken().isPresent()) ? 1 : 0;
    }
    assertEquals(0.06, falseAlarms / 2000.0, 0.04, "false alarms in ten sentinels");
    assertEquals(1, caught / 2000.0, 0.01, "a shift of 2.5 standard deviations");
  }

  @Test
  void aRigWithoutSpreadCannotBeJudged() {
    assertThrows(IllegalArgumentException.class, () -> new Sentinels(500, 0));
    assertThrows(IllegalArgumentException.class, () -> new Sentinels(500, Double.NaN));
  }

  private static List<Measured> measured(String distances) {
    List<Measured> measured = new ArrayList<>();
    for (String z : distances.split(" ", -1)) {
      measured.add(new Measured(10 * measured.size(), 500 + 10 * Double.parseDouble(z)));
    }
    return measured;
  }
}
