package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;

class PlantTest {
  private static final long MS = 1_000_000;

  /** Passes from the orifice past the foramen; a quiet machine needs two. */
  private static final int PASSES = 20;

  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private final Truth truth = new Truth();

  private Plant plant(String section, Map<String, String> values) throws Exception {
    return new Plant(Scene.of(Map.of(section, values), 3));
  }

  private void turn(Drive drive) {
    out.drive = drive;
    out.speedMilliRpm = 300_000;
    out.torqueLimitMicroNewtonMetres = 6_000;
  }

  private void run(Plant plant, long fromMs, long toMs) {
    for (long ms = fromMs; ms <= toMs; ms++) {
      plant.advance(ms * MS, out);
    }
    plant.read(in);
    plant.truth(truth);
  }

  /**
   * What an exchange allocates, it allocates every time. What the virtual machine adds while it
   * compiles, it adds now and then, and more often on a busy machine. One pass without a byte shows
   * that the exchange needs none.
   */
  @Test
  void an_exchange_allocates_nothing() throws Exception {
    long least = Long.MAX_VALUE;
    for (int pass = 0; pass < PASSES && least > 0; pass++) {
      Plant plant = plant("file", Map.of("size", "30", "shear_strength_mpa", "3000"));
      turn(Drive.FORWARD);
      plant.advance(0, out);
      least = Math.min(least, allocated(plant, 1, 40_000));
      assertTrue(truth.remainingMicrons < 0, "the way goes through the whole canal");
    }
    assertEquals(0, least, "bytes in the best of " + PASSES + " passes");
  }

  private long allocated(Plant plant, long fromMs, long toMs) {
    ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
    long before = threads.getCurrentThreadAllocatedBytes();
    for (long ms = fromMs; ms <= toMs; ms++) {
      plant.advance(ms * MS, out);
      plant.read(in);
      plant.truth(truth);
    }
    return threads.getCurrentThreadAllocatedBytes() - before;
  }

  @Test
  void a_hand_waits_at_its_passive_depth_for_a_motor_that_never_turns() throws Exception {
    Plant plant = plant("hand", Map.of("passive_mm", "10", "tremor_um", "0"));
    run(plant, 1, 40_000);

    assertEquals(6_000, truth.remainingMicrons, 1);
  }

  @Test
  void a_hand_stops_feeding_a_reaction_time_after_the_motor() throws Exception {
    Plant plant =
        plant("hand", Map.of("feed_mm_per_s", "1", "reaction_ms", "200", "tremor_um", "0"));
    turn(Drive.FORWARD);
    run(plant, 1, 5_000);
    int atStop = truth.remainingMicrons;
    out.drive = Drive.BRAKE;
    run(plant, 5_001, 8_000);

    assertEquals(atStop - 200, truth.remainingMicrons, 12);
  }

  @Test
  void a_hand_that_pushes_through_goes_further() throws Exception {
    Plant plant =
        plant(
            "hand",
            Map.of(
                "feed_mm_per_s", "1",
                "reaction_ms", "200",
                "push_through_mm", "0.5",
                "tremor_um", "0"));
    turn(Drive.FORWARD);
    run(plant, 1, 5_000);
    int atStop = truth.remainingMicrons;
    out.drive = Drive.BRAKE;
    run(plant, 5_001, 8_000);

    assertEquals(atStop - 700, truth.remainingMicrons, 12);
  }

  @Test
  void a_hand_that_withdraws_takes_the_file_out() throws Exception {
    Plant plant =
        plant("hand", Map.of("after_stop", "withdraw", "hold_ms", "500", "feed_mm_per_s", "2"));
    turn(Drive.FORWARD);
    run(plant, 1, 5_000);
    out.drive = Drive.OFF;
    run(plant, 5_001, 20_000);

    assertEquals(17_000, truth.remainingMicrons, 20);
  }

