package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.serial.SerialBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

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
  void peopleAreAFactorOfTheGaugeStudyAndItsReadingsAreKept() throws Exception {
    assertEquals(
        0,
        Main.run(
            new String[] {
              "rig",
              "prove",
              "--records",
              records.toString(),
              "--operator",
              "OP-1",
              "--operator",
              "OP, 2"
            },
            new PrintWriter(out, true),
            new PrintWriter(err, true)),
        out.toString() + err);
    assertTrue(out.toString().contains("simulated remounts by OP-1, OP, 2"), out.toString());
    Path readings;
    try (var files = Files.list(records)) {
      readings = files.filter(f -> f.toString().endsWith(".csv")).findFirst().orElseThrow();
    }
    assertEquals(1 + 5 * 2 * 3, Files.readString(readings).lines().count());
    out.getBuffer().setLength(0);
    assertEquals(
        0,
        Main.run(
            new String[] {"rig", "gauge", readings.toString(), "--width", "1000"},
            new PrintWriter(out, true),
            new PrintWriter(err, true)),
        err.toString());
    assertTrue(out.toString().startsWith("5 parts, 2 appraisers (OP-1, OP, 2), 3 readings"));
    assertTrue(out.toString().contains("σ repeatability"), out.toString());
    assertTrue(out.toString().contains("of the tolerance width"), out.toString());
  }

  @Test
  void ofABlindBoardWhatCannotBeTriedIsNotDone() throws Exception {
    Packet identity = new Packet().begin(Message.IDENTITY, 1, 1);
    EmulatedBoard.identity(true, BenchOptions.PERIOD_NS).put(identity);
    identity.set(Message.IDENTITY.index("has_truth"), false);
    try (EmulatedBoard board = EmulatedBoard.start(BoardIdentity.get(identity), 0)) {
      assertEquals(
          5, stopwell("rig prove --bench serial --port " + board.portName()), out.toString() + err);
    }
    List<String> notDone = out.toString().lines().filter(l -> l.startsWith("NOT DONE ")).toList();
    assertEquals(List.of("NOT DONE   ladder", "NOT DONE   gauge study"), notDone);
    assertTrue(out.toString().contains("states has_truth 0; use a board "), out.toString());
  }

  @Test
  void whenNobodySaysThatAllIsClearNothingMovesAndNothingIsProven() throws Exception {
    BoardIdentity identity = EmulatedBoard.identity(true, BenchOptions.PERIOD_NS);
    try (EmulatedBoard canal = EmulatedBoard.start(identity, 0);
        EmulatedBoard drive = EmulatedBoard.start(identity, 0)) {
      String ports = " --port " + canal.portName() + " --drive-port " + drive.portName();
      assertEquals(5, stopwell("rig prove --bench boards" + ports), out.toString() + err);
      SerialBench after =
          new SerialBench(new SerialLink(drive.portName(), SerialLink.BAUD), "serial", null);
      after.open();
      assertFalse(after.stage().status().homed(), "the stage has moved");
      after.close();
    }
    assertEquals(9, out.toString().lines().filter(l -> l.startsWith("NOT DONE ")).count());
    assertEquals(0, out.toString().lines().filter(l -> l.startsWith("FAIL ")).count());
  }

  @Test
  void oneOperatorAloneCannotBeCompared() {
    assertEquals(2, stopwell("rig prove --operator OP-1"));
    assertEquals(2, stopwell("rig prove --operator OP-1 --operator OP-1"));
    assertTrue(err.toString().contains("two or more different codes"), err.toString());
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
