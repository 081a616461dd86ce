package org.stopwell.rig.board;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.MachineClock;

class BoardTimeTest {
  private static final long MS = 1_000_000;

  private long machineNs = 7_000 * MS;

  @Test
  void inLockstepTheTimeIsThatOfTheExchanges() {
    BoardTime time = BoardTime.lockstep();
    assertEquals(0, time.now());
    assertEquals(40 * MS, time.atExchange(40 * MS));
    assertEquals(40 * MS, time.now());
    time.restart();
    assertEquals(0, time.now());
  }

  @Test
  void aBoardByTheClockFollowsItsOwnClockFromTheFirstExchangeOn() {
    BoardTime time = BoardTime.clock(() -> machineNs);
    machineNs += 500 * MS;
    assertEquals(0, time.now(), "before the first exchange no time passes");
    assertEquals(40 * MS, time.atExchange(40 * MS), "the first exchange sets it");
    machineNs += 30 * MS;
    assertEquals(70 * MS, time.now());
    assertEquals(70 * MS, time.atExchange(41 * MS), "what the host says later does not count");
    time.restart();
    machineNs += 30 * MS;
    assertEquals(0, time.now());
    assertEquals(5 * MS, time.atExchange(5 * MS), "a new trial sets it again");
  }

  /** At 20 mm/s a hand carries the file down by 1 mm in 50 ms, whatever time the host names. */
  @Test
  void anEmulatedBoardByTheClockHasAClockOfItsOwn() throws Exception {
    Scene scene =
        Scene.of(
            Map.of("hand", Map.of("start_above_mm", 20, "feed_mm_per_s", 20, "tremor_um", 0)), 1);
    try (EmulatedBoard board = EmulatedBoard.start(EmulatedBoard.identity(false, MS), 0);
        SerialBench bench =
            new SerialBench(
                new SerialLink(board.portName(), SerialLink.BAUD), "serial", null, 100)) {
      bench.open();
      bench.mount(scene);
      ControllerOutput off = TestBoards.command(Drive.OFF);
      bench.exchange(0, off, new ControllerInput());
      int before = bench.truth().remainingMicrons;
      MachineClock.waitNs(60 * MS);
      bench.exchange(MS, off, new ControllerInput());
      int way = before - bench.truth().remainingMicrons;
      assertTrue(way >= 1_000, "the hand moved by " + way + " µm");
    }
  }
}