  @Test
  void pecking_and_hesitating_hands_keep_to_their_kind() throws Exception {
    int[] steady = feedSteps("steady");
    int[] pecking = feedSteps("pecking");
    int[] hesitating = feedSteps("hesitating");
    assertTrue(steady[0] > 0, "a steady hand only goes in");
    assertTrue(pecking[0] < 0, "a pecking hand goes in and out");
    assertEquals(0, hesitating[0], "a hesitating hand pauses");
    assertEquals(steady[1], pecking[1], 1000);
    assertTrue(hesitating[1] < steady[1] * 0.8);
  }

  private Plant pecking(String afterStop) throws Exception {
    Plant plant =
        plant(
            "hand",
            Map.of(
                "motion", "pecking",
                "after_stop", afterStop,
                "passive_mm", "12",
                "peck_stroke_mm", "0.8",
                "tremor_um", "0"));
    run(plant, 1, 10_000);
    return plant;
  }

  /** Where the file of a hand of 0.5 mm/s was when it had turned for 0.3 s and rests, µm. */
  private int losesTheMotorAtOnce(Plant plant) {
    turn(Drive.FORWARD);
    run(plant, 10_001, 10_300);
    out.drive = Drive.BRAKE;
    run(plant, 10_301, 10_500);
    return truth.remainingMicrons;
  }

  @Test
  void a_pecking_hand_that_loses_the_motor_at_once_draws_back_and_comes_again() throws Exception {
    Plant plant = pecking("hold");
    int lost = losesTheMotorAtOnce(plant);
    int highest = lost;
    for (int ms = 10_501; ms <= 30_000; ms++) {
      run(plant, ms, ms);
      highest = Math.max(highest, truth.remainingMicrons);
    }
    assertEquals(lost + 800, highest, 50, "drawn back by a stroke");
    assertEquals(4_000, truth.remainingMicrons, 1, "carried in to its passive depth");
  }

  @Test
  void a_pecking_hand_that_comes_again_pecks_only_where_it_cannot_lift_the_tip_out()
      throws Exception {
    Plant plant = pecking("hold");
    losesTheMotorAtOnce(plant);
    run(plant, 10_501, 15_000);
    turn(Drive.FORWARD);
    run(plant, 15_001, 15_200);
    int began = truth.remainingMicrons;
    int last = began;
    int strokes = 0;
    for (int ms = 15_201; ms < 20_000; ms++) {
      run(plant, ms, ms);
      boolean goesUp = truth.remainingMicrons > last;
      assertTrue(!goesUp || began - truth.remainingMicrons > 0, "at " + ms + " ms");
      strokes += goesUp ? 1 : 0;
      last = truth.remainingMicrons;
    }
    assertTrue(strokes > 500, "it pecks again: " + strokes + " ms on the way up");
  }

  @Test
  void a_pecking_hand_stays_after_a_stop_more_than_a_stroke_deeper() throws Exception {
    Plant plant = pecking("hold");
    turn(Drive.FORWARD);
    run(plant, 10_001, 14_000);
    out.drive = Drive.BRAKE;
    run(plant, 14_001, 14_200);
    int stopped = truth.remainingMicrons;
    run(plant, 14_201, 30_000);
    assertEquals(stopped, truth.remainingMicrons, 1);
  }

  @Test
  void a_pecking_hand_at_its_passive_depth_stays_after_a_stop() throws Exception {
    Plant plant = pecking("hold");
    run(plant, 10_001, 30_000);
    turn(Drive.FORWARD);
    run(plant, 30_001, 30_400);
    out.drive = Drive.BRAKE;
    run(plant, 30_401, 30_600);
    int stopped = truth.remainingMicrons;
    assertTrue(stopped > 4_000 - 800 && stopped < 4_000, "within a stroke: " + stopped);
    run(plant, 30_601, 40_000);
    assertEquals(stopped, truth.remainingMicrons, 1);
  }

  /** Least move within 20 ms, and the whole way, of a turning file, µm. */
  private int[] feedSteps(String motion) throws Exception {
    Plant plant = plant("hand", Map.of("motion", motion, "tremor_um", "0"));
    turn(Drive.FORWARD);
    run(plant, 1, 1_000);
    int start = truth.remainingMicrons;
    int least = Integer.MAX_VALUE;
    int last = start;
    for (int i = 0; i < 500; i++) {
      run(plant, 1_001 + 20L * i, 1_020 + 20L * i);
      least = Math.min(least, last - truth.remainingMicrons);
      last = truth.remainingMicrons;
    }
    return new int[] {least, start - last};
  }

