package org.stopwell.harness.assess;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.population.Spread;
import org.stopwell.rig.virtual.Specimen;

/**
 * How well the distance can be known at best, whatever the estimator: the Bayesian Cramér–Rao bound
 * of the ladder network, linearised at one canal (Van Trees, Detection, Estimation and Modulation
 * Theory I, 1968, §2.4, from memory).
 *
 * <p>Known are the readings of an approach and the spreads of the population. Not known are the
 * distance now, the distance at every earlier reading (the feed is free) and everything that the
 * population draws of canal, fluid and metal surface. The network itself is taken as known, which
 * it is not; so what is really possible is less.
 */
final class InformationBound {
  private static final int HERTZ = Training.HERTZ.length;
  private static final int PARTS = 2 * HERTZ;
  private static final double NUDGE_MM = 0.01;

  /** Step of a derivative, as a share of the standard deviation of what is drawn. */
  private static final double STEP = 0.2;

  private static final List<String> SECTIONS = List.of("canal", "fluid", "file");

  private final Population population;
  private final double now;
  private final double top;
  private final int readings;
  private final double noise;

  /**
   * A bound.
   *
   * @param seed seed of the population
   * @param nowMm distance at which it is asked for, mm
   * @param topMm distance at which the approach begins, mm
   * @param readings how many readings the approach has
   * @param noise standard deviation of a part of a reading, relative to its magnitude
   */
  InformationBound(long seed, double nowMm, double topMm, int readings, double noise) {
    population = new Population(seed);
    now = nowMm;
    top = topMm;
    this.readings = readings;
    this.noise = noise;
  }

  /**
   * Least standard error of the distance.
   *
   * @param index which member of the population
   * @param fill how full its canal is
   * @return mm
   */
  double at(long index, Fill fill) throws SettingsException {
    Scene scene = population.member(index, fill, Training.FREQUENCIES);
    List<Spread> unknowns = new ArrayList<>();
    List<String> sections = new ArrayList<>();
    for (String section : SECTIONS) {
      for (Spread spread : Population.spreads().getOrDefault(section, List.of())) {
        unknowns.add(spread);
        sections.add(section);
      }
    }
    int n = unknowns.size() + 1;
    double[][] plain = sweep(scene, 0);
    double[][] nudged = sweep(scene, NUDGE_MM);
    double[][][] changed = new double[n][][];
    for (int p = 1; p < n; p++) {
      changed[p] = sweep(moved(index, fill, scene, sections.get(p - 1), unknowns.get(p - 1)), 0);
    }
    double[][] information = new double[n][n];
    for (int p = 1; p < n; p++) {
      information[p][p] = 1; // unknowns count in units of their own spread
    }
    for (int k = 0; k < readings; k++) {
      add(information, k, plain, nudged, changed);
    }
    return StrictMath.sqrt(firstOfInverse(information));
  }

  /** Adds what one reading tells; of all but the last, the unknown distance is eliminated. */
  private void add(
      double[][] information, int k, double[][] plain, double[][] nudged, double[][][] changed) {
    int n = information.length;
    boolean last = k == readings - 1;
    double[] byDistance = new double[PARTS];
    double square = 0;
    for (int i = 0; i < PARTS; i++) {
      byDistance[i] = (nudged[k][i] - plain[k][i]) / NUDGE_MM / noise;
      square += byDistance[i] * byDistance[i];
    }
    double[][] slope = new double[n][PARTS];
    for (int p = 1; p < n; p++) {
      double along = 0;
      for (int i = 0; i < PARTS; i++) {
        slope[p][i] = (changed[p][k][i] - plain[k][i]) / STEP / noise;
        along += slope[p][i] * byDistance[i];
      }
      if (!last && square > 0) {
        for (int i = 0; i < PARTS; i++) {
          slope[p][i] -= along / square * byDistance[i];
        }
      }
    }
    if (last) {
      slope[0] = byDistance;
    }
    for (int p = 0; p < n; p++) {
      for (int q = 0; q < n; q++) {
        for (int i = 0; i < PARTS; i++) {
          information[p][q] += slope[p][i] * slope[q][i];
        }
      }
    }
  }

  /**
   * Root mean square of the bound over the first members of the population.
   *
   * @param members how many
   * @param fill how full their canals are
   * @return mm
   */
  double rms(int members, Fill fill) throws SettingsException {
    double sum = 0;
    for (int i = 0; i < members; i++) {
      double error = at(i, fill);
      sum += error * error;
    }
    return StrictMath.sqrt(sum / members);
  }

  /** Logarithm of magnitude and phase at every frequency, reading by reading. */
  private double[][] sweep(Scene scene, double nudge) {
    Specimen specimen = new Specimen(scene);
    double[][] all = new double[readings][PARTS];
    for (int k = 0; k < readings; k++) {
      double place = top + (now - top) * k / (readings - 1) + nudge;
      MeasuringCircuit circuit = specimen.at(place * 1e-3);
      for (int f = 0; f < HERTZ; f++) {
        double re = circuit.ohmsRe(f);
        double im = circuit.ohmsIm(f);
        all[k][2 * f] = 0.5 * StrictMath.log(re * re + im * im);
        all[k][2 * f + 1] = StrictMath.atan2(im, re);
      }
    }
    return all;
  }

  /** The scene with one unknown moved by a small share of its spread. */
  private Scene moved(long index, Fill fill, Scene scene, String section, Spread spread)
      throws SettingsException {
    String key = spread.parameter().key();
    double value =
        new BigDecimal(spread.parameter().human(scene.section(section).get(spread.parameter())))
            .doubleValue();
    // towards the middle, where every value is allowed; the sign of a step does not matter
    boolean even = spread.shape() == Spread.Shape.EVEN;
    double next =
        switch (spread.shape()) {
          case NORMAL -> value + (value > spread.a() ? -STEP : STEP) * spread.b();
          case EVEN, LOG_EVEN -> {
            double low = even ? spread.a() : StrictMath.log(spread.a());
            double high = even ? spread.b() : StrictMath.log(spread.b());
            double at = even ? value : StrictMath.log(value);
            double step = STEP * (high - low) / StrictMath.sqrt(12);
            double to = 2 * at > low + high ? at - step : at + step;
            yield even ? to : StrictMath.exp(to);
          }
        };
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    int decimals = spread.parameter().decimals();
    BigDecimal rounded = BigDecimal.valueOf(next).setScale(decimals, RoundingMode.HALF_EVEN);
    all.put(section, Map.of(key, rounded.toPlainString()));
    return population.member(index, fill, all);
  }

  /** The first element of the inverse, by elimination from the last row up. */
  static double firstOfInverse(double[][] matrix) {
    int n = matrix.length;
    for (int p = n - 1; p > 0; p--) {
      for (int q = 0; q < p; q++) {
        double share = matrix[q][p] / matrix[p][p];
        for (int r = 0; r <= p; r++) {
          matrix[q][r] -= share * matrix[p][r];
        }
      }
    }
    return 1 / matrix[0][0];
  }
}
