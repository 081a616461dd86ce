package org.stopwell.rig.physics.field;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.physics.canal.Surroundings;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

/** Teeth in the field: the table against the field, and what is known of teeth. */
class FieldToothTest {
  private static final double MM = 1e-3;
  private static final long SEED = 20_260_411;
  private static final double[] HERTZ = {250, 1000, 4000, 8000};

  static FieldTooth.Parts parts(Scene scene) {
    return new FieldTooth.Parts(
        Surroundings.of(scene.section("canal"), scene.section("fluid")),
        Canal.of(scene.section("canal")),
        Math.sqrt(scene.section("fluid").get(FluidSection.CHAMBER_AREA) * 1e-9 / Math.PI),
        Instrument.of(scene.section("file")),
        FieldAnatomy.drawn(RandomStream.of(scene.seed(), "field")));
  }

  private static Scene scene(long member, Fill fill) throws Exception {
    return new Population(SEED).member(member, fill, Map.of("canal", Map.of("kind", "field")));
  }

  private static double magnitude(FieldSolver solver, int f) {
    int at = f * FieldSolver.NUMBERS;
    return 1 / Math.hypot(solver.solved[at], solver.solved[at + 1]);
  }

  /** Twice as many rows and columns change less than 3 % of the magnitude, at any place. */
  @Test
  void a_grid_twice_as_fine_changes_little() throws Exception {
    for (int member = 0; member < 4; member++) {
      FieldTooth.Parts parts = parts(scene(member, Fill.HALF_WET));
      FieldSolver usual = new FieldSolver(parts, HERTZ, 1, 1, FieldSolver.DEPTH);
      FieldSolver fine = new FieldSolver(parts, HERTZ, 0.5, 2, FieldSolver.DEPTH);
      for (double z : new double[] {4, 1, 0.2, 0, -0.5}) {
        usual.solve(z * MM, 0.6 * parts.canal().length());
        fine.solve(z * MM, 0.6 * parts.canal().length());
        for (int f = 0; f < HERTZ.length; f++) {
          double change = magnitude(usual, f) / magnitude(fine, f) - 1;
          assertEquals(0, change, 0.03, "member " + member + " at " + z + " mm, " + HERTZ[f]);
        }
      }
    }
  }

  /** What the Krylov method leaves out. */
  @Test
  void twice_as_many_steps_change_nothing() throws Exception {
    for (int member = 0; member < 6; member++) {
      FieldTooth.Parts parts = parts(scene(member, Fill.HALF_WET));
      FieldSolver usual = new FieldSolver(parts, HERTZ, 1, 1, FieldSolver.DEPTH);
      FieldSolver more = new FieldSolver(parts, HERTZ, 1, 1, 2 * FieldSolver.DEPTH);
      for (double z : new double[] {4, 1, 0.2, -0.5}) {
        usual.solve(z * MM, 0.6 * parts.canal().length());
        more.solve(z * MM, 0.6 * parts.canal().length());
        for (int f = 0; f < HERTZ.length; f++) {
          int at = f * FieldSolver.NUMBERS;
          double miss =
              Math.hypot(
                  usual.solved[at] - more.solved[at], usual.solved[at + 1] - more.solved[at + 1]);
          assertEquals(0, miss * magnitude(more, f), 1e-4, "member " + member + " at " + z);
        }
      }
    }
  }

  /** Within 4 mm of the foramen; the dry canal, whose reading begins at the foramen, is apart. */
  @ParameterizedTest
  @EnumSource(
      value = Fill.class,
      names = {"HALF_WET", "BRIMFUL", "FLOODED"})
  void the_table_is_the_field(Fill fill) throws Exception {
    for (int member = 0; member < 3; member++) {
      Scene scene = scene(member, fill);
      double[] hertz = FrontEndSection.hertz(scene.section("front_end"));
      Specimen tooth = new Specimen(scene);
      FieldTooth field =
          new FieldTooth(
              parts(scene), hertz, scene.section("front_end").get(FrontEndSection.STRAY) * 1e-12);
      for (double z = 4; z > -1; z -= 0.173) {
        MeasuringCircuit table = tooth.at(z * MM);
        field.solveDirectly(z * MM, tooth.level());
        for (int f = 0; f < hertz.length; f++) {
          double miss =
              Math.hypot(table.ohmsRe(f) - field.ohmsRe(f), table.ohmsIm(f) - field.ohmsIm(f));
          double size = Math.hypot(field.ohmsRe(f), field.ohmsIm(f));
          assertEquals(0, miss / size, 0.005, fill + " member " + member + " at " + z);
        }
      }
    }
  }

