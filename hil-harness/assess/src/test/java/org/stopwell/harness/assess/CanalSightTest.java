package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.assess.CanalSight.Feed;
import org.stopwell.harness.assess.CanalSight.Pass;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

class CanalSightTest {
  private static final long SEED = 890_011;

  /** From one state to the next. */
  private static final int MOVES = 2;

  private static CanalSight sight(int index, Feed feed, int readings, boolean byChance) {
    return sight(index, List.of(new Pass(Fill.BRIMFUL, readings, 0.2, 64, feed)), byChance);
  }

  private static CanalSight sight(int index, List<Pass> passes, boolean byChance) {
    try {
      Scene scene = new Population(SEED).member(index, Fill.BRIMFUL, Training.FREQUENCIES);
      RandomStream random = RandomStream.of(scene.seed(), "sight");
      return new CanalSight(scene, passes, 0, 3, byChance, random);
    } catch (SettingsException e) {
      throw new IllegalStateException(e);
    }
  }

  /** One look from higher up tells the slopes of all ways: those of making each a little longer. */
  @Test
  void theSlopesOfTheWaysAreThoseOfLongerWays() {
    Pass before = new Pass(Fill.BRIMFUL, 5, 0.2, 64, Feed.UNEVEN);
    for (int index = 0; index < 6; index++) {
      CanalSight sight = sight(index, List.of(before, before), index % 2 == 1);
      double[] truth = sight.truth();
      double[] seen = sight.see(truth);
      double[][] slopes = sight.slopes(truth, seen);
      for (int p = 0; p < truth.length; p++) {
        double[] expected = sight.slope(truth, seen, p);
        for (int i = 0; i < seen.length; i++) {
          double error = 0.01 + 0.003 * Math.abs(expected[i]);
          assertEquals(expected[i], slopes[p][i], error, "canal " + index + ", unknown " + p);
        }
      }
    }
  }

  /**
   * How much is left open of the place where the readings are bent little: the first of (1 +
   * JᵀJ)⁻¹.
   */
  private static double openMm(CanalSight sight, double[] at, int unknowns) {
    double[][] slopes = sight.slopes(at, sight.see(at));
    double[][] metric = new double[unknowns][unknowns];
    for (int p = 0; p < unknowns; p++) {
      for (int q = 0; q < unknowns; q++) {
        metric[p][q] = p == q ? 1 : 0;
        for (int i = 0; i < slopes[p].length; i++) {
          metric[p][q] += slopes[p][i] * slopes[q][i];
        }
      }
    }
    double variance = InformationBound.firstOfInverse(metric);
    double[] further = at.clone();
    further[0] += 1e-4;
    return StrictMath.sqrt(variance) * (sight.placeMm(further) - sight.placeMm(at)) / 1e-4;
  }

  /** Who knows less of the same canal is left with more. */
  @Test
  void unevenFeedAndUnknownNetworkLeaveMoreOpen() {
    for (int index = 0; index < 10; index++) {
      int known = sight(index, Feed.EVEN, 8, false).truth().length;
      CanalSight bench = sight(index, Feed.UNEVEN, 8, false);
      double[] at = bench.truth();
      Arrays.fill(at, known, at.length, 0);
      double even = openMm(sight(index, Feed.EVEN, 8, false), Arrays.copyOf(at, known), known);
      double uneven = openMm(bench, at, at.length);
      CanalSight byChance = sight(index, Feed.UNEVEN, 8, true);
      double[] there = byChance.truth();
      double network = openMm(byChance, there, at.length);
      double byChanceMm = openMm(byChance, there, there.length);
      System.out.printf(
          Locale.ROOT,
          "seed %d, canal %d: even %.3f mm, uneven %.3f mm; network known %.3f mm, by chance %.3f"
              + " mm%n",
          SEED,
          index,
          even,
          uneven,
          network,
          byChanceMm);
      assertTrue(uneven > even);
      assertTrue(byChanceMm > network);
    }
  }

