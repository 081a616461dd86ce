package org.stopwell.rig.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.board.TestBoards;

/** Boards are found by who they are, not by where they are plugged in. */
class BoardSearchTest {
  private EmulatedBoard one;
  private EmulatedBoard other;
  private List<String> ports;

  @BeforeEach
  void plug() throws Exception {
    one = EmulatedBoard.start(TestBoards.identity(true, 2000), 0);
    other = EmulatedBoard.start(EmulatedBoard.identity(true, 1_000_000), 0);
    ports = List.of("/dev/no-such-port", one.portName(), other.portName());
  }

  @AfterEach
  void unplug() {
    one.close();
    other.close();
  }

  @Test
  void theBoardIsFoundAtWhateverPortItIs() throws Exception {
    assertEquals(one.portName(), BoardSearch.find("T-0001", ports, SerialLink.BAUD));
    assertEquals(other.portName(), BoardSearch.find("EMULATED-1", ports, SerialLink.BAUD));
  }

  @Test
  void aBoardThatIsNotThereIsMissedWithAllThatIs() {
    BenchException e =
        assertThrows(
            BenchException.class, () -> BoardSearch.find("C-0042", ports, SerialLink.BAUD));

    assertEquals(RigFault.PORT_MISSING, e.fault());
    String said = String.valueOf(e.getMessage());
    assertTrue(said.startsWith("no board C-0042; found: "), said);
    assertTrue(said.contains("/dev/no-such-port: PORT_MISSING"), said);
    assertTrue(
        said.contains(one.portName() + ": test board T-0001, stopwell plant 7 c0ffee"), said);
    assertTrue(said.contains(other.portName() + ": emulated bench EMULATED-1, "), said);
  }

  @Test
  void twoBoardsOfOneNumberAreNotGuessedBetween() throws Exception {
    try (EmulatedBoard twin = EmulatedBoard.start(TestBoards.identity(true, 2000), 0)) {
      List<String> both = List.of(one.portName(), twin.portName());
      BenchException e =
          assertThrows(
              BenchException.class, () -> BoardSearch.find("T-0001", both, SerialLink.BAUD));

      String said = String.valueOf(e.getMessage());
      assertTrue(said.startsWith("2 boards T-0001; found: " + one.portName() + ": "), said);
    }
  }

  @Test
  void anEmulatedBoardTellsTheHashOfItsBuild() {
    String hash = other.identity().firmwareHash();
    assertTrue(hash.matches("[0-9a-f]{16}"), hash);
    assertEquals(hash, EmulatedBoard.identity(false, 1).firmwareHash());
  }
}