  /** The same answers whatever was asked for before. */
  @Test
  void an_answer_does_not_hang_on_the_order_of_questions() throws Exception {
    Scene scene = scene(1, Fill.FLOODED);
    double length = parts(scene).canal().length();
    FieldTooth down = tooth(scene);
    FieldTooth up = tooth(scene);
    double[] first = new double[20];
    for (int i = 0; i < 20; i++) {
      down.solve((4 - 0.23 * i) * MM, length + 1 * MM);
      first[i] = down.ohmsIm(0);
    }
    for (int i = 19; i >= 0; i--) {
      up.solve((4 - 0.23 * i) * MM, length + 1 * MM);
      assertEquals(first[i], up.ohmsIm(0), 0);
    }
  }

  private static FieldTooth tooth(Scene scene) {
    return new FieldTooth(parts(scene), HERTZ, 0);
  }

  /** Every canal, at every frequency, over the last 4 mm. */
  @Test
  void the_admittance_grows_on_the_way_down() throws Exception {
    for (int member = 0; member < 10; member++) {
      Specimen tooth = new Specimen(scene(member, Fill.HALF_WET));
      double last = 0;
      for (double z = 4; z >= 0; z -= 0.1) {
        MeasuringCircuit here = tooth.at(z * MM);
        double siemens = 1 / Math.hypot(here.ohmsRe(0), here.ohmsIm(0));
        assertTrue(siemens > last, "member " + member + " at " + z);
        last = siemens;
      }
    }
  }

  /**
   * In vivo the impedance is mainly resistive from 3 to 1 mm short of the foramen, and capacitive
   * beyond (Rambo et al., BioMed Eng OnLine 2010;9:46, opening seen): the phase turns on the way,
   * but in a few teeth whose dentine conducts well.
   */
  @Test
  void the_impedance_turns_capacitive_near_the_foramen() throws Exception {
    int turning = 0;
    for (int member = 0; member < 10; member++) {
      Specimen tooth = new Specimen(scene(member, Fill.HALF_WET));
      double far = phase(tooth.at(2 * MM));
      double near = phase(tooth.at(0.1 * MM));
      assertTrue(Math.toDegrees(far) > -30, "member " + member + ": " + Math.toDegrees(far));
      turning += near < far ? 1 : 0;
    }
    assertTrue(turning >= 8, turning + " of 10");
  }

  private static double phase(MeasuringCircuit solved) {
    return Math.atan2(solved.ohmsIm(1), solved.ohmsRe(1));
  }

  @ParameterizedTest
  @EnumSource(Fill.class)
  void it_is_finite_and_passive_everywhere(Fill fill) throws Exception {
    for (int member = 0; member < 3; member++) {
      Specimen tooth = new Specimen(scene(member, fill));
      for (double z = 25; z >= -4; z -= 0.31) {
        MeasuringCircuit here = tooth.at(z * MM);
        for (int f = 0; f < 2; f++) {
          String where = fill + " member " + member + " at " + z;
          assertTrue(Double.isFinite(here.ohmsRe(f)) && here.ohmsRe(f) > 0, where);
          assertTrue(Double.isFinite(here.ohmsIm(f)) && here.ohmsIm(f) < 0, where);
        }
      }
    }
  }

  /** A leak shows less of the canal, the more it leaks. */
  @ParameterizedTest
  @ValueSource(ints = {1000, 10_000, 100_000})
  void a_leak_is_a_resistor_at_the_chamber(int ohms) throws Exception {
    Scene scene =
        new Population(SEED)
            .member(
                2,
                Fill.FLOODED,
                Map.of("canal", Map.of("kind", "field"), "fluid", Map.of("leak_ohm", "" + ohms)));
    FieldTooth.Parts parts = parts(scene);
    FieldTooth tooth = new FieldTooth(parts, new double[] {1e6}, 0);
    double length = parts.canal().length();
    double depth = 0.5 * parts.around().chamberDepth();
    // the tip only just in the chamber: metal is as good as the fluid at this frequency
    tooth.solve(length + 0.5 * depth, length + depth);
    FieldTooth open = new FieldTooth(parts.closed(), new double[] {1e6}, 0);
    open.solve(length + 0.5 * depth, length + depth);
    double canalSiemens = 1 / open.ohmsRe(0);
    assertEquals(1 / (canalSiemens + 0.5 / ohms), tooth.ohmsRe(0), 0.02 * tooth.ohmsRe(0));
  }
}
