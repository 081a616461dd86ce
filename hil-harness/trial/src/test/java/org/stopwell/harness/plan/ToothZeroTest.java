package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.advice.PlanAdvice;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.random.RandomStream;

/** The true zero of a tooth: three readings by two observers, and how well they know it. */
class ToothZeroTest {
  private static final int ZEROS = 2_000;

  /** By hand: observers at 100 and 110, scatter 5 of both, so 25/6 + 10²/2 + 5²/12. */
  @Test
  void meanComponentsAndU95AreThoseOfTheGuide() {
    ToothZero zero =
        new ToothZero(Map.of("o1", List.of(95, 100, 105), "o2", List.of(105, 110, 115)), 10);
    assertEquals(105, zero.meanMicrons(), 1e-12);
    assertEquals(5, zero.withinMicrons(), 1e-12);
    assertEquals(10, zero.betweenMicrons(), 1e-12, "the readings show 6.5 µm, less than stated");
    assertEquals(Math.sqrt(25 / 6.0 + 50 + 25 / 12.0), zero.standardMicrons(), 1e-12);
    // u⁴ / ((25/6)² / 4) = 729 degrees of freedom, t = 1.9632
    assertEquals(1.9632 * zero.standardMicrons(), zero.expandedMicrons(), 1e-3);
    ToothZero apart =
        new ToothZero(Map.of("o1", List.of(100, 100, 100), "o2", List.of(160, 160, 160)), 10);
    assertEquals(60 / Math.sqrt(2), apart.betweenMicrons(), 1e-9, "more than stated counts");
  }

  @Test
  void theStatedIntervalHoldsTheTrueZeroOfSimulatedObservers() {
    for (int[] sd : new int[][] {{5, 5}, {8, 10}, {15, 20}, {3, 20}, {12, 3}}) {
      double covered = covered(sd[0], sd[1], sd[1]);
      assertTrue(covered >= 0.93, sd[0] + " and " + sd[1] + " µm: " + covered);
    }
    double understated = covered(3, 20, 1);
    assertTrue(
        understated < 0.93, "a spread of observers that is stated too small: " + understated);
  }

  /** Share of zeros whose interval holds the truth; readings in whole pixels of 5 µm. */
  private static double covered(int within, int between, int stated) {
    RandomStream stream = RandomStream.of(26, "zero " + within + " " + between + " " + stated);
    int held = 0;
    for (int i = 0; i < ZEROS; i++) {
      double truth = 200 * stream.nextDouble();
      Map<String, List<Integer>> readings = new LinkedHashMap<>();
      for (int o = 0; o < ToothZero.OBSERVERS; o++) {
        double bias = between * stream.nextGaussian();
        List<Integer> own = new ArrayList<>();
        for (int r = 0; r < ToothZero.READINGS; r++) {
          own.add(5 * (int) Math.rint((truth + bias + within * stream.nextGaussian()) / 5));
        }
        readings.put("o" + o, own);
      }
      ToothZero zero = new ToothZero(readings, stated);
      held += Math.abs(zero.meanMicrons() - truth) <= zero.expandedMicrons() ? 1 : 0;
    }
    return (double) held / ZEROS;
  }

  private static final String PLAN =
      """
      plan: 1
      name: teeth
      settings: ../settings/length.yaml
      stage: length
      trials: 1
      expect: survey
      scene:
        canal: {kind: tooth}
        fluid: {irrigant: saline_0.9, fill: flooded}
      teeth:
        - name: T01
          length_mm: 12.43
          uncertainty_mm: 0.04
          medium: agar
          observer_sd_um: 12
          zero_readings_um: {o1: [95, 100, 105], o2: [105, 110, 115]}
      """;

  @Test
  void aPlanHoldsTheReadingsOfATooth() throws PlanException {
    Plan plan = Plan.read(source(PLAN));
    assertEquals(105, plan.teeth().get(0).zero().orElseThrow().meanMicrons(), 1e-12);
    assertEquals(12, plan.teeth().get(0).zero().orElseThrow().observerMicrons());
    List<String> said = new ArrayList<>();
    PlanAdvice.of(plan, said::add);
    assertTrue(
        said.contains("  true zero read by two observers in 1 of 1 teeth; U95 18 to 18 µm"),
        said::toString);
  }

  @Test
  void whatIsWrongWithAZero() {
    assertEquals(
        List.of(
            "16: teeth.zero_readings_um: U95 of the zero is 100.0 µm, at most 50 µm is allowed: 5.0 µm"
                + " between readings, 72.1 µm between observers; read it again"),
        mistakes(PLAN.replace("[105, 110, 115]", "[197, 202, 207]")));
    assertEquals(
        List.of(
            "16: teeth.zero_readings_um: 3 observers, must be 2",
            "16: teeth.zero_readings_um.o1: 2 readings, must be 3",
            "16: teeth.zero_readings_um.o1: 1.5 is not a whole number from -30000 to 30000 µm",
            "16: teeth.zero_readings_um.o2: 0 readings, must be 3",
            "16: teeth.zero_readings_um.o 3: \"o 3\" is not a code: letters, digits and . _ + -, at"
                + " most 40",
            "16: teeth.zero_readings_um.o 3: 40000 is not a whole number from -30000 to 30000 µm"),
        mistakes(PLAN.replaceAll("\\{o1.*", "{o1: [1.5, 2], o2: none, o 3: [40000, 1, 2]}")));
    assertEquals(
        List.of("15: teeth.observer_sd_um: has no effect without zero_readings_um; remove it"),
        mistakes(PLAN.replaceAll("(?m)^ *zero_readings.*\\n", "")));
  }

  private static Source source(String text) {
    return new Source(TestPlans.root().resolve("docs/plans/zero.yaml").toString(), text);
  }

  private static List<String> mistakes(String text) {
    PlanException e = assertThrows(PlanException.class, () -> Plan.read(source(text)));
    return e.mistakes().stream().map(m -> m.line() + ": " + m.key() + ": " + m.message()).toList();
  }
}
