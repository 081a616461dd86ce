package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.zip.CRC32;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.MeasuringCircuit;

/**
 * The numbers of the models, held fast: impedances of every kind of canal by place, and what a
 * plant does under a list of commands. A number that changes is not wrong by itself, but it changes
 * the result of every trial, so whoever changed it must have meant to.
 *
 * <p>{@code -Dstopwell.write=true} writes the file anew. What makes the numbers right are the tests
 * against other methods: {@code SpiceTest}, {@code NodalMatrixTest}, {@code ToothCircuitTest},
 * {@code DcMotorTest}, {@code MechanicsTest}, {@code PlantTest}. Run them with the new file.
 */
class GoldenPlantTest {
  private static final Path HELD =
      Path.of("src", "test", "resources", "org", "stopwell", "rig", "virtual", "golden-plant.txt");
  private static final long MS = 1_000_000;

  /** Places of the tip short of the foramen, µm, in the order in which a file comes by. */
  private static final int[] PLACES = {
    17_000, 15_900, 12_000, 8_300, 5_000, 2_500, 1_000, 300, 0, -600
  };

  private static final String MANY =
      "front_end.frequency_3_hz=9000 front_end.frequency_4_hz=15000 front_end.stray_pf=300 ";

  /** Scenes whose circuits are measured at each place, each as every kind of canal. */
  private static final List<String> CIRCUITS =
      List.of(
          MANY,
          MANY + "fluid.level_mm=15 canal.lateral_canal_mm=4 canal.exudate_mm=3 file.size=15",
          MANY
              + "fluid.level_mm=17.5 fluid.conductivity_s_per_m=6 canal.constriction_mm=0 file.size=25",
          MANY
              + "fluid.level_mm=25 fluid.chamber_depth_mm=1 canal.shunt_ohm=30000 canal.parallel_nf=4.7",
          MANY + "fluid.level_mm=0 fluid.chamber_depth_mm=0 canal.taper=0.02 file.taper=0.02");

