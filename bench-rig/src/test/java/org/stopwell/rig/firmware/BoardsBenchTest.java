package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchContractTest;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.BoardsBench;

/**
 * Both boards as real binaries, coupled by the stage: what every bench must keep, kept by firmware
 * by its own clocks.
 */
class BoardsBenchTest extends BenchContractTest {
  private static final int TIMES = 10;

  private static TwoBoards boards;

  @BeforeAll
  static void plug() throws Exception {
    boards = TwoBoards.patient(TIMES);
  }

  @AfterAll
  static void unplug() {
    boards.close();
  }

  @Override
  protected Bench newBench() {
    return boards.paced();
  }

  @Override
  protected long stepNs() {
    return 20_000_000;
  }

  private static Map<String, Map<String, ?>> feeding() {
    Map<String, Map<String, ?>> scene = new HashMap<>();
    scene.put("canal", Map.of("kind", "resistors", "length_mm", "16"));
    scene.put("hand", Map.of("motion", "stage", "feed_mm_per_s", "0.5"));
    return scene;
  }

  @Override
  protected Scene scene(long seed) throws Exception {
    return Scene.of(feeding(), seed);
  }

  @Test
  void boards_at_each_other_s_port_are_refused_before_anything_moves() throws Exception {
    try (Bench bench = new BoardsBench(boards.drive.bench(null), boards.canal.bench(null))) {
      BenchException e = assertThrows(BenchException.class, bench::open);

      assertEquals(RigFault.WRONG_IDENTITY, e.fault(), e.toString());
      assertTrue(String.valueOf(e.getMessage()).contains("position of the tip"), e.getMessage());
    }
  }

  @Test
  void after_a_silent_host_the_reading_shows_that_the_motor_rests() throws Exception {
    ControllerInput reading = new ControllerInput();
    ControllerOutput command = new ControllerOutput();
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6_000;
    try (Bench bench = newBench()) {
      bench.open();
      bench.mount(scene(1));
      long nowNs = 0;
      for (int i = 0; i < 40; i++) {
        nowNs += stepNs();
        bench.exchange(nowNs, command, reading);
      }
      assertTrue(reading.speedMilliRpm > 200_000, reading.speedMilliRpm + " mrpm");
      long laterNs = nowNs + 1_000_000_000;
      BenchException e =
          assertThrows(BenchException.class, () -> bench.exchange(laterNs, command, reading));

      assertEquals(RigFault.WATCHDOG, e.fault(), e.toString());
      assertEquals(0, reading.speedMilliRpm);
    }
  }

  @Test
  void what_the_stage_cannot_play_is_refused() throws Exception {
    Map<String, Map<String, ?>> scene = feeding();
    scene.put("hand", Map.of("motion", "stage", "push_through_mm", "0.2"));
    try (Bench bench = newBench()) {
      bench.open();
      Scene pushing = Scene.of(scene, 1);
      BenchException e = assertThrows(BenchException.class, () -> bench.mount(pushing));

      assertEquals(RigFault.REFUSED, e.fault(), e.toString());
      assertTrue(String.valueOf(e.getMessage()).contains("hand.push_through_mm"), e.getMessage());
    }
  }

  @Test
  void a_stage_that_does_not_go_where_its_motor_steps_is_found_by_the_canal() throws Exception {
    Map<String, Map<String, ?>> scene = feeding();
    scene.put("hand", Map.of("motion", "stage", "start_above_mm", "2"));
    try (Bench bench = newBench()) {
      bench.open();
      bench.mount(scene(1));
      assertEquals(17_000, bench.truth().remainingMicrons, 50);
      boards.drive.tell("stick 1");
      Scene further = Scene.of(scene, 1);
      BenchException e = assertThrows(BenchException.class, () -> bench.mount(further));

      assertEquals(RigFault.STAGE, e.fault(), e.toString());
      assertTrue(String.valueOf(e.getMessage()).contains("the canal's encoder says"), e.toString());
      boards.drive.tell("stick 0");
      bench.mount(further);
      assertEquals(18_000, bench.truth().remainingMicrons, 50);
    }
  }
}
