package org.stopwell.rig.serial;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.RepeatableBenchContractTest;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.TestBoards;

/** A serial bench on a port that a board of its own life is behind. */
class SerialBenchContractTest extends RepeatableBenchContractTest {
  private static final List<EmulatedBoard> BOARDS = new ArrayList<>();

  @Override
  protected Bench newBench() {
    try {
      EmulatedBoard board = EmulatedBoard.start(TestBoards.identity(true, 2000), 0);
      BOARDS.add(board);
      return new SerialBench(new SerialLink(board.portName(), SerialLink.BAUD), "serial", "T-0001");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @AfterEach
  void unplug() {
    BOARDS.forEach(EmulatedBoard::close);
    BOARDS.clear();
  }
}