  /**
   * Name, scene, and commands: F forward, B backward, O off, K brake; rpm/µN·m and ms behind it.
   */
  private static final List<String> RUNS =
      List.of(
          "steady | | F300/6000@6000 O@300 F300/6000@9000 K@500",
          "pecking | hand.motion=pecking hand.passive_mm=4 hand.depth_axis=present | F300/6000@2500"
              + " O@900 F300/6000@6000 B300/6000@700 O@2500",
          "hesitating and again | hand.motion=hesitating hand.after_stop=repeat hand.passive_mm=14"
              + " hand.feed_mm_per_s=2 hand.push_through_mm=0.3 hand.hold_ms=200 | O@8000"
              + " F250/8000@1500 O@2500 O@16000 F250/8000@1000",
          "withdrawing stage | hand.motion=stage hand.after_stop=withdraw hand.hold_ms=300"
              + " hand.passive_mm=10 hand.feed_mm_per_s=3 | O@3000 F200/5000@1500 O@4000",
          "thick file cuts dry | file.size=35 file.taper=0.05 hand.passive_mm=15.5"
              + " hand.feed_mm_per_s=2 fluid.level_mm=3 file.debris_per_mm=0.8 | O@8000"
              + " F300/12000@9000 B300/12000@1500 F300/2000@3000 O@1000",
          "screws in and wedges | file.size=40 file.taper=0.04 file.screw_in_mm_per_turn=0.4"
              + " file.friction=0.1 canal.taper=0.03 hand.passive_mm=10 hand.feed_mm_per_s=2"
              + " hand.press_n=6 | O@5000 F250/20000@4000 O@400 B250/20000@600 F250/20000@3000",
          "taper lock | file.size=40 file.taper=0.04 canal.taper=0.03 hand.passive_mm=10"
              + " hand.feed_mm_per_s=3 hand.press_n=9 | O@4000 F100/9000@3000 O@700 B100/9000@900",
          "left flutes | file.flutes=left file.size=35 canal.taper=0.02 hand.passive_mm=9"
              + " hand.feed_mm_per_s=3 | O@4000 B300/15000@3000 F300/15000@900 B300/15000@1500 O@500",
          "curve | canal.curve_deg=40 canal.curve_radius_mm=4 canal.curve_mm=5 file.size=25"
              + " file.taper=0.06 file.fatigue_strain=0.2 hand.passive_mm=15 hand.feed_mm_per_s=3"
              + " file.youngs_gpa=15 canal.taper=0.1 canal.constriction_diameter_mm=0.45 | O@6000 F500/50000@9000 O@300",
          "twists off | file.shear_strength_mpa=90 file.size=35 file.taper=0.05 hand.passive_mm=15.5"
              + " hand.feed_mm_per_s=2 | O@8500 F300/20000@9000 O@500",
          "weak supply and play | motor.supply_v=4 motor.supply_ohm=6 motor.driver_ohm=2"
              + " motor.backlash_deg=8 file.size=30 hand.passive_mm=14 hand.feed_mm_per_s=3 | O@5500"
              + " F600/20000@400 B600/20000@200 F600/20000@400 B600/20000@200 F200/1500@900 K@200",
          "drying with a thread | fluid.drying_mm3_per_s=1.5 fluid.meniscus_mm=0.8 fluid.level_mm=12"
              + " hand.after_stop=withdraw hand.passive_mm=6 hand.feed_mm_per_s=3 hand.hold_ms=100"
              + " front_end.drift_percent_per_min=9 front_end.settle_ms=20 front_end.hum_percent=2"
              + " front_end.resolution_ohm=5 front_end.gain_error_percent=3 | O@3000 F300/6000@1500"
              + " O@4000",
          "outside locator | front_end.signal=distance front_end.locator_noise_um=120"
              + " front_end.delay_ms=180 hand.depth_axis=present hand.depth_step_um=40"
              + " hand.emergency_stop_ms=5000 hand.feed_mm_per_s=2 | O@2500 F300/6000@4000 O@500",
          "railed | canal.kind=resistors canal.ohm_per_mm=900 canal.body_ohm=100"
              + " front_end.rail_ohm=3000 hand.feed_mm_per_s=3 hand.tremor_um=80 | O@4500 F300/6000@1800"
              + " K@400",
          "chamber runs over | fluid.level_mm=18.6 file.size=60 file.taper=0.06 canal.taper=0.1"
              + " hand.passive_mm=15 hand.feed_mm_per_s=4 | O@4500 F300/6000@1500 O@500");

