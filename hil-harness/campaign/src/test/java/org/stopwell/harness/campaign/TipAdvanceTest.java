package org.stopwell.harness.campaign;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.IntPredicate;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.calibration.Attendant;
import org.stopwell.rig.device.TipSeen;
import org.stopwell.rig.random.RandomStream;

/** The advance after a stop, with a simulated stage and a simulated observer. */
class TipAdvanceTest {
  private static final int BEGIN = 7_000;

  private final List<String> heard = new ArrayList<>();

  /** An observer who sees the tip once the file has gone far enough. */
  private Attendant observer(Stage stage, IntPredicate shows) {
    return new Attendant() {
      @Override
      public void tell(String text) {
        heard.add(text);
      }

      @Override
      public Optional<String> answer(Question question) {
        return Optional.of(shows.test(stage.place - BEGIN) ? "y" : "n");
      }
    };
  }

  /** A measured length may be wrong by much: the advance does not depend on it. */
  @Test
  void theDistanceAtRestIsWithinItsStatedUncertainty() throws Exception {
    RandomStream random = RandomStream.of(26, "observer");
    int within = 0;
    int trials = 2_000;
    double sum = 0;
    for (int i = 0; i < trials; i++) {
      int rest = (int) random.nextBetween(0, 1_200);
      int expected = rest + (int) (80 * random.nextGaussian());
      double eye = TipSeen.OBSERVER_MICRONS * random.nextGaussian();
      double scale = 5 * random.nextGaussian();
      Stage stage = new Stage();
      Optional<TipSeen> tip =
          TipAdvance.ask(stage, observer(stage, way -> way + scale >= rest + eye), expected);
      assertTrue(tip.isPresent(), rest + " " + expected + heard);
      int off = tip.get().microns() - rest;
      sum += off;
      within += Math.abs(off) <= tip.get().boundMicrons() ? 1 : 0;
    }
    assertTrue(within >= 0.93 * trials, within + " of " + trials);
    assertTrue(within <= 0.995 * trials, "the stated uncertainty is not too large: " + within);
    assertEquals(0, sum / trials, 2, "no bias");
  }

  @Test
  void aTipThatShowsTooEarlyOrNeverIsNotADistance() throws Exception {
    Stage stage = new Stage();
    assertEquals(Optional.empty(), TipAdvance.ask(stage, observer(stage, way -> true), 900));
    assertTrue(heard.get(0).contains("Check the measured length of the tooth"), heard.get(0));
    Stage other = new Stage();
    assertEquals(Optional.empty(), TipAdvance.ask(other, observer(other, way -> false), 100));
    assertTrue(heard.get(1).contains("did not show within 1.5 mm"), heard.get(1));
    assertTrue(other.place - BEGIN <= 1_600, "it goes no farther: " + other.place);
    Stage third = new Stage();
    assertEquals(Optional.empty(), TipAdvance.ask(third, Attendant.NOBODY, 100));
  }

  @Test
  void aTipThatShowsAtOnceRestsAtTheForamen() throws Exception {
    Stage stage = new Stage();
    TipSeen tip = TipAdvance.ask(stage, observer(stage, way -> true), -40).orElseThrow();
    assertEquals(0, tip.microns());
    assertEquals(BEGIN, stage.place, "the file did not move");
  }

  private static final class Stage implements LinearStage {
    private int place = BEGIN;

    @Override
    public Status home() {
      place = 0;
      return status();
    }

    @Override
    public Status moveTo(int positionMicrons, int micronsPerSecond) {
      assertTrue(micronsPerSecond <= 500, "slow");
      place = positionMicrons;
      return status();
    }

    @Override
    public Status setOut(int positionMicrons, int micronsPerSecond) {
      return moveTo(positionMicrons, micronsPerSecond);
    }

    @Override
    public Status stop() {
      return status();
    }

    @Override
    public Status status() {
      return new Status(false, true, place, 0, 60_000, 10_000, "RESTING");
    }
  }
}
