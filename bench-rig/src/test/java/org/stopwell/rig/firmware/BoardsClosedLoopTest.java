package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.State;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.BoardsBench;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.truth.TruthCheck;

/** The controller, two boards as real binaries, and a stage between them: one whole stop. */
class BoardsClosedLoopTest {
  private static final int CANAL_STEP_MICRONS = 5;
  private static final int TIMES = 10;
  private static final long MS = 1_000_000;

  private EmulatedDriveBoard drive;
  private EmulatedCanalBoard canal;
  private SerialBench canalBench;
  private BoardsBench bench;

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("canal-board", "drive-board", "emulators");
  }

  @BeforeEach
  void plug() throws Exception {
    drive = new EmulatedDriveBoard();
    canal = new EmulatedCanalBoard();
    drive.waitsAtRest();
    drive.hurries(TIMES);
    canal.hurries(TIMES);
    drive.carries(canal, CANAL_STEP_MICRONS);
    canalBench = canal.bench("C-0001");
    bench = new BoardsBench(canalBench, drive.bench("D-0001"));
    bench.open();
  }

  @AfterEach
  void unplug() {
    bench.close();
    drive.close();
    canal.close();
  }

  /** 1 % of the ladder is 27 µm at the standoff (computed), and its steps are 10 µm. */
  private static final int LADDER_MICRONS = 50;

  /** The line that the ladder must make: 6500 Ω at the foramen, 3000 Ω more each mm. */
  private static Calibration line() {
    return new Calibration(
        List.of(point(-1_000), point(0), point(1_000), point(2_000), point(4_000)));
  }

  private static Calibration.Point point(int microns) {
    long milliOhms = 6_500_000L + 3_000L * microns;
    return new Calibration.Point(milliOhms, microns, milliOhms, LADDER_MICRONS);
  }

  /**
   * A host that gets no processor for 0.1 s of the boards' time has lost them: they stop safely.
   */
  @Test
  void the_stage_feeds_the_file_and_stops_with_the_motor_at_the_standoff() throws Exception {
    for (int again = 0; again < 4; again++) {
      try {
        feedAndStop();
        return;
      } catch (BenchException lost) {
        assertTrue(lost.toString().contains("cut the power by itself"), lost.toString());
        unplug();
        plug();
      }
    }
    feedAndStop();
  }

  private void feedAndStop() throws Exception {
    Scene scene =
        Scene.of(
            Map.of(
                "canal", Map.of("kind", "resistors", "ohm_per_mm", 3000, "length_mm", 4),
                "fluid", Map.of("level_mm", 4),
                "hand", Map.of("motion", "stage", "feed_mm_per_s", "1", "start_above_mm", "0.2")),
            1);
    bench.mount(scene);
    TruthCheck check = new TruthCheck(scene, bench); // honest boards are never accused
    check.mounted(bench.truth());
    drive.waitsForItsHost();
    canal.waitsForItsHost();
    StopController controller =
        new StopController(
            ControllerSettings.of(
                Map.of(
                    "file", Map.of("size", 25, "taper", "0.04"),
                    "sense", Map.of("policy", "resistance", "low_hz", 700),
                    "stages.length", Map.of("speed_rpm", 300, "torque_ncm", "0.6")),
                line()));
    ControllerInput reading = new ControllerInput();
    ControllerOutput command = new ControllerOutput();
    long nowNs = 0;
    boolean turned = false;
    int held = 0;
    bench.exchange(nowNs, command, reading);
    for (int i = 0; i < 1_500 && held < 25; i++) {
      nowNs = Math.max(nowNs + 5 * MS, canalBench.truth().timeNs);
      controller.step(nowNs, reading, command);
      bench.exchange(nowNs + MS, command, reading);
      check.look(nowNs + MS, command, reading, bench.truth());
      turned |= command.drive == Drive.FORWARD && reading.speedMilliRpm > 200_000;
      held = turned && command.state == State.HOLDING ? held + 1 : 0;
    }

    String end = command.state + ", " + command.reason + ", " + bench.truth().remainingMicrons;
    assertTrue(turned, "the motor has turned; " + end);
    assertEquals(State.HOLDING, command.state, end);
    // 1 % of the ladder is 27 µm there (computed); the controller stops early by the feed that it
    // sees times 150 ms. Each emulated board has a time of its own, so a feed of 1 mm/s can look
    // like
    // one of 4 mm/s and bring the stop 600 µm forward; it never brings it later.
    assertTrue(bench.truth().remainingMicrons > 400 && bench.truth().remainingMicrons < 1_200, end);
    assertEquals(0, reading.speedMilliRpm);
    int stood = drive.carriageMicrons();
    for (int i = 0; i < 10; i++) {
      nowNs = Math.max(nowNs + 5 * MS, canalBench.truth().timeNs);
      controller.step(nowNs, reading, command);
      bench.exchange(nowNs + MS, command, reading);
      check.look(nowNs + MS, command, reading, bench.truth());
    }
    assertEquals(stood, drive.carriageMicrons(), "the stage stands as long as the motor does");
  }
}
