package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.LinearStageContractTest;
import org.stopwell.rig.serial.SerialBench;

/** The stage of the drive board's real binary, whose screw has play in the emulator's world. */
class DriveStageTest extends LinearStageContractTest {
  private static final int TIMES = 10;

  private EmulatedDriveBoard board;
  private SerialBench bench;

  @BeforeAll
  static void build() throws Exception {
    Firmware.make("drive-board", "emulators");
  }

  @BeforeEach
  void plug() throws Exception {
    board = new EmulatedDriveBoard();
    board.hurries(TIMES);
    board.waitsAtRest();
    bench = board.bench("D-0001");
    bench.open();
  }

  @AfterEach
  void unplug() {
    bench.close();
    board.close();
  }

  @Override
  protected LinearStage stage() throws Exception {
    return bench.stage();
  }

  @Override
  protected int carriageMicrons() throws Exception {
    return board.carriageMicrons();
  }

  @Override
  protected void silence(int ms) throws Exception {
    board.pass(ms);
  }

  @Test
  void a_reset_stops_the_stage_and_forgets_home_and_session() throws Exception {
    LinearStage stage = bench.stage();
    stage.home();
    stage.setOut(30_000, 9_000);
    board.tell("reset");
    BenchException e = assertThrows(BenchException.class, stage::status);
    assertEquals(RigFault.SESSION_LOST, e.fault(), e.toString());
    int rests = board.carriageMicrons();
    silence(200);

    assertEquals(rests, board.carriageMicrons());
    bench.close();
    bench.open();
    assertFalse(bench.stage().status().homed());
    assertTrue(rests < 20_000, "carriage at " + rests + " µm");
  }

  @Test
  void an_open_stop_line_stops_the_stage() throws Exception {
    LinearStage stage = bench.stage();
    stage.home();
    stage.setOut(30_000, 3_000);
    board.tell("cut 1");
    silence(100);
    LinearStage.Status rests = stage.status();

    assertEquals("STOP_LINE", rests.why());
    int stood = board.carriageMicrons();
    silence(100);
    assertEquals(stood, board.carriageMicrons());
    BenchException e = assertThrows(BenchException.class, () -> stage.setOut(30_000, 3_000));
    assertTrue(String.valueOf(e.getMessage()).contains("STOP_LINE"), e.getMessage());
  }
}
