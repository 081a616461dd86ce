package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.lang.reflect.Array;
import java.lang.reflect.Field;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.stopwell.rig.bench.Scene;

/**
 * What the models get for what a person writes: for every key of a scene one written value and the
 * number, in SI units, that stands in the model. The numbers were worked out by hand from the units
 * of the keys. Times of the models are in ns, as everywhere in this house.
 */
class SceneInSiTest {
  /**
   * Key, written value, what the model holds, where it holds it, and what else the scene must say.
   */
  private static final String TABLE =
      """
      canal.kind                     | tooth      | ToothCircuit      | specimen.circuit |
      canal.kind                     | lumped     | LumpedCircuit     | specimen.circuit |
      canal.kind                     | meshed     | MeshedCircuit     | specimen.circuit |
      canal.kind                     | field      | FieldTooth        | specimen.circuit |
      canal.kind                     | resistors  | ResistorCircuit   | specimen.circuit |
      canal.kind                     | network    | NetworkCircuit    | specimen.circuit |
      canal.kind                     | chain      | ChainCircuit      | specimen.circuit |
      canal.length_mm                | 17.3       | 0.0173            | specimen.canal.length |
      canal.length_mm                | 17.3       | 0.0173            | specimen.circuit.length | canal.kind=resistors
      canal.foramen_diameter_mm      | 0.62       | 310e-6            | specimen.canal.foramenRadius |
      canal.constriction_mm          | 0.7        | 700e-6            | specimen.canal.constriction |
      canal.constriction_diameter_mm | 0.31       | 155e-6            | specimen.canal.constrictionRadius |
      canal.taper                    | 0.07       | 0.035             | specimen.canal.slope |
      canal.wall_mm                  | 2.1        | 2.1e-3            | specimen.canal.wall |
      canal.wall_ohm_m               | 1300       | 1300              | specimen.canal.wallResistivity |
      canal.wall_apex_factor         | 4          | 4                 | specimen.canal.wallApexFactor |
      canal.smear_ohm_cm2            | 50         | 5e-3              | specimen.canal.smear |
      canal.constriction             | traditional | 0                | specimen.canal.constrictionLength |
      canal.constriction             | parallel   | 1e-3              | specimen.canal.constrictionLength |
      canal.constriction             | tapering   | 125e-6            | specimen.canal.foramenRadius |
      canal.constriction             | none       | 250e-6            | specimen.canal.constrictionRadius |
      canal.constriction_length_mm   | 1.4        | 1.4e-3            | specimen.canal.constrictionLength | canal.constriction=parallel
      canal.tissue_ohm_m             | 4.7        | 4.7               | specimen.canal.tissueResistivity |
      canal.body_ohm                 | 7100       | 7100              | specimen.circuit.around.body | canal.kind=meshed
      canal.body_ohm                 | 7100       | 7100              | specimen.circuit.parts.around.body | canal.kind=field
      canal.body_ohm                 | 7100       | 7100              | specimen.circuit.around.body | canal.kind=lumped
      canal.body_ohm                 | 7100       | 7100              | specimen.circuit.bodyOhms | canal.kind=resistors
      canal.body_high_share          | 0.25       | 0.25              | specimen.circuit.around.bodyHighShare | canal.kind=meshed
      canal.body_high_share          | 0.25       | 0.25              | specimen.circuit.around.bodyHighShare | canal.kind=lumped
      canal.body_corner_hz           | 3100       | 3100              | specimen.circuit.around.bodyCorner | canal.kind=meshed
      canal.body_corner_hz           | 3100       | 3100              | specimen.circuit.around.bodyCorner | canal.kind=lumped
      canal.body_exponent            | 0.72       | 0.72              | specimen.circuit.around.bodyExponent | canal.kind=meshed
      canal.body_exponent            | 0.72       | 0.72              | specimen.circuit.around.bodyExponent | canal.kind=lumped
      canal.ohm_per_mm               | 2000       | 2e6               | specimen.circuit.ohmsPerMetre | canal.kind=resistors
      canal.parallel_nf              | 2.2        | 2.2e-9            | specimen.circuit.farads | canal.kind=resistors
      canal.shunt_ohm                | 40000      | 25e-6             | specimen.circuit.shuntSiemens | canal.kind=resistors
      canal.shunt_ohm                | 0          | 0                 | specimen.circuit.shuntSiemens | canal.kind=resistors
      canal.lateral_canal_mm         | 3.3        | 3.3e-3            | specimen.circuit.around.lateralCanal |
      canal.lateral_canal_ohm        | 160000     | 6.25e-6           | specimen.circuit.around.side |
      canal.fragment_length_mm       | 2.5        | 4e-3              | specimen.circuit.around.fragmentTop |
      canal.fragment_mm              | 2.2        | 2.2e-3            | specimen.circuit.around.fragment | canal.fragment_length_mm=3
      canal.exudate_mm               | 1.2        | 1.2e-3            | specimen.circuit.around.exudate |
      canal.exudate_s_per_m          | 0.8        | 1.25              | specimen.circuit.around.exudateResistivity |
      canal.curve_deg                | 35         | 0.610865238       | specimen.curve.radians |
      canal.curve_radius_mm          | 6          | 6e-3              | specimen.curve.radius |
      canal.curve_mm                 | 3.5        | 3.5e-3            | specimen.curve.middle |
      canal.shaped_size              | 30         | 150e-6            | specimen.canal.shaped.file.tipRadius |
      canal.shaped_taper             | 0.04       | 0.02              | specimen.canal.shaped.file.slope | canal.shaped_size=30
      canal.shaped_to_mm             | 0.7        | 0.7e-3            | specimen.canal.shaped.tip | canal.shaped_size=30
      canal.shortened_mm             | 0.3        | 15.7e-3           | specimen.canal.length |
      canal.inside_share             | 0.8        | 0.8               | specimen.straightening.insideShare | canal.straightens=yes
      canal.straightens              | no         | false             | specimen.straightens |
      canal.straightens              | yes        | true              | specimen.straightens |
      fluid.level_mm                 | 6.5        | 6.5e-3            | specimen.fluid.level |
      fluid.irrigant                 | edta_17    | 0.5               | specimen.circuit.around.fluidResistivity |
      fluid.conductivity_s_per_m     | 2          | 0.5               | specimen.circuit.around.fluidResistivity |
      fluid.conductivity_s_per_m     | 2          | 0.5               | specimen.circuit.around.fluidResistivity | canal.kind=lumped
      fluid.strength_percent         | 80         | 0.78125           | specimen.circuit.around.fluidResistivity |
      fluid.floods_at_mm             | 4          | 4e-3              | specimen.fluid.floodsAt |
      fluid.chamber_area_mm2         | 9.5        | 9.5e-6            | specimen.fluid.chamberArea |
      fluid.chamber_depth_mm         | 2.2        | 2.2e-3            | specimen.fluid.chamberDepth |
      fluid.chamber_depth_mm         | 2.2        | 2.2e-3            | specimen.circuit.around.chamberDepth |
      fluid.chamber_depth_mm         | 2.2        | 2.2e-3            | specimen.circuit.around.chamberDepth | canal.kind=lumped
      fluid.leak_ohm                 | 8000       | 125e-6            | specimen.circuit.around.leak |
      fluid.leak_ohm                 | 8000       | 125e-6            | specimen.circuit.around.leak | canal.kind=lumped
      fluid.overflow_ohm             | 2500       | 400e-6            | specimen.circuit.around.overflow |
      fluid.overflow_ohm             | 2500       | 400e-6            | specimen.circuit.around.overflow | canal.kind=lumped
      fluid.crown_ohm                | 400        | 2.5e-3            | specimen.circuit.around.crown |
      fluid.crown_mm                 | 1.7        | 1.7e-3            | specimen.circuit.around.crownEdge |
      fluid.temperature_c            | 30         | 0.454545455       | specimen.circuit.around.fluidResistivity | fluid.conductivity_s_per_m=2
      fluid.drying_mm3_per_s         | 0.05       | 50e-12            | specimen.dryingCubicMetresPerSecond |
      fluid.meniscus_mm              | 0.7        | 0.7e-3            | specimen.meniscus |
      fluid.flutes_out_share         | 0.7        | 0.7               | specimen.fluid.flutes.out |
      fluid.flutes_in_share          | 0.4        | 0.4               | specimen.fluid.flutes.in |
      fluid.chips_share              | 0.3        | 0.3               | specimen.fluid.chipsShare |
      fluid.film_mm_per_s            | 100        | 0.029500238       | specimen.circuit.filmShare |
      fluid.plug_mm                  | 2.5        | 13.5e-3           | specimen.fluid.plugBottom |
      file.size                      | 35         | 175e-6            | specimen.file.tipRadius |
      file.taper                     | 0.06       | 0.03              | specimen.file.slope |
      file.cutting_mm                | 15.5       | 15.5e-3           | specimen.file.cuttingLength |
      file.solid_fraction            | 0.55       | 0.55              | specimen.file.solidFraction |
      file.interface_uf_per_cm2      | 25         | 0.928254341       | specimen.file.interfaceMagnitude |
      file.interface_exponent        | 0.9        | 0.9               | specimen.file.interfaceExponent |
      file.cutting_j_per_mm3         | 2.5        | 2.5e9             | specimen.file.cuttingEnergy |
      file.advance_mm_per_turn       | 0.4        | 63.6619772e-6     | specimen.file.advancePerRadian |
      file.flutes                    | right      | 1                 | specimen.flutes |
      file.flutes                    | left       | -1                | specimen.flutes |
      file.screw_in_mm_per_turn      | 0.3        | 47.7464829e-6     | specimen.file.screwInPerRadian |
      file.screw_out_mm_per_turn     | 0.2        | 31.8309886e-6     | specimen.file.screwOutPerRadian |
      file.debris_per_mm             | 1.5        | 1500              | specimen.file.debrisPerMetre |
      file.shear_strength_mpa        | 820        | 820e6             | specimen.metal.shearPascals |
      file.youngs_gpa                | 55         | 55e9              | specimen.metal.youngsPascals |
      file.fatigue_strain            | 2.1        | 2.1               | specimen.metal.fatigueStrain |
      file.fatigue_slope             | 0.6        | 0.6               | specimen.metal.fatigueSlope |
      file.friction                  | 0.45       | 0.45              | specimen.metal.friction |
      hand.motion                    | steady     | STEADY            | hand.motion |
      hand.motion                    | pecking    | PECKING           | hand.motion |
      hand.motion                    | hesitating | HESITATING        | hand.motion |
      hand.motion                    | stage      | STAGE             | hand.motion |
      hand.feed_mm_per_s             | 0.75       | 0.75e-3           | hand.feed |
      hand.start_above_mm            | 2.5        | 18.5e-3           | hand.start |
      hand.start_above_mm            | 2.5        | 18.5e-3           | remaining |
      hand.passive_mm                | 9          | 7e-3              | hand.passiveEnd |
      hand.reaction_ms               | 210        | 210e6             | hand.reactionNs |
      hand.reaction_ms               | 210        | 0                 | hand.reactionNs | hand.motion=stage
      hand.push_through_mm           | 0.4        | 0.4e-3            | hand.pushThrough |
      hand.after_stop                | hold       | HOLD              | hand.afterStop |
      hand.after_stop                | withdraw   | WITHDRAW          | hand.afterStop |
      hand.after_stop                | repeat     | REPEAT            | hand.afterStop |
      hand.hold_ms                   | 750        | 750e6             | hand.holdNs |
      hand.peck_stroke_mm            | 0.8        | 0.8e-3            | hand.stroke |
      hand.peck_stroke_mm            | 0.8        | 0.4e-3            | hand.peck.half |
      hand.peck_mm_per_s             | 2.5        | 2.5e-6            | hand.peck.step |
      hand.hesitation_ms             | 900        | 900e6             | hand.hesitationNs |
      hand.tremor_um                 | 37         | 52.3259018e-6     | hand.tremble.tremor.amplitude |
      hand.tremor_um                 | 37         | 37e-6             | hand.tremble.drift.amplitude |
      hand.tremor_um                 | 37         | 0                 | hand.tremble.tremor.amplitude | hand.motion=stage
      hand.tremor_hz                 | 8.5        | 8.5               | hand.tremble.tremor.hertz |
      hand.depth_axis                | absent     | false             | depthAxis |
      hand.depth_axis                | present    | true              | depthAxis |
      hand.depth_step_um             | 25         | 25                | depthStep |
      hand.emergency_stop_ms         | 1234       | 1234e6            | stopLineNs |
      hand.press_n                   | 2.75       | 2.75              | specimen.press |
      motor.supply_v                 | 9.6        | 9.6               | motor.supply.volts |
      motor.supply_ohm               | 0.35       | 0.35              | motor.supply.ohms |
      motor.driver_ohm               | 0.45       | 0.45              | motor.supply.driverOhms |
      motor.backlash_deg             | 3          | 0.0261799388      | motor.shaft.halfPlay |
      front_end.signal               | impedance  | false             | frontEnd.locator |
      front_end.signal               | distance   | true              | frontEnd.locator |
      front_end.frequency_1_hz       | 300        | 300               | frontEnd.hertz.0 |
      front_end.frequency_1_hz       | 300        | 300               | specimen.circuit.hertz.0 | canal.kind=lumped
      front_end.frequency_2_hz       | 6500       | 6500              | frontEnd.hertz.1 |
      front_end.frequency_2_hz       | 6500       | 6500              | specimen.circuit.hertz.1 | canal.kind=lumped
      front_end.frequency_3_hz       | 9000       | 9000              | frontEnd.hertz.2 |
      front_end.frequency_4_hz       | 15000      | 15000             | frontEnd.hertz.3 | front_end.frequency_3_hz=9000
      front_end.sample_ms            | 4          | 4e6               | frontEnd.periodNs |
      front_end.delay_ms             | 7.5        | 7.5e6             | frontEnd.delayNs |
      front_end.noise_percent        | 0.8        | 0.008             | frontEnd.noise |
      front_end.hum_percent          | 0.12       | 0.0012            | frontEnd.hum |
      front_end.hum_hz               | 49.5       | 49.5e-9           | frontEnd.humTurnsPerNs |
      front_end.gain_error_percent   | -2.5       | 0.975             | frontEnd.gain |
      front_end.stray_pf             | 220        | 220e-12           | specimen.circuit.strayFarads | canal.kind=lumped
      front_end.clip_ohm             | 20000      | 20e3              | specimen.measured.ohms |
      front_end.rail_ohm             | 250        | 250               | frontEnd.railOhms |
      front_end.locator_noise_um     | 45         | 45                | frontEnd.locatorNoise |
      front_end.locator_step_um      | 250        | 250               | frontEnd.locatorStep |
      front_end.locator_rate_hz      | 8          | 125e6             | frontEnd.periodNs | front_end.signal=distance
      front_end.settle_ms            | 7          | 0.510458340       | frontEnd.settled |
      front_end.drift_percent_per_min | 1.5       | 250e-15           | frontEnd.driftPerNs |
      front_end.resolution_ohm       | 0.25       | 0.25              | frontEnd.stepOhms |
      front_end.excitation_ua        | 4          | 0.0075            | frontEnd.noise |
      """;

