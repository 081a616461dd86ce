package org.stopwell.rig.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.ChildProgram;
import org.stopwell.rig.board.TestBoards;
import org.stopwell.rig.board.WatchedBoard;

/**
 * A program without a signal handler of its own turns the motor and receives a signal to end. The
 * serial library closes every port at that moment; the boards say what they heard before.
 */
class ProgramEndTest {
  private static final String STOP = "SAFE_STOP";

  private WatchedBoard canal;
  private WatchedBoard drive;

  @BeforeEach
  void plug() throws IOException {
    canal = new WatchedBoard(TestBoards.identity(true, 2000));
    drive = new WatchedBoard(TestBoards.identity(true, 2000));
  }

  @AfterEach
  void unplug() {
    canal.close();
    drive.close();
  }

  @ParameterizedTest
  @ValueSource(strings = {"INT", "TERM"})
  void theLastFrameOfEveryBoardIsASafeStop(String signal) throws Exception {
    Process program = ChildProgram.start(Turning.class, List.of(canal.port(), drive.port()));
    try {
      drive.await(WatchedBoard.TURNING);
      canal.await(WatchedBoard.TURNING);
      ChildProgram.signal(program, signal);
      ChildProgram.await(program);
    } finally {
      program.destroyForcibly();
    }
    assertEndsWithAStop(drive.heard());
    assertEndsWithAStop(canal.heard());
  }

  private static void assertEndsWithAStop(List<String> heard) {
    int stop = heard.indexOf(STOP);
    assertTrue(stop >= 0, "no stop: " + heard);
    assertEquals(Set.of(STOP), Set.copyOf(heard.subList(stop, heard.size())));
  }

  /** Turns the motor for ever. */
  public static final class Turning {
    private Turning() {}

    /** Takes the ports of canal and drive. */
    public static void main(String[] ports) throws Exception {
      try (Bench bench = new BoardsBench(bench(ports[0]), bench(ports[1]))) {
        bench.open();
        bench.mount(TestBoards.scene());
        ControllerInput reading = new ControllerInput();
        for (long t = 1_000_000; ; t += 1_000_000) {
          bench.exchange(t, TestBoards.command(Drive.FORWARD), reading);
        }
      }
    }

    private static SerialBench bench(String port) {
      return new SerialBench(new SerialLink(port, SerialLink.BAUD), "serial", null);
    }
  }
}
