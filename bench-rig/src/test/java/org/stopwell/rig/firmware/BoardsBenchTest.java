package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.HashMap;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchContractTest;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.BoardsBench;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;

/**
 * Both boards as real binaries, coupled by the stage: what every bench must keep, kept by firmware
 * by its own clocks.
 */
class BoardsBenchTest extends BenchContractTest {
  private static final int CANAL_STEP_MICRONS = 5;
  private static final int TIMES = 4;

  private static EmulatedDriveBoard drive;
  private static EmulatedCanalBoard canal;

  @BeforeAll
  static void plug() throws Exception {
    Firmware.make("canal-board", "drive-board", "emulators");
    drive = new EmulatedDriveBoard();
    canal = new EmulatedCanalBoard();
    drive.waitsForItsHost();
    drive.hurries(TIMES);
    canal.hurries(TIMES);
    drive.carries(canal, CANAL_STEP_MICRONS);
  }

  @AfterAll
  static void unplug() {
    drive.close();
    canal.close();
  }

  @Override
  protected Bench newBench() {
    return new Paced(
        new BoardsBench(
            new SerialBench(new SerialLink(canal.port(), SerialLink.BAUD), "serial", "C-0001"),
            new SerialBench(new SerialLink(drive.port(), SerialLink.BAUD), "serial", "D-0001")));
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
    SerialLink first = new SerialLink(drive.port(), SerialLink.BAUD);
    SerialLink second = new SerialLink(canal.port(), SerialLink.BAUD);
    try (Bench bench =
        new BoardsBench(
            new SerialBench(first, "serial", null), new SerialBench(second, "serial", null))) {
      BenchException e = assertThrows(BenchException.class, bench::open);

      assertEquals(RigFault.WRONG_IDENTITY, e.fault(), e.toString());
      assertTrue(String.valueOf(e.getMessage()).contains("where the tip is"), e.getMessage());
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
      drive.tell("stick 1");
      Scene further = Scene.of(scene, 1);
      BenchException e = assertThrows(BenchException.class, () -> bench.mount(further));

      assertEquals(RigFault.STAGE, e.fault(), e.toString());
      assertTrue(String.valueOf(e.getMessage()).contains("the canal's encoder says"), e.toString());
      drive.tell("stick 0");
      bench.mount(further);
      assertEquals(18_000, bench.truth().remainingMicrons, 50);
    }
  }

  /** A bench whose exchanges wait for their time by the clocks of the boards. */
  private static final class Paced extends ForwardingBench {
    private long newestNs;

    Paced(Bench bench) {
      super(bench);
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      try {
        canal.tell("wait 0"); // it follows the stage while nobody speaks to it
        bench.mount(scene);
        canal.waitsForItsHost();
      } catch (IOException e) {
        throw new AssertionError(e);
      }
      newestNs = 0;
    }

    @Override
    public void exchange(long nowNs, ControllerOutput command, ControllerInput reading)
        throws BenchException {
      long ms = (nowNs - newestNs) / 1_000_000;
      try {
        drive.pass(ms);
        canal.pass(ms);
      } catch (IOException | InterruptedException e) {
        throw new AssertionError(e);
      }
      bench.exchange(nowNs, command, reading);
      newestNs = nowNs;
    }
  }
}