  @Test
  void theNumbersOfTheModelsAreThoseThatWereHeld() throws Exception {
    StringBuilder now = new StringBuilder();
    for (String circuit : CIRCUITS) {
      for (String kind : List.of("tooth", "lumped", "meshed", "resistors", "network")) {
        Scene scene = scene(circuit + " canal.kind=" + kind);
        now.append(kind).append(' ').append(circuit).append('\n');
        Specimen specimen = new Specimen(scene);
        for (int place : PLACES) {
          now.append(measured(specimen, place)).append('\n');
        }
      }
    }
    for (String run : RUNS) {
      String[] parts = run.split("\\|", -1);
      now.append(parts[0].strip()).append('\n');
      append(now, new Plant(scene(parts[1].strip())), parts[2].strip());
    }
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(HELD, now);
    }
    List<String> held = Files.readAllLines(HELD);
    List<String> given = now.toString().lines().toList();
    for (int i = 0; i < held.size(); i++) {
      assertEquals(
          held.get(i),
          given.get(i),
          HELD + ":" + (i + 1) + "; if that is meant, run with -Dstopwell.write=true");
    }
    assertEquals(held.size(), given.size());
  }

  static List<String> circuits() {
    return CIRCUITS;
  }

  /** A network of four times as many nodes is another one; they may differ by its spacing. */
  @ParameterizedTest
  @MethodSource("circuits")
  void aFinerNetworkGivesTheSameNumbers(String circuit) throws Exception {
    Specimen usual = new Specimen(scene(circuit));
    Specimen fine = new Specimen(scene(circuit), 4);
    for (int place : PLACES) {
      MeasuringCircuit one = usual.at(place * 1e-6);
      MeasuringCircuit other = fine.at(place * 1e-6);
      for (int f = 0; f < 4; f++) {
        double size = Math.hypot(one.ohmsRe(f), one.ohmsIm(f));
        assertEquals(other.ohmsRe(f), one.ohmsRe(f), 0.01 * size, place + " µm");
        assertEquals(other.ohmsIm(f), one.ohmsIm(f), 0.01 * size, place + " µm");
      }
    }
  }

  private static String measured(Specimen specimen, int place) {
    MeasuringCircuit circuit = specimen.at(place * 1e-6);
    StringBuilder line = new StringBuilder().append(place);
    for (int f = 0; f < 4; f++) {
      line.append(String.format(Locale.ROOT, " %.8g %.8g", circuit.ohmsRe(f), circuit.ohmsIm(f)));
    }
    return line.append(String.format(Locale.ROOT, " %.8g", specimen.level())).toString();
  }

  /** A line each quarter second, and a sum over every millisecond of the run. */
  private static void append(StringBuilder now, Plant plant, String commands) {
    ControllerOutput out = new ControllerOutput();
    CRC32 sum = new CRC32();
    long ms = 0;
    for (String part : commands.split(" ", -1)) {
      String[] order = part.substring(1).split("[/@]", -1);
      out.drive =
          switch (part.charAt(0)) {
            case 'F' -> Drive.FORWARD;
            case 'B' -> Drive.BACKWARD;
            case 'K' -> Drive.BRAKE;
            default -> Drive.OFF;
          };
      boolean turns = out.drive.turns();
      out.speedMilliRpm = turns ? Integer.parseInt(order[0]) * 1_000 : 0;
      out.torqueLimitMicroNewtonMetres = turns ? Integer.parseInt(order[1]) : 0;
      for (long end = ms + Long.parseLong(order[order.length - 1]); ms < end; ) {
        plant.advance(++ms * MS, out);
        String line = line(plant);
        sum.update(line.getBytes(StandardCharsets.UTF_8));
        if (ms % 500 == 0) {
          now.append(ms).append(line).append('\n');
        }
      }
    }
    now.append("all ").append(Long.toHexString(sum.getValue())).append('\n');
  }

  private static String line(Plant plant) {
    Truth t = new Truth();
    ControllerInput in = new ControllerInput();
    plant.truth(t);
    plant.read(in);
    StringBuilder line = new StringBuilder();
    line.append(' ').append(t.remainingMicrons).append(' ').append(t.speedMilliRpm);
    line.append(' ').append(t.torqueMicroNewtonMetres).append(' ').append(t.fluidLevelMicrons);
    line.append(' ').append(t.chamberWet ? "wet" : "dry").append(' ').append(t.file);
    line.append(t.stopLine ? " stop " : " ").append(in.positionKind);
    line.append(' ').append(in.sampleSequence).append(' ').append(in.sampleTimeNs);
    if (in.frequencyCount > 1) {
      line.append(' ').append(in.zRealMilliOhms[0]).append(' ').append(in.zImagMilliOhms[1]);
    } else {
      line.append(' ').append(in.distanceMicrons);
    }
    line.append(in.railed ? " railed " : " ").append(in.speedMilliRpm);
    line.append(' ').append(in.torqueMicroNewtonMetres).append(' ').append(in.currentMilliAmps);
    line.append(' ').append(in.supplyMilliVolts);
    return line.append(' ').append(in.insertionMicrons).toString();
  }

  private static Scene scene(String text) throws Exception {
    Map<String, Map<String, String>> scene = new TreeMap<>();
    for (String word : text.strip().split(" +", -1)) {
      if (!word.isEmpty()) {
        String[] parts = word.split("[.=]", 3);
        scene.computeIfAbsent(parts[0], s -> new LinkedHashMap<>()).put(parts[1], parts[2]);
      }
    }
    return Scene.of(scene, 20_260_301);
  }
}