  /** A way is that from one reading to the next: what lies deeper does not see it. */
  @Test
  void aLongerWayMovesTheReadingsAboveItAlone() {
    int readings = 6;
    CanalSight even = sight(0, Feed.EVEN, readings, false);
    CanalSight uneven = sight(0, Feed.UNEVEN, readings, false);
    int ways = readings - 1;
    double[] truth = uneven.truth();
    assertEquals(even.truth().length + ways, truth.length);
    double[] seen = uneven.see(truth);
    int numbers = seen.length / readings;
    for (int way = 0; way < ways; way++) {
      double[] longer = truth.clone();
      longer[truth.length - ways + way] += 0.5;
      double[] then = uneven.see(longer);
      for (int reading = 0; reading < readings; reading++) {
        // readings begin with the highest, ways with the deepest
        boolean above = reading < readings - 1 - way;
        assertEquals(above, then[numbers * reading] != seen[numbers * reading]);
      }
    }
  }

  /** With every way of middle length an uneven feed is an even one. */
  @Test
  void waysOfMiddleLengthAreThoseOfAnEvenFeed() {
    double[] even = sight(1, Feed.EVEN, 4, false).truth();
    double[] truth = Arrays.copyOf(even, even.length + 3);
    double[] expected = sight(1, Feed.EVEN, 4, false).see(even);
    double[] seen = sight(1, Feed.UNEVEN, 4, false).see(truth);
    for (int i = 0; i < seen.length; i++) {
      assertEquals(expected[i], seen[i], 1e-9 * Math.abs(expected[i]));
    }
  }

  /**
   * The true state has no mark among the states of its chain, as in {@link TruthChainTest}, but
   * here with canals, uneven feeds and networks drawn by chance. A chain so long is slow: where it
   * begins is at its edge more often than not. So the true state gets a place by lot in a chain
   * that goes on from it to both sides. Five places in the order.
   */
  @Test
  void theTrueCanalIsNowhereMoreOftenThanAnyOther() {
    int[] places = new int[5];
    int[] ways = new int[5];
    int canals = 80;
    int moved = 0;
    for (int k = 0; k < canals; k++) {
      CanalSight sight = sight(k, Feed.UNEVEN, 3, true);
      RandomStream random = RandomStream.of(SEED + k, "rank");
      double[] truth = sight.truth();
      double[] seen = sight.see(truth);
      for (int i = 0; i < seen.length; i++) {
        seen[i] += random.nextGaussian();
      }
      int before = (int) (places.length * random.nextDouble());
      int place = 0;
      int way = 0;
      // the ways stand behind what is unknown with an even feed, the network behind them
      int first = sight(k, Feed.EVEN, 3, false).truth().length;
      TruthChain chain = new TruthChain(sight, truth, seen, random);
      for (int state = 1; state < places.length; state++) {
        if (state - 1 == before) {
          moved += chain.obeyed();
          chain = new TruthChain(sight, truth, seen, random);
        }
        for (int move = 0; move < MOVES; move++) {
          chain.move();
        }
        double[] there = chain.scores();
        boolean coin = random.nextDouble() < 0.5;
        place += there[0] < truth[0] || (there[0] == truth[0] && coin) ? 1 : 0;
        way += there[first] < truth[first] || (there[first] == truth[first] && coin) ? 1 : 0;
      }
      places[place]++;
      ways[way]++;
      moved += chain.obeyed();
    }
    System.out.printf(
        "seed %d: %s, %s, %d%n", SEED, Arrays.toString(places), Arrays.toString(ways), moved);
    assertTrue(moved > 0.2 * (places.length - 1) * MOVES * canals, "the chain hardly moves");
    // 0.1 % of the chi-square distribution with four degrees of freedom, handbook table
    assertTrue(square(places) < 18.47, "place: chi-square " + square(places));
    assertTrue(square(ways) < 18.47, "way: chi-square " + square(ways));
  }

  private static double square(int[] counts) {
    double expected = (double) Arrays.stream(counts).sum() / counts.length;
    double square = 0;
    for (int count : counts) {
      square += (count - expected) * (count - expected) / expected;
    }
    return square;
  }
}
