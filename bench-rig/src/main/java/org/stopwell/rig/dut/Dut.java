package org.stopwell.rig.dut;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DutException;
import org.stopwell.rig.bench.DutException.Kind;
import org.stopwell.rig.virtual.TwinStand;

/** A board under test at the end of a line. */
final class Dut implements Decider {
  private static final int STEPPED_BYTES = FrameCodec.OUTPUT_BYTES + Long.BYTES + Integer.BYTES;
  private static final int NO_SESSION = 0;
  private static final int OTHER_CONTROLLER = 1;

  private final DutLine line;
  private final DutBuild builds;
  private final long periodNs;
  private final TwinStand clamp;
  private @Nullable BoardTwin watched;
  private @Nullable DutIdentity identity;
  private long ticksPerSecond;
  private long stateHash;

  Dut(DutLine line, DutBuild builds, long periodNs, TwinStand clamp) {
    this.line = line;
    this.builds = builds;
    this.periodNs = periodNs;
    this.clamp = clamp;
  }

  /** Asks who is there. Motor off; a session begins. */
  DutIdentity who() throws BenchException, DutException {
    line.newSession();
    line.request(DutLine.WHO).putShort((short) DutIdentity.VERSION);
    ByteBuffer fields = answer(DutLine.WHO, DutLine.AM);
    if (!DutIdentity.fits(fields)) {
      throw wrong("a board with an identity of " + fields.remaining() + " bytes");
    }
    DutIdentity board = DutIdentity.read(fields);
    if (board.version() != DutIdentity.VERSION || board.layout() != FrameCodec.VERSION) {
      throw wrong(
          "line version "
              + board.version()
              + ", frame layout "
              + board.layout()
              + "; this program needs "
              + DutIdentity.VERSION
              + " and "
              + FrameCodec.VERSION);
    }
    if (board.ticksPerSecond() == 0) {
      throw wrong("a board whose clock has 0 ticks per second");
    }
    ticksPerSecond = board.ticksPerSecond();
    identity = board;
    return board;
  }

  @Override
  public void begin(ControllerSettings settings) throws BenchException, DutException {
    who();
    Optional<String> lack = lack(settings);
    if (lack.isPresent()) {
      throw new BenchException(RigFault.DUT_OTHER, lack.get());
    }
    long wanted = settings.fingerprint();
    long build = builds.fingerprint(settings);
    line.request(DutLine.BEGIN).putLong(wanted).putLong(build);
    answer(DutLine.BEGIN, DutLine.READY);
  }

  /** Whether the board named these settings when it was asked last. */
  boolean holds(ControllerSettings settings) {
    DutIdentity board = identity;
    return board != null && board.settings() == settings.fingerprint();
  }

  @Override
  public Optional<String> lack(ControllerSettings settings) {
    DutIdentity board = identity;
    if (board == null || board.settings() != settings.fingerprint()) {
      long found = board == null ? 0 : board.settings();
      return Optional.of(other("settings", found, settings.fingerprint(), ""));
    }
    long build;
    try {
      build = builds.fingerprint(settings);
    } catch (BenchException e) {
      return Optional.of(String.valueOf(e.getMessage()));
    }
    if (board.build() != build) {
      String why = " Program, or compiler of Java that built it, differ from those of the export.";
      return Optional.of(other("these settings, but build", board.build(), build, why));
    }
    return Optional.empty();
  }

  @Override
  public void beginAlone(ControllerSettings settings, Stage stage)
      throws BenchException, DutException {
    begin(settings);
    BoardTwin twin = new BoardTwin(this, settings, stage, periodNs);
    watched = twin;
    clamp.hold(twin);
  }

  @Override
  public void verify() throws BenchException, DutException {
    BoardTwin twin = watched;
    if (twin != null) {
      twin.verify();
    }
  }

  @Override
  public void step(long nowNs, ControllerInput in, ControllerOutput out)
      throws BenchException, DutException {
    ByteBuffer request = line.request(DutLine.STEP).putLong(nowNs);
    FrameCodec.put(in, request);
    ByteBuffer fields = answer(DutLine.STEP, DutLine.STEPPED);
    if (fields.remaining() != STEPPED_BYTES) {
      throw wrong("STEPPED with " + fields.remaining() + " bytes, not " + STEPPED_BYTES);
    }
    FrameCodec.get(fields, out);
    fields.order(ByteOrder.LITTLE_ENDIAN);
    stateHash = fields.getLong();
    long spentNs = (fields.getInt() & 0xFFFF_FFFFL) * 1_000_000_000 / ticksPerSecond;
    if (spentNs > periodNs) {
      throw new DutException(
          Kind.DUT_LATE,
          at(nowNs)
              + "the board needed "
              + spentNs / 1_000
              + " µs for its step by its own clock; "
              + periodNs / 1_000
              + " µs is allowed.");
    }
  }

  @Override
  public long stateHash() {
    return stateHash;
  }

  /** Motor off; never throws. */
  void off() {
    line.off();
  }

  private ByteBuffer answer(int request, int expected) throws BenchException, DutException {
    ByteBuffer answer = line.ask();
    int message = DutLine.message(answer);
    if (message == expected) {
      return answer;
    }
    if (message != DutLine.REFUSED || answer.remaining() < 2) {
      throw wrong(DutLine.words(request) + " answered by message " + message);
    }
    int why = answer.get();
    DutIdentity.Cause cause = DutIdentity.Cause.of(answer.get());
    if (why == OTHER_CONTROLLER) {
      throw new BenchException(
          RigFault.DUT_OTHER,
          "port " + line.name() + ": the board refuses settings and build; export them again");
    }
    if (why != NO_SESSION) {
      throw wrong(DutLine.words(request) + " refused by the board as a bad request");
    }
    boolean hung = cause == DutIdentity.Cause.WATCHDOG;
    throw new DutException(
        hung ? Kind.DUT_HUNG : Kind.DUT_RESET,
        "port "
            + line.name()
            + (hung
                ? ": the board did not finish a step and its watchdog reset it."
                : ": the board was reset during the trial, by " + cause.words() + "."));
  }

  private String other(String what, long found, long wanted, String why) {
    return String.format(
        Locale.ROOT,
        "port %s: the board holds %s %016x; the trial needs %016x.%s Export them again with this"
            + " program (stopwell export firmware) and write them to the board",
        line.name(),
        what,
        found,
        wanted,
        why);
  }

  private BenchException wrong(String what) {
    return new BenchException(RigFault.WRONG_IDENTITY, "port " + line.name() + ": " + what);
  }

  private static String at(long nowNs) {
    return "At " + nowNs / 1_000_000 + " ms ";
  }
}
