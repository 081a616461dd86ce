package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** What canal, file, motor and supply do to each other when it goes wrong. */
class MechanicsTest {
  private static final long MS = 1_000_000;

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();
  private long nowMs;

  /** A thick file in a narrow canal: it has to cut its way over the last two millimetres. */
  private Plant cutting(Map<String, String> file, Map<String, Map<String, String>> more)
      throws Exception {
    Map<String, String> thick = new HashMap<>(file);
    thick.putIfAbsent("size", "35");
    thick.putIfAbsent("taper", "0.05");
    Map<String, Map<String, String>> scene = new HashMap<>(more);
    scene.put("file", thick);
    scene.putIfAbsent("hand", Map.of("passive_mm", "15.5", "tremor_um", "0"));
    nowMs = 0;
    Plant plant = new Plant(Scene.of(scene, 3));
    plant.truth(truth);
    return plant;
  }

  private void command(Drive drive, int rpm, int microNewtonMetres) {
    out.drive = drive;
    out.speedMilliRpm = rpm * 1_000;
    out.torqueLimitMicroNewtonMetres = microNewtonMetres;
  }

  private void run(Plant plant, long ms) {
    for (long end = nowMs + ms; nowMs < end; ) {
      plant.advance(++nowMs * MS, out);
      plant.truth(truth);
    }
    plant.read(in);
  }

  @Test
  void a_file_breaks_where_the_torque_limit_lies_above_its_strength() throws Exception {
    // 100 MPa: the file of 0.5 mm at 3 mm bears 2.454 mN·m
    Plant plant = cutting(Map.of("shear_strength_mpa", "100"), Map.of());
    command(Drive.FORWARD, 300, 20_000);
    run(plant, 34_000);
    assertEquals(FileCondition.TWISTED_OFF, truth.file);

    Plant guarded = cutting(Map.of("shear_strength_mpa", "100"), Map.of());
    command(Drive.FORWARD, 300, 500);
    run(guarded, 34_000);
    assertEquals(FileCondition.WHOLE, truth.file, "a limit far below the strength saves it");
    assertEquals(0, truth.speedMilliRpm);
  }

  @Test
  void no_file_goes_past_a_separated_one() throws Exception {
    Plant plant =
        cutting(
            Map.of("shear_strength_mpa", "2000", "screw_in_mm_per_turn", "1"),
            Map.of("canal", Map.of("fragment_length_mm", "3", "fragment_mm", "2")));
    command(Drive.FORWARD, 300, 20_000);
    run(plant, 60_000);
    assertEquals(5_000, truth.remainingMicrons);
  }

  /** The driver limits what the windings give; what the turning rotor gives comes on top. */
  @Test
  void the_swing_of_the_rotor_breaks_a_file_that_the_torque_limit_alone_would_spare()
      throws Exception {
    Plant plant = cutting(Map.of("shear_strength_mpa", "100"), Map.of());
    command(Drive.FORWARD, 300, 2_000);
    run(plant, 34_000);
    assertEquals(FileCondition.TWISTED_OFF, truth.file);
  }

  @Test
  void what_is_left_of_a_broken_file_turns_freely_and_goes_no_deeper() throws Exception {
    Plant plant = cutting(Map.of("shear_strength_mpa", "100"), Map.of());
    command(Drive.FORWARD, 300, 20_000);
    int before = 0;
    while (truth.file == FileCondition.WHOLE) {
      before = truth.remainingMicrons;
      run(plant, 1);
    }
    int stub = truth.remainingMicrons;
    assertEquals(before + 3_000, stub, 10, "it ends 3 mm higher");
    run(plant, 3_000);
    assertEquals(stub, truth.remainingMicrons);
    assertEquals(0, truth.torqueMicroNewtonMetres);
    assertTrue(truth.speedMilliRpm > 299_000);
  }

  /** Damage adds up as one over the turns that the file bears, at the strain it has just then. */
  @Test
  void a_curve_breaks_a_file_after_a_number_of_turns_that_speed_does_not_change() throws Exception {
    double slow = turnsInTheCurve(600);
    double quick = turnsInTheCurve(1_200);
    assertEquals(slow, quick, 0.06 * slow, "the quick file is less deep when it breaks");
  }

