package org.stopwell.harness.assess;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Specimen;

/** Pictures of what the estimate has to work with, and of what came out. All simulated. */
final class Pictures {
  private static final double DEEPEST_MM = -0.5;
  private static final double SHALLOWEST_MM = 4;
  private static final int POINTS = 91;

  /** More trials than this make a drawing heavy and no clearer: every so many are drawn. */
  private static final int MOST_DRAWN = 2000;

  private final Population population;

  Pictures(long seed) {
    population = new Population(seed);
  }

  /** Impedance against distance, one line per fluid. */
  String fluids() throws SettingsException {
    Chart chart =
        new Chart(
            "Impedance at 7 kHz on the way down, one canal, four fluids (simulated)",
            "distance to the foramen, mm",
            SHALLOWEST_MM,
            DEEPEST_MM,
            "impedance, kΩ",
            1,
            300,
            true);
    chart.yTicks(1, 3, 10, 30, 100, 300);
    chart.xTicks(4, 3, 2, 1, 0);
    String[][] fluids = {
      {"0.05", "tap water"}, {"0.4", "0.4 S/m"}, {"1.6", "saline"}, {"5.5", "hypochlorite"}
    };
    for (int i = 0; i < fluids.length; i++) {
      Scene scene =
          population.member(
              0,
              Fill.HALF_WET,
              with(Map.of("fluid", Map.of("conductivity_s_per_m", fluids[i][0]))));
      Specimen specimen = new Specimen(scene);
      double[] x = new double[POINTS];
      double[] y = new double[POINTS];
      for (int k = 0; k < POINTS; k++) {
        x[k] = SHALLOWEST_MM - k * (SHALLOWEST_MM - DEEPEST_MM) / (POINTS - 1);
        MeasuringCircuit circuit = specimen.at(x[k] * 1e-3);
        y[k] = 1e-3 * StrictMath.hypot(circuit.ohmsRe(2), circuit.ohmsIm(2));
      }
      chart.line(i, 2, x, y);
      chart.legend(i, fluids[i][1]);
    }
    return chart.svg();
  }

  /** Where readings lie, and how a leak leads away from there. */
  String manifold() throws SettingsException {
    Chart chart =
        new Chart(
            "Readings of 60 canals from 3 to 0 mm, and one at 1 mm with a growing leak (simulated)",
            "magnitude at 20 kHz over magnitude at 300 Hz",
            1,
            0.1,
            "phase at 1.5 kHz, degrees",
            0,
            -30,
            false);
    chart.xTicks(1, 0.8, 0.6, 0.4, 0.2);
    chart.yTicks(0, -10, -20, -30);
    for (int i = 0; i < 60; i++) {
      Specimen specimen = new Specimen(population.member(i, Fill.HALF_WET, with(Map.of())));
      double[] x = new double[31];
      double[] y = new double[31];
      for (int k = 0; k <= 30; k++) {
        place(specimen.at((3 - 0.1 * k) * 1e-3), x, y, k);
      }
      chart.line(4, 0.7, x, y);
    }
    double[] x = new double[25];
    double[] y = new double[25];
    for (int k = 0; k < x.length; k++) {
      String ohms = Long.toString(Math.round(200_000 * StrictMath.pow(0.75, k)));
      Scene scene =
          population.member(0, Fill.FLOODED, with(Map.of("fluid", Map.of("leak_ohm", ohms))));
      place(new Specimen(scene).at(1e-3), x, y, k);
    }
    chart.line(1, 3, x, y);
    chart.legend(4, "half-wet canals");
    chart.legend(1, "leak: 200 kΩ to 200 Ω");
    return chart.svg();
  }

  private static void place(MeasuringCircuit circuit, double[] x, double[] y, int k) {
    x[k] =
        StrictMath.hypot(circuit.ohmsRe(3), circuit.ohmsIm(3))
            / StrictMath.hypot(circuit.ohmsRe(0), circuit.ohmsIm(0));
    y[k] = StrictMath.toDegrees(StrictMath.atan2(circuit.ohmsIm(1), circuit.ohmsRe(1)));
  }

  /** Error against leak, with the limits of trust. */
  static String leaks(List<Outcome> outcomes, double sureMm, double refuseMm) {
    int every = Math.max(1, (outcomes.size() + MOST_DRAWN - 1) / MOST_DRAWN);
    Chart chart =
        new Chart(
            "Error and standard error of the stop against the leak, approach, "
                + (every == 1 ? "all" : "one in " + every)
                + " trials (simulated)",
            "conductance around the canal, µS",
            0,
            1000,
            "mm",
            0,
            1.2,
            false);
    chart.xTicks(0, 200, 400, 600, 800, 1000);
    chart.yTicks(0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2);
    for (int i = 0; i < outcomes.size(); i += every) {
      Outcome o = outcomes.get(i);
      if (o.stopped()) {
        chart.dot(0, o.leakMicroSiemens(), Math.abs(o.errorMicrons()) * 1e-3);
        chart.dot(1, o.leakMicroSiemens(), o.standardErrorMicrons() * 1e-3);
      } else {
        chart.dot(2, o.leakMicroSiemens(), 1.2);
      }
    }
    chart.limit(sureMm, "SURE below");
    chart.limit(refuseMm, "refused above");
    chart.legend(0, "error");
    chart.legend(1, "standard error");
    chart.legend(2, "refused");
    return chart.svg();
  }

  private static Map<String, Map<String, String>> with(Map<String, Map<String, String>> more) {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    all.putAll(more);
    return all;
  }
}
