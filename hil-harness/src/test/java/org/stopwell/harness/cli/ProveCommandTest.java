package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.board.EmulatedBoard;

/** The proof of a bench from the command line. */
class ProveCommandTest {
  @TempDir Path records;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @ParameterizedTest
  @ValueSource(strings = {"virtual", "emulated"})
  void aSoundBenchIsProven(String kind) {
    assertEquals(0, stopwell("rig prove --bench " + kind), out.toString() + err);
    assertTrue(out.toString().startsWith(kind + ", "), out.toString());
    assertTrue(out.toString().contains(", simulated\n"), out.toString());
    assertEquals(9, out.toString().lines().filter(line -> line.startsWith("PASS ")).count());
  }

  @Test
  void aBoardAtAPortIsProven() throws Exception {
    try (EmulatedBoard board =
        EmulatedBoard.start(EmulatedBoard.identity(true, BenchOptions.PERIOD_NS), 0)) {
      assertEquals(
          0, stopwell("rig prove --bench serial --port " + board.portName()), out.toString() + err);
      assertTrue(out.toString().startsWith("serial, EMULATED-1, stopwell plant"), out.toString());
    }
  }

  @Test
  void aBenchThatIsNotThereIsARigFault() {
    assertEquals(3, stopwell("rig prove --bench serial --port /dev/no-such-port"));
    assertTrue(err.toString().contains("PORT_MISSING"), err.toString());
  }

  private int stopwell(String line) {
    return Main.run(
        (line + " --records " + records).split(" ", -1),
        new PrintWriter(out, true),
        new PrintWriter(err, true));
  }
}
