package org.stopwell.rig.serial;

import java.util.function.LongSupplier;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ProgramEnd;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.FrameReader;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;
import org.stopwell.rig.wire.Refusal;

/**
 * One request, one answer: session, sequence, second tries, and an end to every wait.
 *
 * <p>Only a wait at whose end this machine looks in time says something about the board. After a
 * wait at whose end the machine was late itself, the answer may lie unread: the host asks again.
 */
final class Dialogue {
  private static final int ERROR_CODE = Message.ERROR.index("code");
  private static final int ERROR_WHY = Message.ERROR.index("why");

  /** Enough to read all that an inbox holds; what comes after that is babble. */
  private static final int LATE_CHUNKS = 16;

  /** So many waits for one answer may end late before the machine is the trouble (assumed). */
  private static final int LATE_WAITS = 8;

  private final Link link;
  private final LongSupplier clock;
  private final FrameWriter writer = new FrameWriter();
  private final FrameReader reader = new FrameReader();
  private final Packet request = new Packet();
  private final byte[] chunk = new byte[FrameWriter.MAX_FRAME_BYTES];
  private int from;
  private int to;
  private int session;
  private int sequence;
  private final int times;
  private int tries;
  private long triesNs;
  private long limitNs;
  private Deadline limit;
  private Deadline again;
  private long heardNs;
  private long badBefore;
  private int length;
  private long sent;
  private long resent;
  private long ignored;

  /** Waits a multiple of the requested time, and repeats requests at the usual rate. */
  Dialogue(Link link, int times) {
    this(link, times, MachineClock::nowNs);
  }

  Dialogue(Link link, int times, LongSupplier clock) {
    this.link = link;
    this.times = times;
    this.clock = clock;
    limit = Deadline.in(0, clock);
    again = limit;
  }

  /** A new session: late frames of an older session are rejected. */
  void newSession() {
    int before = session;
    session = (int) MachineClock.epochMicros();
    if (session == before || session == 0) {
      session = before + 1;
    }
    sequence = 0;
    link.forgetInput();
    reader.forget();
    from = 0;
    to = 0;
  }

  /** How long to wait for an answer, ns, and how often to ask again until then. */
  void patience(long newLimitNs, int newTries) {
    limitNs = times * newLimitNs;
    tries = times * newTries;
    triesNs = newLimitNs / newTries;
  }

  Packet request(Message message) {
    sequence++;
    return request.begin(message, session, sequence);
  }

  /** Sends the request and waits for its answer; a board's refusal is an answer too. */
  Packet ask(Message expected) throws BenchException {
    send();
    return await(expected);
  }

  /** Sends the request; the wait for its answer begins. */
  void send() throws BenchException {
    length = writer.write(request);
    badBefore = reader.counts().bad();
    limit = Deadline.in(limitNs, clock);
    write();
    sent++;
  }

  /** Once the program ends nothing but a stop goes out, neither as a new frame nor again. */
  private void write() throws BenchException {
    if (ProgramEnd.hasBegun() && request.message() != Message.SAFE_STOP) {
      throw new BenchException(
          RigFault.REFUSED,
          "port " + link.name() + ": the program is ending; no " + request.message() + " is sent");
    }
    again = Deadline.in(triesNs, clock);
    heardNs = clock.getAsLong();
    link.write(writer.bytes(), length);
  }

  /** Waits for the answer to the request. */
  Packet await(Message expected) throws BenchException {
    int quiet = 0;
    int late = 0;
    int babble = 0;
    long latestNs = 0;
    while (true) {
      while (from < to) {
        if (reader.take(chunk[from++]) && isAnswer(reader.packet())) {
          return judge(reader.packet(), expected);
        }
      }
      if (to > 0 && limit.passed() && ++babble > LATE_CHUNKS) {
        throw noAnswer(reader.counts().bad() - badBefore);
      }
      from = 0;
      to = link.read(chunk, again);
      if (to > 0) {
        heardNs = clock.getAsLong();
      } else {
        // While other bytes arrived, this deadline was not waited for.
        long lateNs = Math.min(again.overdueNs(), clock.getAsLong() - heardNs);
        latestNs = Math.max(latestNs, lateNs);
        if (lateNs > triesNs) {
          late++;
        } else {
          quiet++;
        }
        if (quiet >= tries) {
          throw noAnswer(reader.counts().bad() - badBefore);
        }
        if (late > LATE_WAITS) {
          throw late(latestNs);
        }
        write();
        resent++;
      }
    }
  }

  private boolean isAnswer(Packet packet) {
    if (packet.session() == session
        && packet.sequence() == sequence
        && !packet.message().fromHost()) {
      return true;
    }
    ignored++;
    return false;
  }

  private Packet judge(Packet answer, Message expected) throws BenchException {
    if (answer.message() == expected || answer.message() == Message.REFUSED) {
      return answer;
    }
    String what = "port " + link.name() + ": " + request.message();
    if (answer.message() != Message.ERROR) {
      throw new BenchException(
          RigFault.WRONG_IDENTITY,
          what + " was answered by " + answer.message() + " instead of " + expected);
    }
    Refusal refusal = Refusal.values()[answer.integer(ERROR_CODE)];
    RigFault fault =
        switch (refusal) {
          case NO_SESSION, OTHER_SESSION -> RigFault.SESSION_LOST;
          default -> RigFault.REFUSED;
        };
    throw new BenchException(fault, what + ": " + refusal + ", " + answer.text(ERROR_WHY));
  }

  private BenchException noAnswer(long bad) {
    String what =
        "port "
            + link.name()
            + ": no answer to "
            + request.message()
            + " within "
            + limitNs / 1_000_000
            + " ms";
    return bad == 0
        ? new BenchException(RigFault.NO_ANSWER, what)
        : new BenchException(
            RigFault.BAD_FRAMES,
            what + ", but " + bad + " damaged frames; check the speed (--baud)");
  }

  private BenchException late(long latestNs) {
    return new BenchException(
        RigFault.LATE,
        "port "
            + link.name()
            + ": this computer checked late for the answer to "
            + request.message()
            + " up to "
            + latestNs / 1_000_000
            + " ms late, "
            + (LATE_WAITS + 1)
            + " times; "
            + triesNs / 1_000_000
            + " ms is allowed. This states nothing about the board; end other programs");
  }

  LinkCounts counts() {
    return new LinkCounts(sent, resent, ignored, reader.counts());
  }
}
