package org.stopwell.rig.physics.canal;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

class MeshedCircuitTest {
  private static final double MM = 1e-3;
  private static final long SEED = 20_260_303;

  /** A cylinder of 0.3 mm in a wall that lets nothing through. */
  private static final Canal TUBE =
      Canal.plain(12 * MM, 0.15 * MM, 0, 0.15 * MM, 0, 1.5 * MM, 1e12, 3);

  /** Size 10, round, of taper 2 %, with 20 µF/cm². */
  private static final Instrument FILE =
      new Instrument(0.05 * MM, 0.01, 16e-3, 1, 0.2, 1, 2e9, 1e-4, 0, 0, 0);

  private static Surroundings around(double body, double fluid, double leak, double overflow) {
    return new Surroundings(
        body, 0.2, 2500, 0.8, fluid, 3 * MM, leak, overflow, 0, 0, 0, 1, 0, 0, 0, 0);
  }

  /** Impedance of a tooth in the tube; of that, the real part first. */
  private static double[] ohms(Surroundings around, double hertz, double remaining, double level) {
    MeshedCircuit circuit =
        new MeshedCircuit(
            around,
            TUBE,
            new Bore(TUBE),
            FILE,
            new double[] {hertz},
            0,
            RandomStream.of(SEED, "mesh"));
    circuit.solve(remaining, level);
    return new double[] {circuit.ohmsRe(0), circuit.ohmsIm(0)};
  }

  /** Both ways to the lip side by side, where they are far more than all before them. */
  @Test
  void a_large_body_is_all_that_is_seen() {
    Surroundings around = around(1e8, 0.4, 0, 0);
    assertEquals(0.7e8, ohms(around, 1e-3, 0, 12 * MM)[0], 0.01 * 0.7e8);
    assertEquals(0.2 * 0.7e8, ohms(around, 1e8, 0, 6 * MM)[0], 0.01 * 0.7e8);
  }

  /** Above the ways out the column of fluid adds its ρL/(πr²). */
  @Test
  void the_column_of_fluid_adds_what_its_length_does() {
    Surroundings around = around(100, 10, 0, 0);
    double more = ohms(around, 1e6, 5 * MM, 11 * MM)[0] - ohms(around, 1e6, 3 * MM, 9 * MM)[0];
    double expected = 10 * 2 * MM / (Math.PI * 0.15 * MM * 0.15 * MM);
    assertEquals(expected, more, 1e-3 * expected);
  }

  /** A file in a chamber that has run over: metal, then the film; the canal is far more. */
  @Test
  void the_film_of_a_full_chamber_is_all_of_its_resistance() {
    double[] z = ohms(around(6500, 10, 0, 1e-2), 1e6, 14 * MM, 15.1 * MM);
    assertEquals(100, z[0], 0.5);
  }

  /** A chamber filled to half of its height gives half of the crown's conductance. */
  @Test
  void the_crown_leaks_over_the_height_that_is_wet() {
    double[] z = ohms(around(6500, 1e4, 1e-5, 1), 1e6, 12.5 * MM, 13.5 * MM);
    assertEquals(2e5, z[0], 0.005 * 2e5);
  }

  /** A blunt tip of so little surface that its capacity hides the body. */
  @Test
  void a_tip_in_a_dry_foramen_shows_its_own_surface() {
    // 0.2 F/m² on a disc of 0.05 mm, shared between film and layer so that it is the same at 1 kHz
    double farads = 0.2 * Math.PI * 0.05 * MM * 0.05 * MM;
    double expected = -1 / (2 * Math.PI * 1000 * farads);
    assertEquals(expected, ohms(around(100, 0.4, 0, 0), 1000, 0, 0)[1], -0.03 * expected);
  }

