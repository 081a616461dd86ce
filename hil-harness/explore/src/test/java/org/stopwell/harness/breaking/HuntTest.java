package org.stopwell.harness.breaking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.breaking.Ingredient.Group;
import org.stopwell.harness.explore.Workers;

/** Searches whose smallest disturbance is known in closed form. */
class HuntTest {
  private static final Ingredient FEED = new Ingredient("feed", Group.HAND, false, false);
  private static final Ingredient LATENCY = new Ingredient("latency", Group.HAND, false, false);
  private static final Ingredient DRIFT = new Ingredient("drift", Group.NOISE, true, false);
  private static final Ingredient AT = new Ingredient("at", Group.FAULTS, false, true);
  private static final Ingredient FOR = new Ingredient("for", Group.FAULTS, false, false);

  private static final int STANDOFF = 500; // µm

  @TempDir Path dir;

  /** How far a file stays short of the foramen, µm. */
  private interface Clearance {
    double of(double[] shares);
  }

  private record Toy(List<Ingredient> ingredients, Clearance clearance) implements Arena {
    @Override
    public int clearance(double[] shares) {
      return (int) Math.floor(clearance.of(shares));
    }
  }

  private record Fields(Toy calm, List<Toy> faulty) implements Ground {
    @Override
    public Arena arena(int canal, int fault) {
      return fault == 0 ? calm : faulty.get(fault - 1);
    }

    @Override
    public int faults() {
      return faulty.size();
    }

    @Override
    public boolean hasMore() {
      return !calm.ingredients().isEmpty();
    }
  }

  /** A file that stops late by feed × latency; feed 0.5 to 2 mm/s, latency 150 to 500 ms. */
  private static double late(double feed, double latency) {
    return STANDOFF - (500 + 1_500 * feed) * (0.15 + 0.35 * latency);
  }