  private record Row(String key, String written, String held, String where, String beside) {
    static Row of(String line) {
      String[] cells = line.split("\\|", -1);
      return new Row(
          cells[0].strip(), cells[1].strip(), cells[2].strip(), cells[3].strip(), cells[4].strip());
    }
  }

  static Stream<Row> rows() {
    return TABLE.lines().map(Row::of);
  }

  @ParameterizedTest
  @MethodSource("rows")
  void theModelHoldsWhatWasWritten(Row row) throws Exception {
    Map<String, Map<String, String>> scene = new TreeMap<>();
    put(scene, row.key(), row.written());
    if (!row.beside().isEmpty()) {
      String[] beside = row.beside().split("=", -1);
      put(scene, beside[0], beside[1]);
    }
    Object held = at(new Plant(Scene.of(scene, 1)), row.where());
    if (held instanceof Number number) {
      double wanted = Double.parseDouble(row.held());
      assertEquals(wanted, number.doubleValue(), 1e-8 * Math.abs(wanted), row.where());
    } else if (held instanceof Boolean || held instanceof Enum<?>) {
      assertEquals(row.held(), held.toString(), row.where());
    } else {
      assertEquals(row.held(), held.getClass().getSimpleName(), row.where());
    }
  }

  /** A key without a row is a key whose way to the model nobody checks. */
  @Test
  void everyKeyOfASceneHasARowAndEveryWordOfAChoiceToo() {
    TreeSet<String> wanted = new TreeSet<>();
    Scene.tables()
        .forEach(
            (section, table) ->
                table
                    .parameters()
                    .forEach(
                        p -> {
                          List<String> words = p.choices();
                          // The conductivity of each fluid has a test of its own: IrrigantTest.
                          boolean each = !words.isEmpty() && !p.key().equals("irrigant");
                          (each ? words : List.of(""))
                              .forEach(word -> wanted.add(section + "." + p.key() + " " + word));
                        }));
    TreeSet<String> found = new TreeSet<>();
    rows()
        .forEach(
            row -> {
              found.add(row.key() + " ");
              found.add(row.key() + " " + row.written());
            });
    wanted.removeAll(found);
    assertEquals(new TreeSet<>(), wanted, "keys without a row");
  }

