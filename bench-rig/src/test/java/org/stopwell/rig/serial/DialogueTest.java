package org.stopwell.rig.serial;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.List;
import java.util.Queue;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.wire.FrameReader;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/** Who is to blame for an answer that did not come: the board, or the computer that waited. */
class DialogueTest {
  private static final long MS = 1_000_000;
  private static final long LIMIT_MS = 100;
  private static final int TRIES = 4;
  private static final long STALL_MS = 1_500;

  /** What happens at one look for bytes. */
  private enum Look {
    /** Nothing came, and the machine noticed it in time. */
    QUIET,
    /** The machine stood still; what came meanwhile was not fetched yet. */
    STALL,
    /** The answer is there. */
    ANSWER
  }

  private final ScriptedLink link = new ScriptedLink();
  private final Dialogue dialogue = new Dialogue(link, 1, () -> link.nowNs);

  private BenchException fails() {
    return assertThrows(BenchException.class, this::ask);
  }

  private Packet ask() throws BenchException {
    dialogue.newSession();
    dialogue.patience(LIMIT_MS * MS, TRIES);
    dialogue.request(Message.HEARTBEAT);
    return dialogue.ask(Message.OK);
  }

  @Test
  void aBoardThatDoesNotAnswerIsToldWithinItsTime() {
    BenchException e = fails();
    assertEquals(RigFault.NO_ANSWER, e.fault());
    assertEquals(LIMIT_MS * MS, link.nowNs);
    assertEquals(TRIES, link.written);
  }

  @Test
  void aStallOfTheComputerIsNotTheSilenceOfTheBoard() throws Exception {
    for (int before = 0; before < TRIES; before++) {
      for (int i = 0; i < before; i++) {
        link.looks.add(Look.QUIET);
      }
      link.looks.addAll(List.of(Look.STALL, Look.ANSWER));
      assertEquals(Message.OK, ask().message(), before + " quiet waits before the stall");
    }
  }

  @Test
  void afterAStallABoardThatIsDeadIsStillCalledSo() {
    link.looks.add(Look.STALL);
    assertEquals(RigFault.NO_ANSWER, fails().fault());
    assertEquals((LIMIT_MS / TRIES + STALL_MS + LIMIT_MS) * MS, link.nowNs);
  }

  @Test
  void aComputerThatStallsAgainAndAgainIsLateAndSaysNothingOfTheBoard() {
    for (int i = 0; i < 100; i++) {
      link.looks.add(Look.STALL);
    }
    BenchException e = fails();
    assertEquals(RigFault.LATE, e.fault());
    assertTrue(
        String.valueOf(e.getMessage())
            .startsWith(
                "port X: this computer checked late for the answer to HEARTBEAT up to 1500 ms"),
        e.toString());
  }

  /** A line on a clock of its own. */
  private static final class ScriptedLink implements Link {
    private final Queue<Look> looks = new ArrayDeque<>();
    private final FrameReader reader = new FrameReader();
    private long nowNs;
    private int written;
    private byte[] answer = {};

    @Override
    public String name() {
      return "X";
    }

    @Override
    public void open() {}

    @Override
    public void write(byte[] frame, int length) {
      written++;
      for (byte b : Arrays.copyOf(frame, length)) {
        if (reader.take(b)) {
          Packet asked = reader.packet();
          Packet ok = new Packet().begin(Message.OK, asked.session(), asked.sequence());
          FrameWriter writer = new FrameWriter();
          int bytes = writer.write(ok);
          answer = Arrays.copyOf(writer.bytes(), bytes);
        }
      }
    }

    @Override
    public int read(byte[] into, Deadline deadline) {
      Look look = looks.isEmpty() ? Look.QUIET : looks.remove();
      if (look == Look.ANSWER) {
        System.arraycopy(answer, 0, into, 0, answer.length);
        return answer.length;
      }
      nowNs += deadline.leftNs() + (look == Look.STALL ? STALL_MS * MS : 0);
      return 0;
    }

    @Override
    public void forgetInput() {}

    @Override
    public void close() {}
  }
}
