package org.stopwell.rig.dut;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.List;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.serial.Link;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.virtual.VirtualBench;
import org.stopwell.rig.wire.BodyReader;
import org.stopwell.rig.wire.BodyWriter;

/** A line with a board under test at its end, played in this program; it can fail on purpose. */
public final class PlayedDut implements Link {
  /** What goes wrong at a step. */
  public enum Trouble {
    NONE,
    HANGS,
    IS_RESET,
    IS_LATE,
    LIES,
    FORGETS,
    GOES_SILENT,
    LINE_IS_CUT,
    LINE_DAMAGES,
    ANSWER_IS_LOST
  }

  public static final long BUILD = 0x1234_5678_9abc_def0L;
  private static final int TICKS_PER_SECOND = 1_000_000;
  private static final int TRY_NS = 2_000_000;

  private final ControllerSettings settings;
  private final Trouble trouble;
  private final int atStep;
  private final BodyReader reader = new BodyReader();
  private final BodyWriter writer = new BodyWriter();
  private final ControllerInput in = new ControllerInput();
  private final ControllerOutput out = new ControllerOutput();
  private StopController controller;
  private byte[] answer = {};
  private int unread;
  private int session;
  private int sequence;
  private boolean started;
  private int cause;
  private int starts = 1;
  private boolean silent;
  private boolean cut;
  public int steps;
  public boolean motorOff = true;

  public PlayedDut(ControllerSettings settings, Trouble trouble, int atStep) {
    this.settings = settings;
    this.trouble = trouble;
    this.atStep = atStep;
    controller = new StopController(settings);
  }

  /** A bench with a board that decides, whose requests are repeated after 2 ms. */
  public static DutBench bench(VirtualBench played, PlayedDut board, long build) {
    return bench(played, List.of(board), build);
  }

  /** The same with several boards. */
  public static DutBench bench(VirtualBench played, List<PlayedDut> boards, long build) {
    return new DutBench(played, boards, settings -> build, TRY_NS);
  }

  @Override
  public String name() {
    return "played";
  }

  @Override
  public void open() {}

  @Override
  public void write(byte[] bytes, int length) throws BenchException {
    if (cut) {
      throw new BenchException(RigFault.PORT_GONE, "port played: it is gone");
    }
    for (int i = 0; i < length; i++) {
      if (reader.take(bytes[i]) && !silent) {
        request(reader.body());
      }
    }
  }

  private void request(ByteBuffer body) {
    int message = body.get() & 0xFF;
    int from = body.getInt();
    int number = body.getInt();
    if (from == session && number == sequence && answer.length > 0) {
      unread = answer.length; // asked again: not obeyed again
      return;
    }
    if (message == DutLine.WHO) {
      session = from;
      started = false;
      motorOff = true;
    } else if (from != session) {
      send(header(DutLine.REFUSED, from, number).put((byte) 0).put((byte) cause));
      return;
    }
    sequence = number;
    switch (message) {
      case DutLine.WHO ->
          send(
              header(DutLine.AM, from, number)
                  .putShort((short) DutIdentity.VERSION)
                  .putShort((short) FrameCodec.VERSION)
                  .putLong(settings.fingerprint())
                  .putLong(BUILD)
                  .putInt(TICKS_PER_SECOND)
                  .putInt(starts)
                  .put((byte) cause)
                  .put((byte) 'p'));
      case DutLine.BEGIN -> {
        controller = new StopController(settings);
        started = true;
        steps = 0;
        send(header(DutLine.READY, from, number));
      }
      case DutLine.STEP -> step(body, from, number);
      default -> {
        motorOff = true;
        started = false;
        send(header(DutLine.READY, from, number));
      }
    }
  }

  private void step(ByteBuffer body, int from, int number) {
    long nowNs = body.getLong();
    FrameCodec.get(body, in);
    boolean now = started && ++steps == atStep;
    if (now && (trouble == Trouble.HANGS || trouble == Trouble.IS_RESET)) {
      // The chip starts anew: no session, no answer to this request, which is repeated.
      cause = trouble == Trouble.HANGS ? 1 : 3;
      starts++;
      session = 0;
      answer = new byte[0];
      started = false;
      motorOff = true;
      return;
    }
    silent |= now && trouble == Trouble.GOES_SILENT;
    cut |= now && trouble == Trouble.LINE_IS_CUT;
    if (silent || cut) {
      return;
    }
    controller.step(nowNs, in, out);
    if (now && trouble == Trouble.LIES) {
      out.speedMilliRpm++;
    }
    if (now && trouble == Trouble.FORGETS) {
      controller = new StopController(settings);
    }
    motorOff = !out.drive.turns();
    ByteBuffer to = header(DutLine.STEPPED, from, number);
    FrameCodec.put(out, to);
    to.order(ByteOrder.LITTLE_ENDIAN).putLong(controller.stateHash());
    to.putInt(now && trouble == Trouble.IS_LATE ? TICKS_PER_SECOND / 500 : 30);
    send(to);
    if (trouble == Trouble.LINE_DAMAGES && steps >= atStep) {
      answer[answer.length / 2] ^= 1;
    }
    if (now && trouble == Trouble.ANSWER_IS_LOST) {
      unread = 0;
    }
  }

  private ByteBuffer header(int message, int to, int number) {
    return writer.body().put((byte) message).putInt(to).putInt(number);
  }

  private void send(ByteBuffer ignored) {
    int length = writer.frame();
    answer = java.util.Arrays.copyOf(writer.bytes(), length);
    unread = length;
  }

  @Override
  public int read(byte[] into, Deadline deadline) throws BenchException {
    if (cut) {
      throw new BenchException(RigFault.PORT_GONE, "port played: it is gone");
    }
    if (unread == 0) {
      MachineClock.waitNs(deadline.leftNs());
      return 0;
    }
    System.arraycopy(answer, 0, into, 0, answer.length);
    unread = 0;
    return answer.length;
  }

  @Override
  public void forgetInput() {
    unread = 0;
  }

  @Override
  public void close() {}
}