  /** A row that writes the default cannot tell whether the written value arrives. */
  @Test
  void noRowWritesTheDefaultOfANumber() throws Exception {
    for (Row row : rows().toList()) {
      String[] key = row.key().split("\\.", 2);
      var parameter =
          Objects.requireNonNull(Scene.tables().get(key[0])).parameters().stream()
              .filter(p -> p.key().equals(key[1]))
              .findFirst()
              .orElseThrow();
      boolean same =
          parameter.choices().isEmpty()
              && !row.written().equals("0")
              && Double.parseDouble(parameter.human(parameter.defaultValue()))
                  == Double.parseDouble(row.written());
      assertEquals(false, same, row.toString());
    }
  }

  private static void put(
      Map<String, Map<String, String>> scene, String sectionAndKey, String value) {
    String[] key = sectionAndKey.split("\\.", 2);
    scene.computeIfAbsent(key[0], section -> new LinkedHashMap<>()).put(key[1], value);
  }

  /** What stands at a path of field names and indices below an object. */
  private static Object at(Object root, String path) throws Exception {
    Object here = root;
    for (String step : path.split("\\.", -1)) {
      here =
          Character.isDigit(step.charAt(0))
              ? Array.get(here, Integer.parseInt(step))
              : field(here, step);
    }
    return here;
  }

  /** A sine keeps a pointer and the angle of one step in place of amplitude and frequency. */
  private static Object field(Object object, String name) throws Exception {
    if (name.equals("amplitude")) {
      return Math.hypot((double) field(object, "re"), (double) field(object, "im"));
    }
    if (name.equals("hertz") && object.getClass().getSimpleName().equals("Oscillation")) {
      double turn = Math.atan2((double) field(object, "turnIm"), (double) field(object, "turnRe"));
      return turn / (2 * Math.PI * Plant.TICK_NS * 1e-9);
    }
    Field field =
        Arrays.stream(object.getClass().getDeclaredFields())
            .filter(f -> f.getName().equals(name))
            .findFirst()
            .orElseThrow(() -> new AssertionError(object.getClass() + " has no " + name));
    field.setAccessible(true);
    return field.get(object);
  }
}
