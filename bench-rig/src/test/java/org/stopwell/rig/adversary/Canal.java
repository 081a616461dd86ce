package org.stopwell.rig.adversary;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.virtual.Specimen;

/**
 * A half-wet canal of the virtual bench at rest, as a table of impedances over the place of the
 * tip: fast enough for thousands of runs in a second. Its curve is its own, so nothing but what the
 * adversary does makes a reading wrong.
 */
final class Canal {
  /** Deepest and shallowest place, and the step of the table, µm. */
  static final int DEEPEST = -3_000;

  static final int SHALLOWEST = 9_000;
  private static final int STEP = 50;

  /** Where the fluid ends, µm above the foramen. */
  static final int LEVEL = 8_000;

  private static final int CURVE_STEP = 125;
  private static final int CURVE_DEEPEST = -1_000;
  private static final int CURVE_SHALLOWEST = 6_000;

  final int[] hertz;
  private final double[] ohms;

  Canal(int... hertz) {
    this.hertz = hertz.clone();
    ohms = new double[((SHALLOWEST - DEEPEST) / STEP + 1) * 2 * hertz.length];
    Scene scene = scene(hertz);
    int at = 0;
    for (int microns = DEEPEST; microns <= SHALLOWEST; microns += STEP) {
      MeasuringCircuit circuit = new Specimen(scene).at(microns * 1e-6);
      for (int i = 0; i < hertz.length; i++) {
        ohms[at++] = circuit.ohmsRe(i);
        ohms[at++] = circuit.ohmsIm(i);
      }
    }
  }

  private static Scene scene(int[] hertz) {
    Map<String, Object> frontEnd = new LinkedHashMap<>();
    for (int i = 0; i < 4; i++) {
      frontEnd.put("frequency_" + (i + 1) + "_hz", i < hertz.length ? hertz[i] : 0);
    }
    try {
      return Scene.of(Map.of("front_end", frontEnd, "fluid", Map.of("level_mm", LEVEL / 1_000)), 1);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  /**
   * One part of the impedance, in straight lines between the places of the table.
   *
   * @param microns place of the tip, µm
   * @param frequency index of the frequency
   * @param imaginary which part
   * @return Ω
   */
  double ohms(double microns, int frequency, boolean imaginary) {
    double place = (Math.max(DEEPEST, Math.min(SHALLOWEST - 1, microns)) - DEEPEST) / STEP;
    int row = (int) place;
    int at = (row * hertz.length + frequency) * 2 + (imaginary ? 1 : 0);
    return ohms[at] + (place - row) * (ohms[at + 2 * hertz.length] - ohms[at]);
  }

  private double magnitude(double microns, int frequency) {
    return StrictMath.hypot(ohms(microns, frequency, false), ohms(microns, frequency, true));
  }

  /** The curve from the ratio of the last and the first frequency, or from the first magnitude. */
  Calibration curve(boolean byRatio) {
    List<Calibration.Point> points = new ArrayList<>();
    for (int microns = CURVE_DEEPEST; microns <= CURVE_SHALLOWEST; microns += CURVE_STEP) {
      long low = Math.round(1_000 * magnitude(microns, 0));
      double ratio = magnitude(microns, hertz.length - 1) / magnitude(microns, 0);
      points.add(new Calibration.Point(byRatio ? Math.round(1e6 * ratio) : low, microns, low));
    }
    return new Calibration(points);
  }
}
