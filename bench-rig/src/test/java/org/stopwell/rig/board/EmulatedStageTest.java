package org.stopwell.rig.board;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.LinearStageContractTest;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.BoardIdentity;

/** The stage of the emulated board, over the real serial library and a pseudo-terminal. */
class EmulatedStageTest extends LinearStageContractTest {
  private EmulatedBoard board;
  private SerialBench bench;

  @BeforeEach
  void plug() throws Exception {
    board = EmulatedBoard.start(EmulatedBoard.identity(true, 1_000_000), 0);
    bench = benchOn(board);
  }

  private static SerialBench benchOn(EmulatedBoard board) throws BenchException {
    SerialBench bench =
        new SerialBench(new SerialLink(board.portName(), SerialLink.BAUD), "serial", null);
    bench.open();
    return bench;
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
    return bench.stage().status().positionMicrons();
  }

  @Override
  protected void silence(int ms) {
    MachineClock.waitNs(ms * 1_000_000L);
  }

  @Test
  void a_board_without_a_stage_says_so_in_its_identity() throws Exception {
    BoardIdentity with = TestBoards.identity(true, 2000);
    BoardIdentity without =
        new BoardIdentity(
            with.protocol(),
            with.board(),
            with.serialNumber(),
            with.firmware(),
            with.firmwareVersion(),
            with.firmwareHash(),
            true,
            true,
            true,
            true,
            true,
            false,
            true,
            0,
            with.periodNs(),
            with.watchdogNs(),
            with.silenceNs());

    try (EmulatedBoard other = EmulatedBoard.start(without, 0);
        SerialBench plain = benchOn(other)) {
      BenchException e = assertThrows(BenchException.class, plain::stage);
      assertEquals(RigFault.REFUSED, e.fault(), e.toString());
    }
  }
}
