package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.SerialBench;

/**
 * The drive board's real binary in an instruction-level emulator, the real serial library at its
 * UART, and the relay that gives its motor power watched outside.
 */
class DriveBoardTest {
  private static final long MS = 1_000_000;
  private static final int TIMES = 10;

  private final ControllerInput reading = new ControllerInput();
  private final ControllerOutput command = new ControllerOutput();
  private EmulatedDriveBoard board;
  private SerialBench bench;
  private long nowNs;

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("drive-board", "emulators");
  }

  @BeforeEach
  void start() throws Exception {
    board = new EmulatedDriveBoard();
    board.hurries(TIMES);
    bench = board.bench("D-0001");
    bench.open();
    board.waitsForItsHost();
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6_000;
  }

  @AfterEach
  void unplug() {
    bench.close();
    board.close();
  }

  private void mount() throws Exception {
    nowNs = 0;
    bench.mount(Scene.of(Map.of(), 1));
  }

  private void run(Drive drive, int exchanges) throws BenchException {
    for (int i = 0; i < exchanges; i++) {
      nowNs += 5 * MS;
      command.drive = drive;
      bench.exchange(nowNs, command, reading);
    }
  }

  @Test
  void it_turns_both_ways_at_the_speed_it_is_told_and_says_its_torque() throws Exception {
    mount();
    board.tell("load 150");
    // Full power is 2 % less than the board believes: the loop has to find that out.
    run(Drive.FORWARD, 80);
    assertEquals(300_000, reading.speedMilliRpm, 3_000);
    assertEquals(250, reading.currentMilliAmps, 12, "a step of the converter is 5 mA");
    assertEquals(3_000, reading.torqueMicroNewtonMetres, 240, "150 mA beyond idle, 2 N·cm per A");
    run(Drive.BRAKE, 40);
    assertEquals(0, reading.speedMilliRpm);
    run(Drive.BACKWARD, 80);
    assertEquals(-300_000, reading.speedMilliRpm, 3_000);
  }

  @Test
  void torque_beyond_the_limit_slows_it_down() throws Exception {
    mount();
    run(Drive.FORWARD, 60);
    board.tell("load 310");
    run(Drive.FORWARD, 30);
    assertTrue(reading.speedMilliRpm < 150_000, reading.speedMilliRpm + " milli-rpm");
  }

  @Test
  void a_silent_host_finds_the_relay_open_and_hears_of_it() throws Exception {
    mount();
    run(Drive.FORWARD, 10);
    board.await("power 1");
    board.tell("after 300");
    board.await("power 0");

    BenchException e = assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1));
    assertEquals(RigFault.WATCHDOG, e.fault(), e.toString());
    board.forget();
    assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1));
    mount();
    run(Drive.FORWARD, 10);
    assertEquals("power 1", board.await("power"), "not before the next mount");
  }

  @Test
  void a_reset_opens_the_relay_and_an_old_command_turns_nothing() throws Exception {
    mount();
    run(Drive.FORWARD, 10);
    board.await("power 1");
    board.tell("reset");
    board.await("power 0");
    board.pass(400);

    // What still waits in some buffer belongs to a session that the board no longer has.
    BenchException e = assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1));
    assertEquals(RigFault.SESSION_LOST, e.fault(), e.toString());
    bench.close();
    bench.open();
    assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1), "nothing is mounted");
    mount();
    run(Drive.OFF, 5);
    assertEquals(0, reading.speedMilliRpm);
    run(Drive.FORWARD, 5);
    assertEquals("power 1", board.await("power"), "the first power since the reset");
  }

  @Test
  void a_stop_line_that_opens_takes_the_power_until_reset_rest_and_a_new_demand() throws Exception {
    mount();
    run(Drive.FORWARD, 20);
    board.await("power 1");
    board.tell("cut 1");
    run(Drive.FORWARD, 5); // the board's time goes on with its host alone
    board.await("power 0");
    assertTrue(reading.stopLine && bench.truth().stopLine);

    board.tell("cut 0");
    run(Drive.FORWARD, 30);
    assertTrue(reading.stopLine, "release alone clears nothing");
    board.tell("press 1");
    run(Drive.FORWARD, 10);
    board.tell("press 0");
    assertFalse(reading.stopLine);
    board.forget();
    run(Drive.FORWARD, 10);
    run(Drive.OFF, 2);
    board.tell("tell");
    assertFalse(
        board.until("carriage ").contains("power 1"), "the old demand that still stands is none");
    run(Drive.FORWARD, 10);
    board.await("power 1");
  }
}