  /** Where a ⌀0.35 tip binds in a canal of ⌀0.25 at 0.5 mm that widens by 0.06 per mm, mm. */
  private static final double BINDS = 0.5 + 0.10 / 0.06;

  private Plant thickFile() throws Exception {
    return new Plant(
        Scene.of(
            Map.of(
                "file", Map.of("size", "35", "taper", "0.05"),
                "hand", Map.of("passive_mm", "15.5", "tremor_um", "0")),
            3));
  }

  @Test
  void a_file_that_does_not_turn_stops_where_it_binds() throws Exception {
    Plant plant = thickFile();
    run(plant, 1, 40_000);
    assertEquals(1000 * BINDS, truth.remainingMicrons, 1);

    turn(Drive.FORWARD);
    run(plant, 40_001, 42_000);
    int cutTo = truth.remainingMicrons;
    assertTrue(cutTo < 1000 * BINDS - 500, "cut down to " + cutTo);
    out.drive = Drive.BRAKE;
    run(plant, 42_001, 44_000);
    assertEquals(cutTo, truth.remainingMicrons, 5);
  }

  @Test
  void cutting_asks_for_torque_and_a_low_limit_stalls_it() throws Exception {
    Plant plant = thickFile();
    turn(Drive.FORWARD);
    run(plant, 1, 32_000);
    // 1 J/mm³ × ring between canal at the tip and cone where it meets the wall × feed per angle
    double tip = truth.remainingMicrons * 1e-3;
    double canalAtTip = 0.125 + 0.03 * (tip - 0.5);
    double wallAbove = (0.175 - canalAtTip) / (0.03 - 0.025);
    double widest = 0.175 + 0.025 * wallAbove;
    double ring = Math.PI * (widest * widest - canalAtTip * canalAtTip);
    double expected = 1e6 * ring * 0.5 / (10 * Math.PI);
    int torque = truth.torqueMicroNewtonMetres;
    assertEquals(expected, torque, 0.01 * expected);
    assertEquals(torque, in.torqueMicroNewtonMetres, 0.01 * torque, "the driver's estimate");

    out.torqueLimitMicroNewtonMetres = torque / 4;
    run(plant, 32_001, 32_100);
    assertEquals(0, truth.speedMilliRpm);
    assertEquals(0.25 * torque, in.torqueMicroNewtonMetres, 1, "what the driver believes");
    // the rotor's swing has wound the file up, and the friction of motor and gear keeps it so
    double friction = 2 * 250 * 10 * 0.85;
    assertTrue(
        truth.torqueMicroNewtonMetres <= (torque / 4.0 + friction) / (0.85 * 0.85),
        truth.torqueMicroNewtonMetres + " µN·m");
  }

  @Test
  void a_canal_filled_too_far_floods_its_chamber_by_itself() throws Exception {
    Plant plant = plant("fluid", Map.of("level_mm", "15.8"));
    plant.truth(truth);
    assertFalse(truth.chamberWet);
    turn(Drive.FORWARD);
    run(plant, 1, 30_000);
    assertTrue(truth.chamberWet);
    assertTrue(truth.fluidLevelMicrons > 16_000);
  }

  @Test
  void the_emergency_stop_takes_the_power_whatever_is_commanded() throws Exception {
    Plant plant = plant("hand", Map.of("emergency_stop_ms", "1000"));
    turn(Drive.FORWARD);
    run(plant, 1, 999);
    assertTrue(truth.speedMilliRpm > 299_000);
    assertFalse(in.stopLine);
    run(plant, 1_000, 2_000);
    assertTrue(in.stopLine);
    assertTrue(truth.stopLine);
    assertEquals(0, truth.speedMilliRpm);
  }

