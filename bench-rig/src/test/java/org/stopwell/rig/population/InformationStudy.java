package org.stopwell.rig.population;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.virtual.Specimen;

/**
 * How well a depth can be known from impedance at given frequencies, whatever the method: the
 * Bayesian Cramér–Rao bound of the virtual canal, linearised at one member of the population.
 *
 * <p>The unknowns are the depth, the distance from reading to reading, and every electrical and
 * anatomical quantity of the member, each with the spread of the population as its prior. The
 * observations are logarithm of magnitude and phase at each frequency, with independent noise. The
 * bound is the depth's element of {@code (JᵀR⁻¹J + Λ)⁻¹} (Van Trees, Detection, Estimation and
 * Modulation Theory, 1968, §2.4, from memory).
 */
final class InformationStudy {
  /** Prior standard deviation of the depth, mm: within reach of the foramen, no more. */
  private static final double DEPTH_PRIOR_MM = 1;

  /** Prior standard deviation of the distance from reading to reading, mm. */
  private static final double SPACING_PRIOR_MM = 0.15;

  /** Mean distance from reading to reading, mm. */
  private static final double SPACING_MM = 0.25;

  private static final double STEP_MM = 0.002;

  /** Sections whose spreads are unknowns; hand and front end are not. */
  private static final List<String> SECTIONS = List.of("canal", "fluid", "file");

  private final Population population;
  private final int[] hertz;
  private final double noise;

  /**
   * A study of a population.
   *
   * @param population the members
   * @param hertz candidate frequencies, ascending, Hz
   * @param noise standard deviation of a reading's parts, relative to its magnitude
   */
  public InformationStudy(Population population, int[] hertz, double noise) {
    this.population = population;
    this.hertz = hertz.clone();
    this.noise = noise;
  }

  /**
   * Information of one member at one place: the slopes of all observations against all unknowns,
   * with the prior standard deviation of every unknown.
   */
  public static final class Sight {
    /** A row per observation: reading by reading, frequency by frequency, magnitude and phase. */
    private final double[][] slopes;

    /** A number per unknown: depth, spacing, then the member's own. */
    private final double[] prior;

    private Sight(double[][] slopes, double[] prior) {
      this.slopes = slopes;
      this.prior = prior;
    }
  }

  /**
   * Looks at one member.
   *
   * @param index which member
   * @param fill how full its canal is
   * @param remainingMm depth of the last reading, mm
   * @param readings how many readings along the approach, from 1
   * @return its slopes
   * @throws SettingsException when a changed member leaves the limits of a scene
   */
  public Sight look(long index, Fill fill, double remainingMm, int readings)
      throws SettingsException {
    List<double[]> columns = new ArrayList<>();
    List<Double> prior = new ArrayList<>();
    double[] places = new double[readings];
    double[] deeper = new double[readings];
    double[] wider = new double[readings];
    for (int k = 0; k < readings; k++) {
      places[k] = remainingMm + k * SPACING_MM;
      deeper[k] = places[k] + STEP_MM;
      wider[k] = places[k] + k * STEP_MM;
    }
    double[] here = observe(index, fill, Map.of(), places);
    columns.add(slope(observe(index, fill, Map.of(), deeper), here, STEP_MM));
    prior.add(DEPTH_PRIOR_MM);
    columns.add(slope(observe(index, fill, Map.of(), wider), here, STEP_MM));
    prior.add(SPACING_PRIOR_MM);
    Scene own = population.member(index, fill, frequencies(0));
    for (String section : SECTIONS) {
      for (Spread spread : Population.spreads().getOrDefault(section, List.of())) {
        Parameter p = spread.parameter();
        double value = own.section(section).get(p) * Math.pow(10, -p.decimals());
        double sd = standardDeviation(spread, value);
        double moved = value + 0.2 * sd <= spread.greatest() ? 0.2 * sd : -0.2 * sd;
        double written = Math.rint((value + moved) * Math.pow(10, p.decimals()));
        double change = written * Math.pow(10, -p.decimals()) - value;
        if (change == 0) {
          continue;
        }
        String text = p.human((long) written);
        double[] there = observe(index, fill, Map.of(section, Map.of(p.key(), text)), places);
        columns.add(slope(there, here, change));
        prior.add(sd);
      }
    }
    double[][] slopes = new double[here.length][columns.size()];
    for (int row = 0; row < here.length; row++) {
      for (int column = 0; column < columns.size(); column++) {
        slopes[row][column] = columns.get(column)[row];
      }
    }
    return new Sight(slopes, prior.stream().mapToDouble(Double::doubleValue).toArray());
  }