  @Test
  void thirty_random_canals_at_four_frequencies_agree_with_ngspice(@TempDir Path directory)
      throws Exception {
    int canals = 30;
    SpiceComparison comparison = new SpiceComparison(directory);
    RandomStream random = RandomStream.of(SEED, "places");
    for (int i = 0; i < canals; i++) {
      Fill fill = Fill.values()[i % 4];
      Scene scene = new Population(SEED).member(i, fill, meshed(SpiceComparison.frontEnd()));
      double remaining = random.nextBetween(-1.5, i % 5 == 0 ? 16 : 9) * MM;
      MeshedCircuit circuit = (MeshedCircuit) new Specimen(scene).at(remaining);
      comparison.add(
          circuit,
          (net, canal, f, hertz) -> circuit.assemble(f, new SpiceJoints(net, canal, hertz)));
    }
    assertEquals(canals * SpiceComparison.HERTZ.length, comparison.agree(), "seed " + SEED);
  }

  /** At every frequency, over the last 4 mm; further up a tip may only just touch the fluid. */
  @Test
  void the_admittance_of_nearly_all_grows_on_the_way_down() throws Exception {
    int members = 200;
    int growing = 0;
    for (int i = 0; i < members; i++) {
      Scene scene =
          new Population(SEED).member(i, Fill.HALF_WET, meshed(SpiceComparison.frontEnd()));
      growing += grows(new Specimen(scene)) ? 1 : 0;
    }
    assertTrue(growing >= 0.99 * members, growing + " of " + members + ", seed " + SEED);
  }

  private static boolean grows(Specimen tooth) {
    double[] last = new double[SpiceComparison.HERTZ.length];
    boolean grows = true;
    for (double z = 4; z >= 0; z -= 0.05) {
      MeasuringCircuit here = tooth.at(z * MM);
      for (int f = 0; f < last.length; f++) {
        double siemens = 1 / Math.hypot(here.ohmsRe(f), here.ohmsIm(f));
        grows &= siemens > last[f];
        last[f] = siemens;
      }
    }
    return grows;
  }

  @ParameterizedTest
  @EnumSource(Fill.class)
  void it_is_finite_and_passive_everywhere(Fill fill) throws Exception {
    for (int i = 0; i < 40; i++) {
      Scene scene = new Population(SEED).member(i, fill, meshed(SpiceComparison.frontEnd()));
      Specimen tooth = new Specimen(scene);
      for (double z = 25; z >= -3; z -= 0.25) {
        MeasuringCircuit here = tooth.at(z * MM);
        for (int f = 0; f < SpiceComparison.HERTZ.length; f++) {
          String where = "member " + i + " at " + z;
          assertTrue(Double.isFinite(here.ohmsRe(f)) && here.ohmsRe(f) > 0, where);
          assertTrue(Double.isFinite(here.ohmsIm(f)) && here.ohmsIm(f) < 0, where);
        }
      }
    }
  }

  /** The first passes may count what the virtual machine itself does. */
  @Test
  void solving_allocates_nothing() throws Exception {
    Scene scene = new Population(SEED).member(0, Fill.FLOODED, meshed(Map.of()));
    Specimen tooth = new Specimen(scene);
    ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    long least = Long.MAX_VALUE;
    for (int pass = 0; pass < 5; pass++) {
      long before = threads.getCurrentThreadAllocatedBytes();
      for (int i = 0; i < 4000; i++) {
        tooth.at((8 - 0.0025 * i) * MM);
      }
      least = Math.min(least, threads.getCurrentThreadAllocatedBytes() - before);
    }
    assertEquals(0, least);
  }

  /** A second visit finds the tooth of the first. */
  @Test
  void a_tooth_stays_the_same_whatever_it_is_filled_with() throws Exception {
    Scene first = new Population(SEED).member(5, Fill.HALF_WET, meshed(Map.of()));
    Scene second = new Population(SEED).member(5, Fill.FLOODED, meshed(Map.of()));
    // past the foramen of a dried canal nothing of the fluid is left
    assertEquals(dried(first), dried(second), 0);
  }

  private static double dried(Scene scene) {
    Specimen tooth = new Specimen(scene);
    MeasuringCircuit circuit = tooth.at(-1 * MM);
    circuit.solve(-1 * MM, 0);
    return circuit.ohmsRe(0);
  }

  private static Map<String, Map<String, String>> meshed(Map<String, Map<String, String>> other) {
    Map<String, Map<String, String>> all = new HashMap<>(other);
    all.put("canal", Map.of("kind", "meshed"));
    return all;
  }
}