  @Test
  void the_result_does_not_depend_on_how_often_the_host_asks() throws Exception {
    turn(Drive.FORWARD);
    Plant often = plant("hand", Map.of());
    for (long us = 250; us <= 20_000_000; us += 250) {
      often.advance(us * 1000, out);
    }
    Plant seldom = plant("hand", Map.of());
    for (long ms = 50; ms <= 20_000; ms += 50) {
      seldom.advance(ms * MS, out);
    }
    often.truth(truth);
    int remaining = truth.remainingMicrons;
    seldom.truth(truth);
    assertEquals(remaining, truth.remainingMicrons);
  }

  @Test
  void samples_arrive_after_their_delay() throws Exception {
    Plant plant = plant("front_end", Map.of("sample_ms", "10", "delay_ms", "25"));
    run(plant, 1, 24);
    assertEquals(PositionKind.ABSENT, in.positionKind);
    run(plant, 25, 25);
    assertEquals(1, in.sampleSequence);
    assertEquals(0, in.sampleTimeNs);
    run(plant, 26, 100);
    assertEquals(8, in.sampleSequence);
    assertEquals(70 * MS, in.sampleTimeNs);
  }

  @Test
  void noise_has_the_size_it_is_given() throws Exception {
    Plant plant =
        plant("front_end", Map.of("noise_percent", "1", "hum_percent", "0", "sample_ms", "1"));
    out.drive = Drive.OFF;
    run(plant, 1, 30_000);
    double sum = 0;
    double squares = 0;
    int n = 5000;
    for (int i = 1; i <= n; i++) {
      run(plant, 30_000 + i, 30_000 + i);
      double z = in.zRealMilliOhms[0] * 1e-3;
      sum += z;
      squares += z * z;
    }
    double mean = sum / n;
    double sd = Math.sqrt(squares / n - mean * mean);
    assertEquals(0.01, sd / mean, 0.001);
  }

  @Test
  void an_outside_locator_has_no_contact_until_the_tip_is_wet_and_then_shows_steps()
      throws Exception {
    Plant plant =
        plant(
            "front_end",
            Map.of(
                "signal", "distance",
                "locator_noise_um", "0",
                "locator_step_um", "50",
                "locator_rate_hz", "4"));
    run(plant, 1, 5_000);
    assertEquals(PositionKind.NO_CONTACT, in.positionKind);
    assertEquals(0, in.distanceMicrons);
    assertEquals(20, in.sampleSequence);
    run(plant, 5_001, 30_000);
    assertEquals(PositionKind.DISTANCE, in.positionKind);
    assertEquals(0, in.distanceMicrons % 50);
    assertEquals(truth.remainingMicrons, in.distanceMicrons, 30);
    assertEquals(120, in.sampleSequence);
  }

  @Test
  void a_short_circuit_rails_the_front_end() throws Exception {
    Plant plant = plant("canal", Map.of("kind", "resistors", "body_ohm", "200", "shunt_ohm", "50"));
    run(plant, 1, 10_000);
    assertTrue(in.railed);
  }

  @Test
  void a_smaller_measuring_current_is_noisier_in_proportion() throws Exception {
    double full = spread("10");
    assertEquals(4, spread("2.5") / full, 0.2);
  }

  private double spread(String microAmps) throws Exception {
    Plant plant =
        new Plant(
            Scene.of(
                Map.of(
                    "canal", Map.of("kind", "resistors", "ohm_per_mm", "0"),
                    "front_end",
                        Map.of("excitation_ua", microAmps, "hum_percent", "0", "sample_ms", "1")),
                3));
    out.drive = Drive.OFF;
    run(plant, 1, 5_000);
    double squares = 0;
    int n = 4000;
    for (int i = 1; i <= n; i++) {
      run(plant, 5_000 + i, 5_000 + i);
      double miss = in.zRealMilliOhms[0] * 1e-3 - 6500;
      squares += miss * miss;
    }
    return Math.sqrt(squares / n);
  }

