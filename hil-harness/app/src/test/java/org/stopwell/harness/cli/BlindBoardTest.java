package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.board.EmulatedBoard;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/** Boards that cannot do what a plan needs of them. */
class BlindBoardTest {
  @TempDir Path directory;

  @ParameterizedTest
  @CsvSource({
    "has_truth,    tolerance_mm: the verdict needs the true distance",
    "has_motor,    stage: a trial turns the file",
    "has_position, settings: the controller needs the position of the tip",
  })
  void aBoardThatLacksWhatThePlanNeedsIsRefusedBeforeAnythingMoves(String flag, String need)
      throws Exception {
    assertRefused(flag, true, need);
  }

  @ParameterizedTest
  @CsvSource("has_stage, scene.hand.motion: stage feeds the file")
  void aBoardOfMatterWithoutAStageIsRefusedAPlanThatFeedsByOne(String flag, String need)
      throws Exception {
    assertRefused(flag, false, need);
  }

  /** It runs every other plan, but it has no messages for a device. */
  @Test
  void aBoardOfVersion5RunsAPlanAndIsRefusedAPlanWithADevice() throws Exception {
    Packet identity = new Packet().begin(Message.IDENTITY, 1, 1);
    EmulatedBoard.identity(true, BenchOptions.PERIOD_NS).put(identity);
    identity.set(Message.IDENTITY.index("protocol"), 5);
    Path plan = directory.resolve("one.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: one
        settings: %s
        stage: length
        seed: 3
        trials: 1
        time_limit_s: 30
        scene:
          canal: {kind: resistors, length_mm: 8, body_ohm: 6500}
          hand: {feed_mm_per_s: 1, passive_mm: 6}
        """
            .formatted(TestPlans.root().resolve("docs/settings/resistance.yaml")));
    try (EmulatedBoard board = EmulatedBoard.start(BoardIdentity.get(identity), 0)) {
      String at = " --bench serial --port " + board.portName() + " --out " + directory;
      StringWriter err = new StringWriter();
      assertEquals(0, stopwell("run " + plan + at + "/one", err), err.toString());
      assertEquals(2, stopwell("run " + TestPlans.file("device-twin") + at + "/device", err));
      String wanted =
          "controller: external watches a device with a motor of its own, but port "
              + board.portName()
              + ": emulated bench EMULATED-1, wire protocol 5 (at least 6 needed), watches no"
              + " device; use --bench virtual or emulated, or a device board with the"
              + " firmware of this version";
      assertTrue(err.toString().contains(wanted), err.toString());
      assertFalse(Files.exists(directory.resolve("device")));
    }
  }

  private static int stopwell(String line, StringWriter err) {
    return Main.run(
        line.split(" ", -1), new PrintWriter(new StringWriter()), new PrintWriter(err, true));
  }

  private void assertRefused(String flag, boolean simulated, String need) throws Exception {
    Packet identity = new Packet().begin(Message.IDENTITY, 1, 1);
    EmulatedBoard.identity(true, BenchOptions.PERIOD_NS).put(identity);
    identity.set(Message.IDENTITY.index(flag), false);
    identity.set(Message.IDENTITY.index("simulated"), simulated);
    try (EmulatedBoard board = EmulatedBoard.start(BoardIdentity.get(identity), 0)) {
      StringWriter err = new StringWriter();
      Path run = directory.resolve("run");
      String[] args = {
        "run",
        TestPlans.file("stage-feed").toString(),
        "--bench",
        "serial",
        "--port",
        board.portName(),
        "--out",
        run.toString()
      };
      int code = Main.run(args, new PrintWriter(new StringWriter()), new PrintWriter(err, true));
      assertEquals(2, code, err.toString());
      String wanted =
          need
              + ", but port "
              + board.portName()
              + ": emulated bench EMULATED-1 states "
              + flag
              + " 0; use a board ";
      assertTrue(err.toString().contains(wanted), err.toString());
      assertFalse(Files.exists(run));
    }
  }
}