  private double turnsInTheCurve(int rpm) throws Exception {
    nowMs = 0;
    truth.file = FileCondition.WHOLE;
    Plant plant =
        new Plant(
            Scene.of(
                Map.of(
                    "canal",
                        Map.of(
                            "curve_deg", "30",
                            "curve_radius_mm", "3",
                            "constriction_diameter_mm", "0.4",
                            "taper", "0.08"),
                    "file", Map.of("size", "25", "taper", "0.06"),
                    "hand", Map.of("motion", "stage", "passive_mm", "13", "feed_mm_per_s", "0.01")),
                3));
    command(Drive.OFF, 0, 0);
    // the stage is slow: it carries the file in first, 14 mm at 0.01 mm/s
    run(plant, 1_400_000);
    assertEquals(3_000, truth.remainingMicrons, 1);
    command(Drive.FORWARD, rpm, 60_000);
    double turns = 0;
    double damage = 0;
    while (truth.file == FileCondition.WHOLE && nowMs < 1_500_000) {
      double diameter = 0.25 + 0.06 * (4 - truth.remainingMicrons * 1e-3);
      run(plant, 1);
      double turn = truth.speedMilliRpm / 60e6;
      turns += turn;
      damage += turn / (0.5 * Math.pow(1.3 / (diameter / 6), 2));
    }
    assertEquals(FileCondition.BENT_OFF, truth.file);
    assertEquals(1, damage, 0.01);
    return turns;
  }

  @Test
  void a_straight_canal_does_not_tire_the_file() throws Exception {
    nowMs = 0;
    Plant plant = new Plant(Scene.of(Map.of("hand", Map.of("passive_mm", "4")), 3));
    command(Drive.FORWARD, 600, 20_000);
    run(plant, 120_000);
    assertEquals(FileCondition.WHOLE, truth.file);
  }

  @Test
  void a_file_pressed_in_while_it_stands_locks_in_its_own_cone() throws Exception {
    Plant plant = pressedHard("20");
    command(Drive.FORWARD, 300, 300);
    run(plant, 1_000);
    assertEquals(0, truth.speedMilliRpm, "locked: the limit does not start it");
    command(Drive.BACKWARD, 300, 300);
    run(plant, 1_000);
    assertEquals(0, truth.speedMilliRpm, "the other way too");
    command(Drive.BACKWARD, 300, 8_000);
    run(plant, 1_000);
    assertTrue(truth.speedMilliRpm < -299_000, "torque breaks it loose");

    Plant gently = pressedHard("0.5");
    command(Drive.FORWARD, 300, 1_500);
    run(gently, 200);
    assertTrue(truth.speedMilliRpm > 290_000, "a light hand does not wedge it");
  }

  /** A file that has cut its cone and stopped, pressed on by a hand that did not notice. */
  private Plant pressedHard(String newtons) throws Exception {
    Plant plant =
        cutting(
            Map.of("shear_strength_mpa", "3000"),
            Map.of(
                "hand",
                Map.of(
                    "passive_mm", "15.5",
                    "tremor_um", "10",
                    "press_n", newtons,
                    "push_through_mm", "0.2",
                    "reaction_ms", "300")));
    command(Drive.FORWARD, 300, 30_000);
    run(plant, 32_000);
    command(Drive.BRAKE, 0, 0);
    run(plant, 3_000);
    return plant;
  }

  @Test
  void a_file_that_is_fed_faster_than_it_cuts_is_held_back_and_asks_for_more_torque()
      throws Exception {
    int slow = torqueAtFeed("0.5");
    int fast = torqueAtFeed("3");
    assertTrue(fast > 2 * slow, fast + " against " + slow + " µN·m");
  }

  private int torqueAtFeed(String millimetresPerSecond) throws Exception {
    Plant plant =
        cutting(
            Map.of("shear_strength_mpa", "3000"),
            Map.of("hand", Map.of("passive_mm", "13", "feed_mm_per_s", millimetresPerSecond)));
    command(Drive.FORWARD, 300, 60_000);
    while (truth.remainingMicrons > 1_600) {
      run(plant, 1);
    }
    return truth.torqueMicroNewtonMetres;
  }

  @Test
  void a_tired_battery_shows_in_the_supply_while_the_file_cuts() throws Exception {
    Map<String, Map<String, String>> tired = Map.of("motor", Map.of("supply_ohm", "20"));
    Plant plant = cutting(Map.of("shear_strength_mpa", "3000"), tired);
    command(Drive.FORWARD, 300, 60_000);
    run(plant, 30_000);
    int idle = in.supplyMilliVolts;
    run(plant, 2_000);
    assertTrue(in.supplyMilliVolts < idle - 150, in.supplyMilliVolts + " from " + idle + " mV");
  }

  @Test
  void an_encoder_on_the_motor_does_not_see_the_play_of_the_gear() throws Exception {
    nowMs = 0;
    Plant plant = new Plant(Scene.of(Map.of("motor", Map.of("backlash_deg", "30")), 3));
    command(Drive.FORWARD, 300, 6_000);
    double seen = 0;
    double turned = 0;
    for (int i = 0; i < 400; i++) {
      run(plant, 1);
      seen += in.speedMilliRpm * 6e-6;
      turned += truth.speedMilliRpm * 6e-6;
    }
    assertEquals(15, seen - turned, 1.5, "half of the play, from the middle");
  }
}