  /** A first-order filter follows a ramp late by its time constant. */
  @Test
  void a_slow_front_end_reads_what_was_a_time_constant_ago() throws Exception {
    Plant plant =
        new Plant(
            Scene.of(
                Map.of(
                    "canal", Map.of("kind", "resistors"),
                    "hand", Map.of("tremor_um", "0"),
                    "front_end",
                        Map.of(
                            "settle_ms", "200",
                            "noise_percent", "0",
                            "hum_percent", "0",
                            "delay_ms", "0",
                            "sample_ms", "1")),
                3));
    run(plant, 1, 20_000);
    double truly = 6500 + 3 * truth.remainingMicrons;
    // 3000 Ω/mm × 0.5 mm/s × 0.2 s; cable and rounding take some ohms
    assertEquals(truly + 300, in.zRealMilliOhms[0] * 1e-3, 8);
  }

  @Test
  void the_scale_drifts_as_told() throws Exception {
    Plant plant =
        new Plant(
            Scene.of(
                Map.of(
                    "canal", Map.of("kind", "resistors", "ohm_per_mm", "0"),
                    "front_end",
                        Map.of(
                            "drift_percent_per_min", "2",
                            "noise_percent", "0",
                            "hum_percent", "0",
                            "delay_ms", "0")),
                3));
    run(plant, 1, 60_000);
    assertEquals(6500 * 1.02, in.zRealMilliOhms[0] * 1e-3, 0.1);
  }

  @Test
  void a_coarse_converter_reads_in_steps() throws Exception {
    Plant plant = plant("front_end", Map.of("resolution_ohm", "50"));
    for (int i = 0; i < 100; i++) {
      run(plant, 20_000 + 5 * i, 20_004 + 5 * i);
      assertEquals(0, in.zRealMilliOhms[0] % 50_000);
    }
  }

  @Test
  void suction_dries_the_canal() throws Exception {
    Plant plant = plant("fluid", Map.of("drying_mm3_per_s", "0.1"));
    plant.truth(truth);
    assertEquals(8_000, truth.fluidLevelMicrons, 1);
    run(plant, 1, 5_000);
    Bore bore = new Bore(Canal.of(Scene.of(Map.of(), 0).section("canal")));
    double left = bore.heightOf(bore.volumeBelow(8e-3) - 5 * 0.1e-9);
    assertEquals(1e6 * left, truth.fluidLevelMicrons, 2);
    run(plant, 5_001, 30_000);
    assertEquals(0, truth.fluidLevelMicrons);
  }

  @Test
  void a_stage_stops_with_the_motor() throws Exception {
    Plant plant = plant("hand", Map.of("motion", "stage", "feed_mm_per_s", "1"));
    turn(Drive.FORWARD);
    run(plant, 1, 5_000);
    int atStop = truth.remainingMicrons;
    out.drive = Drive.BRAKE;
    run(plant, 5_001, 6_000);
    assertEquals(atStop, truth.remainingMicrons, 20);
  }

  private Plant cutting(Map<String, String> more, String level) throws Exception {
    Map<String, String> file = new HashMap<>(more);
    file.put("size", "35");
    file.put("taper", "0.05");
    return new Plant(
        Scene.of(
            Map.of(
                "file", file,
                "fluid", Map.of("level_mm", level),
                "hand", Map.of("passive_mm", "15.5", "tremor_um", "0")),
            3));
  }

  @Test
  void a_threaded_file_pulls_itself_in_beyond_the_hands_feed() throws Exception {
    turn(Drive.FORWARD);
    Plant plain = cutting(Map.of(), "8");
    run(plain, 1, 31_000);
    int without = truth.remainingMicrons;
    Plant threaded = cutting(Map.of("screw_in_mm_per_turn", "0.1"), "8");
    run(threaded, 1, 31_000);
    assertTrue(truth.remainingMicrons < without - 100, truth.remainingMicrons + ", " + without);
  }

  @Test
  void debris_packs_where_the_canal_is_dry_and_not_where_it_is_wet() throws Exception {
    turn(Drive.FORWARD);
    out.torqueLimitMicroNewtonMetres = 40_000;
    int wet = torqueAfterCutting("8");
    int dry = torqueAfterCutting("0");
    assertTrue(dry > 1.3 * wet, dry + " against " + wet);
  }

  private int torqueAfterCutting(String level) throws Exception {
    Plant plant = cutting(Map.of("debris_per_mm", "1"), level);
    run(plant, 1, 31_500);
    return truth.torqueMicroNewtonMetres;
  }
}
