package org.stopwell.harness.budget;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.network.Pair;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.virtual.ToothSteps;

/** What capacitors that are off make of a stop, where a network of them stands for a tooth. */
class CapacitorBudgetTest {
  private static final int STANDOFF = 500;

  private static TrialSpec trial(String plan) throws Exception {
    return Plan.read(Source.of(TestPlans.file(plan))).trial(0);
  }

  /** With 20 pF too much: the place at which the right network shows that ratio. */
  @Test
  void aCapacitorThatIsOffMovesTheStopToWhereTheRatioIsTheSame() throws Exception {
    TrialSpec trial = trial("network-feed");
    double[] hertz = FrontEndSection.hertz(trial.scene().section("front_end"));
    StepTable table = ToothSteps.of(trial.scene());
    Pair here = table.at(STANDOFF * 1e-6);
    double off = 20e-12;
    double wrong = ratio(new Pair(here.ohms(), here.farads() + off), hertz);
    double low = -1e-3;
    double high = 2e-3;
    boolean rises = ratio(table.at(high), hertz) > ratio(table.at(low), hertz);
    for (int i = 0; i < 60; i++) {
      double middle = (low + high) / 2;
      if (ratio(table.at(middle), hertz) < wrong == rises) {
        low = middle;
      } else {
        high = middle;
      }
    }
    double moved = Math.abs(low * 1e6 - STANDOFF);
    assertTrue(moved > 1, moved + " µm");
    assertEquals(moved, 20 * StopBudget.micronsPerPicofarad(trial.scene(), STANDOFF), moved * 0.2);
  }

  @Test
  void onlyANetworkMakesCapacitorsALineOfTheBudget() throws Exception {
    Calibrations known =
        new Calibrations(
            "C-0001",
            List.of(
                new CalibrationRecord(
                    Quantity.CAPACITORS,
                    List.of(-2_000L, 1_000L, 3_000L),
                    "bridge",
                    "C-7",
                    500,
                    2_000,
                    LocalDate.of(2026, 3, 2),
                    LocalDate.of(2027, 3, 2),
                    21_000,
                    "OP-1",
                    false,
                    "")));
    TrialSpec network = trial("network-feed");
    UncertaintyBudget with = StopBudget.of(known, null, StopBudget.Basis.of(network));
    UncertaintyBudget without =
        StopBudget.of(new Calibrations("C-0001", List.of()), null, StopBudget.Basis.of(network));
    assertEquals(without.inputs().size() + 2, with.inputs().size());
    assertTrue(with.combined() > without.combined());
    // 2 + 1 + 3 pF, either way: a rectangle of that half width has u = 6 pF over the root of 3.
    double perPicofarad =
        StopBudget.micronsPerPicofarad(network.scene(), network.standoffMicrons());
    double squares = Math.pow(6 / Math.sqrt(3), 2) + Math.pow(3 * 0.25, 2);
    assertEquals(
        Math.sqrt(squares) * perPicofarad,
        Math.sqrt(Math.pow(with.combined(), 2) - Math.pow(without.combined(), 2)),
        1e-6 * with.combined());
    TrialSpec resistors = trial("resistor-network");
    assertEquals(
        StopBudget.of(new Calibrations("C-0001", List.of()), null, StopBudget.Basis.of(resistors))
            .inputs(),
        StopBudget.of(known, null, StopBudget.Basis.of(resistors)).inputs());
  }

  /** By complex impedances, not by the formula under test. */
  private static double ratio(Pair pair, double[] hertz) {
    return magnitude(pair, hertz[hertz.length - 1]) / magnitude(pair, hertz[0]);
  }

  private static double magnitude(Pair pair, double hertz) {
    double siemens = 2 * Math.PI * hertz * pair.farads();
    double real = 1 / pair.ohms();
    double squares = real * real + siemens * siemens;
    return new Impedance(real / squares, -siemens / squares).magnitude();
  }
}