  /**
   * The bound on the depth for some of the candidate frequencies.
   *
   * @param sight the information of a member
   * @param chosen indices of the frequencies used
   * @return standard deviation that no method can beat on average, mm
   */
  public double boundMm(Sight sight, int... chosen) {
    int n = sight.prior.length;
    double[][] information = new double[n][n];
    for (int i = 0; i < n; i++) {
      information[i][i] = 1 / (sight.prior[i] * sight.prior[i]);
    }
    int perReading = 2 * hertz.length;
    for (int first = 0; first < sight.slopes.length; first += perReading) {
      for (int f : chosen) {
        addOuter(information, sight.slopes[first + 2 * f]);
        addOuter(information, sight.slopes[first + 2 * f + 1]);
      }
    }
    return Math.sqrt(firstOfInverse(information));
  }

  private void addOuter(double[][] information, double[] row) {
    double weight = 1 / (noise * noise);
    for (int i = 0; i < row.length; i++) {
      for (int j = 0; j < row.length; j++) {
        information[i][j] += weight * row[i] * row[j];
      }
    }
  }

  /** Element (0,0) of the inverse: eliminates all other unknowns, the Schur complement. */
  private static double firstOfInverse(double[][] a) {
    for (int k = a.length - 1; k > 0; k--) {
      for (int i = 0; i < k; i++) {
        double factor = a[i][k] / a[k][k];
        for (int j = 0; j < k; j++) {
          a[i][j] -= factor * a[k][j];
        }
      }
    }
    return 1 / a[0][0];
  }

  /** Standard deviation of a spread near a value, as a prior. */
  private static double standardDeviation(Spread spread, double value) {
    return switch (spread.shape()) {
      case NORMAL -> spread.b();
      case EVEN -> (spread.b() - spread.a()) / Math.sqrt(12);
      case LOG_EVEN -> value * StrictMath.log(spread.b() / spread.a()) / Math.sqrt(12);
      case LOG_NORMAL -> value * StrictMath.log(spread.b());
    };
  }

  private double[] observe(
      long index, Fill fill, Map<String, Map<String, String>> change, double[] placesMm)
      throws SettingsException {
    int perReading = 2 * hertz.length;
    double[] seen = new double[placesMm.length * perReading];
    for (int from = 0; from < hertz.length; from += FrontEndSection.FREQUENCIES.size()) {
      Map<String, Map<String, String>> overrides = new LinkedHashMap<>(change);
      overrides.putAll(frequencies(from));
      Specimen specimen = new Specimen(population.member(index, fill, overrides));
      int count = Math.min(FrontEndSection.FREQUENCIES.size(), hertz.length - from);
      for (int k = 0; k < placesMm.length; k++) {
        MeasuringCircuit z = specimen.at(placesMm[k] * 1e-3);
        for (int f = 0; f < count; f++) {
          int at = k * perReading + 2 * (from + f);
          seen[at] = StrictMath.log(StrictMath.hypot(z.ohmsRe(f), z.ohmsIm(f)));
          seen[at + 1] = StrictMath.atan2(z.ohmsIm(f), z.ohmsRe(f));
        }
      }
    }
    return seen;
  }

  private Map<String, Map<String, String>> frequencies(int from) {
    Map<String, String> keys = new LinkedHashMap<>();
    for (int f = 0; f < FrontEndSection.FREQUENCIES.size(); f++) {
      int at = from + f;
      keys.put(
          FrontEndSection.FREQUENCIES.get(f).key(),
          at < hertz.length ? Integer.toString(hertz[at]) : "0");
    }
    return Map.of("front_end", keys);
  }

  private static double[] slope(double[] there, double[] here, double change) {
    double[] slopes = new double[here.length];
    for (int i = 0; i < here.length; i++) {
      slopes[i] = (there[i] - here[i]) / change;
    }
    return slopes;
  }
}