  private Hunt.Catch hunt(Ground field, int starts, int jobs) {
    Hunt.Watcher nobody =
        new Hunt.Watcher() {
          @Override
          public void planned(int parts) {}

          @Override
          public void ended() {}

          @Override
          public void found(Found found) {}
        };
    try (Workers workers = new Workers(jobs)) {
      BreakState state = new BreakState(Files.createTempDirectory(dir, "hunt"), "toy");
      return new Hunt(field, new Hunt.Effort(2, starts, 100, 7), workers, state, nobody).hunt();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Ground calm(List<Ingredient> ingredients, Clearance clearance) {
    return new Fields(new Toy(ingredients, clearance), List.of());
  }

  /** With a latency of 0.4 s a file passes above 1.25 mm/s: half of the way from 0.5 to 2. */
  @Test
  void theLeastFeedIsFound() {
    Ground field = calm(List.of(FEED), u -> STANDOFF - (500 + 1_500 * u[0]) * 0.4);
    Hunt.Catch caught = hunt(field, 4, 2);

    assertEquals(0.5, caught.smallest().orElseThrow().size(), 0.5 * 0.02);
    assertEquals(0.5, caught.alone().get(0).shares().orElseThrow().size(), 0.5 * 0.02);
  }

  /**
   * Least u + v with (0.5 + 1.5 u)(0.15 + 0.35 v) = 0.5: at the minimum both factors divided by
   * their slopes are equal, k = √(0.5 / (1.5 · 0.35)). Neither is enough alone.
   */
  @Test
  void theLeastSumOfFeedAndLatencyIsFound() {
    double k = Math.sqrt(0.5 / (1.5 * 0.35));
    double least = k - 0.5 / 1.5 + k - 0.15 / 0.35;
    Hunt.Catch caught = hunt(calm(List.of(FEED, LATENCY), u -> late(u[0], u[1])), 12, 2);

    assertEquals(least, caught.smallest().orElseThrow().size(), least * 0.02);
    assertTrue(caught.alone().stream().allMatch(a -> a.shares().isEmpty()));
  }

  /** Of two straight ways the steeper one alone is the least sum: 0.4 / 0.8 against 0.4 / 0.5. */
  @Test
  void oneIngredientIsBetterThanTwoWhereItActsMore() {
    Ground field =
        calm(List.of(FEED, LATENCY, DRIFT), u -> 400 - 500 * u[0] - 800 * u[1] + 100 * u[2]);
    Found found = hunt(field, 12, 2).smallest().orElseThrow();

    assertEquals(0.5, found.size(), 0.5 * 0.02);
    assertEquals(List.of(0.0, 0.0), List.of(found.shares().get(0), found.shares().get(2)));
  }

  @Test
  void theDirectionOfADriftIsFound() {
    Found found =
        hunt(calm(List.of(DRIFT), u -> 300 + 1_000 * u[0]), 4, 1).smallest().orElseThrow();

    assertEquals(-0.3, found.shares().get(0), 0.3 * 0.02);
  }

  /** A fault matters only while it covers the moment 0.7, and must last for a tenth. */
  @Test
  void theTimeOfAFaultIsFound() {
    Clearance covered =
        u -> {
          double gap = Math.max(0, Math.max(u[1] - 0.7, 0.7 - u[1] - 0.5 * u[2]));
          return 500 - 300 * Math.min(1, u[0]) - 2_500 * Math.min(0.1, u[2]) + 1_000 * gap;
        };
    Ground field =
        new Fields(
            new Toy(List.of(FEED), u -> 500 - 300 * u[0]),
            List.of(new Toy(List.of(FEED, AT, FOR), covered)));
    Hunt.Catch caught = hunt(field, 16, 2);
    Found found = caught.smallest().orElseThrow();

    assertEquals(1, found.fault());
    assertEquals(0.1 + 250 / 300.0, found.size(), 0.03);
    double start = found.shares().get(1);
    assertTrue(start <= 0.7 && start + 0.5 * found.shares().get(2) >= 0.69, "start " + start);
    assertTrue(caught.alone().get(0).shares().isEmpty());
  }

  @Test
  void nothingIsFoundWhereTheFileStopsFarAway() {
    AtomicInteger trials = new AtomicInteger();
    Ground field =
        calm(
            List.of(FEED, LATENCY),
            u -> {
              trials.incrementAndGet();
              return 2_000 + late(u[0], u[1]);
            });
    Hunt.Catch caught = hunt(field, 6, 2);

    assertTrue(caught.smallest().isEmpty());
    assertEquals(1_500, caught.nearest(), 20);
    assertTrue(trials.get() > 300, trials + " trials");
  }

  @Test
  void whatPassesUndisturbedNeedsNoDisturbance() {
    Found found = hunt(calm(List.of(FEED), u -> -1), 3, 1).smallest().orElseThrow();

    assertEquals(0, found.size());
  }

  /** Canal 0 passes by itself; the others need half of the limit. */
  @Test
  void canalsThatPassUndisturbedAreCountedAndTheOthersSearched() {
    Toy calm = new Toy(List.of(FEED), u -> STANDOFF - (500 + 1_500 * u[0]) * 0.4);
    Toy past = new Toy(List.of(FEED), u -> -1);
    Ground field =
        new Ground() {
          @Override
          public Arena arena(int canal, int fault) {
            return canal == 0 ? past : calm;
          }

          @Override
          public int faults() {
            return 0;
          }

          @Override
          public boolean hasMore() {
            return true;
          }
        };
    Hunt.Catch caught = hunt(field, 3, 2);

    assertEquals(0.5, caught.smallest().orElseThrow().size(), 0.5 * 0.02);
    assertEquals(List.of(4, 1), List.of(caught.looked(), caught.undisturbed()));
  }

  /** Pecks of half of the limit pass; the limit itself does not. */
  @Test
  void anIngredientAloneIsTriedBelowItsLimitToo() {
    Hunt.Catch caught = hunt(calm(List.of(FEED), u -> u[0] > 0.4 && u[0] < 0.6 ? -1 : 100), 1, 1);

    assertEquals(0.4, caught.alone().get(0).shares().orElseThrow().size(), 0.4 * 0.02);
  }

  @Test
  void theNumberOfJobsChangesNothing() {
    Ground field =
        new Fields(
            new Toy(List.of(FEED, LATENCY, DRIFT), u -> late(u[0], u[1]) + 60 * u[2]),
            List.of(
                new Toy(List.of(FEED, AT, FOR), u -> late(u[0], 0) - 300 * u[2] * u[1]),
                new Toy(List.of(FEED, AT, FOR), u -> late(u[0], 0) - 100 * u[2])));
    Hunt.Catch one = hunt(field, 9, 1);

    assertEquals(one, hunt(field, 9, 2));
    assertEquals(one, hunt(field, 9, 5));
  }

  /** Every ingredient that is left is needed, and 0.95 of the disturbance is not enough. */
  @Test
  void whatIsLeftIsNeeded() {
    Toy toy =
        new Toy(
            List.of(FEED, LATENCY, DRIFT, new Ingredient("idle", Group.HAND, false, false)),
            u -> late(u[0], u[1]) + 150 * u[2]);
    Shrink shrink = new Shrink(toy);
    double[] least = shrink.least(new double[] {0.9, 0.8, -0.9, 0.7});

    assertTrue(toy.isPast(least));
    assertEquals(0, least[3]);
    assertFalse(toy.isPast(shrink.scaled(least, Shrink.BELOW)));
    for (int i = 0; i < 3; i++) {
      double[] without = least.clone();
      without[i] = 0;
      assertTrue(least[i] == 0 || !toy.isPast(without), "ingredient " + i);
    }
  }

  /** Below a gap there may be smaller over-travels; the shrinking goes through small gaps. */
  @Test
  void aSmallGapDoesNotEndTheShrinking() {
    Toy toy = new Toy(List.of(FEED), u -> u[0] > 0.3 && !(u[0] > 0.6 && u[0] < 0.605) ? -1 : 1);

    assertEquals(0.3, new Shrink(toy).least(new double[] {0.61})[0], 0.01);
  }
}
