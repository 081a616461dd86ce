package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.random.RandomStream;

class LadderDesignTest {
  /**
   * Exact resistors and switches in ones: the doubling ladder 1, 2, 4, 8 reaches every whole ohm.
   */
  @Test
  void withoutTolerancesEachValueIsAtMostTwiceTheSumBeforeIt() {
    Ladder ladder = new Ladder(List.of(rung(1), rung(2), rung(4), rung(8)));
    for (int ohms = 0; ohms < 16; ohms++) {
      assertEquals(ohms, ladder.codeFor(ohms));
      assertEquals(ohms, ladder.ohms(ohms));
    }
    assertEquals(1, ladder.widestGapOhms());
  }

  /** Opening the switch across 100 Ω with 1 Ω on and 10 kΩ off: 100·10000/10100 − 100/101. */
  @Test
  void theSwitchBelongsToItsResistor() {
    Rung rung = new Rung(100, 1, 10_000);
    assertEquals(99.00990099009901, rung.inLine(), 1e-12);
    assertEquals(0.9900990099009901, rung.bridged(), 1e-12);
  }

  @ParameterizedTest
  @CsvSource({"30, 70000, E96, 0.01", "30, 70000, E24, 0.05", "5, 20000, E96, 0.01"})
  void noToleranceOpensAGapWiderThanTheStep(
      double step, double reach, ESeries series, double tolerance) {
    LadderDesign design = LadderDesign.choose(step, reach, series, tolerance, SwitchSpec.RELAY);
    for (long seed = 0; seed < 12; seed++) {
      RandomStream random = RandomStream.of(seed, "ladder");
      Ladder built = design.built(nominal -> random.nextBetween(-1, 1));
      assertGapFree(design, built, reach, "seed " + seed);
    }
    for (int corner = 0; corner < 16; corner++) {
      int pattern = corner;
      int[] next = {0};
      Ladder built = design.built(nominal -> (pattern >> next[0]++ % 4 & 1) == 1 ? 1 : -1);
      assertGapFree(design, built, reach, "corner " + corner);
    }
  }

  private static void assertGapFree(LadderDesign d, Ladder built, double reach, String what) {
    double gap = built.widestGapOhms();
    assertTrue(gap <= d.stepOhms() * (1 + 1e-9), what + ": gap " + gap + " Ω");
    assertTrue(built.mostOhms() >= reach, what + ": reaches " + built.mostOhms() + " Ω");
  }

  @Test
  void theBestCodeIsBetterThanAnyOther() {
    LadderDesign design = LadderDesign.choose(100, 5000, ESeries.E24, 0.05, SwitchSpec.RELAY);
    RandomStream random = RandomStream.of(3, "codes");
    Ladder built = design.built(nominal -> random.nextBetween(-1, 1));
    for (int i = 0; i < 500; i++) {
      double wanted = random.nextBetween(-50, 6000);
      double error = Math.abs(built.ohms(built.codeFor(wanted)) - wanted);
      for (int code = 0; code < 1 << built.rungs().size(); code++) {
        assertTrue(error <= Math.abs(built.ohms(code) - wanted) + 1e-9, "seed 3, " + wanted);
      }
    }
  }

  @Test
  void theBillCountsEveryValue() {
    LadderDesign design = LadderDesign.choose(30, 70_000, ESeries.E96, 0.01, SwitchSpec.RELAY);
    assertEquals(
        design.nominalOhms().size(),
        design.bill().values().stream().mapToInt(Integer::intValue).sum());
    for (double value : design.nominalOhms()) {
      assertEquals(value, ESeries.E96.nearest(value));
    }
  }

  @Test
  void whatCannotBeBuiltIsRefusedWithItsNumbers() {
    IllegalArgumentException e =
        assertThrows(
            IllegalArgumentException.class,
            () -> LadderDesign.choose(0.001, 1e6, ESeries.E6, 0.2, SwitchSpec.RELAY));
    assertTrue(e.toString().contains("more than 18 resistors"), e.toString());
    assertThrows(
        IllegalArgumentException.class,
        () -> LadderDesign.choose(0, 100, ESeries.E24, 0.01, SwitchSpec.RELAY));
    assertThrows(IllegalArgumentException.class, () -> new SwitchSpec(1, 0.5, 100));
  }

  private static Rung rung(double ohms) {
    return new Rung(ohms, 0, Double.POSITIVE_INFINITY);
  }
}
