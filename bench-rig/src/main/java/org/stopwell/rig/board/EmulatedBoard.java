package org.stopwell.rig.board;

import java.io.IOException;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.virtual.Plant;
import org.stopwell.rig.virtual.TwinStand;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.FrameReader;
import org.stopwell.rig.wire.FrameWriter;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/**
 * A board that is not there: it speaks the wire protocol on a pseudo-terminal, and any program that
 * can open a serial port may talk to it.
 */
public final class EmulatedBoard implements AutoCloseable {
  private static final int BITS_PER_BYTE = 10;
  private static final int WAIT_MS = 10;
  private static final long CLOSE_LIMIT_MS = 1000;

  /** A host on a busy machine may be this late; nothing moves meanwhile (assumed). */
  private static final long LOCKSTEP_SILENCE_NS = 2_000_000_000L;

  private static final int FRAMES_GOOD = Message.STATUS.index("frames_good");
  private static final int FRAMES_BAD = Message.STATUS.index("frames_bad");

  private final Pty pty;
  private final Board board;
  private final BoardIdentity identity;
  private final long byteNs;
  private final Consumer<Packet> witness;
  private final FrameReader reader = new FrameReader();
  private final FrameWriter writer = new FrameWriter();
  private final Packet answer = new Packet();
  private final Thread thread;
  private volatile boolean closing;
  private volatile @Nullable Throwable failure;
  private int answerBytes;
  private long heardNs;

  private EmulatedBoard(
      BoardIdentity identity,
      BoardTime time,
      long byteNs,
      Consumer<Packet> witness,
      @Nullable TwinStand stand)
      throws IOException {
    this.identity = identity;
    this.witness = witness;
    this.board = new Board(identity, time, new StageModel(MachineClock::nowNs), stand);
    this.byteNs = byteNs;
    this.pty = new Pty();
    this.thread = new Thread(this::run, "board " + pty.name());
    thread.setDaemon(true);
    thread.start();
  }

  /**
   * Default identity of an emulated board.
   *
   * @param lockstep whether board time waits for the exchanges or follows the machine's clock
   * @param periodNs control period, ns
   * @return the identity
   */
  public static BoardIdentity identity(boolean lockstep, long periodNs) {
    return new BoardIdentity(
        FrameWriter.PROTOCOL,
        "emulated bench",
        "EMULATED-1",
        "stopwell plant",
        "",
        BoardBuild.hash(),
        true,
        lockstep,
        true,
        true,
        true,
        true,
        true,
        0,
        periodNs,
        Plant.WATCHDOG_NS,
        lockstep ? LOCKSTEP_SILENCE_NS : Plant.WATCHDOG_NS);
  }

  /**
   * Starts a board.
   *
   * @param identity who it says it is
   * @param baud speed of the wire that it keeps to, bits per second, 8N1; 0 for no wire at all
   * @return the running board
   * @throws IOException when this machine gives no pseudo-terminal
   */
  public static EmulatedBoard start(BoardIdentity identity, int baud) throws IOException {
    return start(identity, baud, request -> {}, null);
  }

  /** Starts a board that watches the device in a clamp. */
  static EmulatedBoard start(BoardIdentity identity, int baud, TwinStand stand) throws IOException {
    return start(identity, baud, request -> {}, stand);
  }

  /** Starts a board that shows every good frame to a witness before it obeys. */
  static EmulatedBoard start(BoardIdentity identity, int baud, Consumer<Packet> witness)
      throws IOException {
    return start(identity, baud, witness, null);
  }

  private static EmulatedBoard start(
      BoardIdentity identity, int baud, Consumer<Packet> witness, @Nullable TwinStand stand)
      throws IOException {
    BoardTime time =
        identity.lockstep() ? BoardTime.lockstep() : BoardTime.clock(MachineClock::nowNs);
    return new EmulatedBoard(identity, time, baud == 0 ? 0 : byteNs(baud), witness, stand);
  }

  /** Time that one byte takes on a wire, 8N1, ns. */
  static long byteNs(int baud) {
    return BITS_PER_BYTE * 1_000_000_000L / baud;
  }

  /**
   * The port to open.
   *
   * @return such as {@code /dev/pts/3}
   */
  public String portName() {
    return pty.name();
  }

  /**
   * Who it says it is.
   *
   * @return the identity
   */
  public BoardIdentity identity() {
    return identity;
  }

  /**
   * What ended the board before it was closed.
   *
   * @return null while all is well
   */
  public @Nullable Throwable failure() {
    return failure;
  }

  /** Pulls the cable: the port vanishes. */
  @Override
  public void close() {
    closing = true;
    try {
      thread.join(CLOSE_LIMIT_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void run() {
    byte[] chunk = new byte[FrameWriter.MAX_FRAME_BYTES];
    try {
      while (!closing) {
        int length = pty.read(chunk, WAIT_MS);
        MachineClock.waitNs(length * byteNs);
        for (int i = 0; i < length; i++) {
          if (reader.take(chunk[i])) {
            obey(reader.packet());
          }
        }
        if (MachineClock.nowNs() - heardNs >= identity.silenceNs()) {
          board.silence();
        }
      }
    } catch (IOException | RuntimeException e) {
      failure = e;
    } finally {
      pty.close();
    }
  }

  private void obey(Packet request) throws IOException {
    witness.accept(request);
    switch (board.take(request, answer)) {
      case IGNORED -> {
        return;
      }
      case ANSWERED -> {
        if (answer.message() == Message.READING) {
          heardNs = MachineClock.nowNs();
        }
        if (answer.message() == Message.STATUS) {
          FrameReader.Counts counts = reader.counts();
          answer.set(FRAMES_GOOD, counts.good()).set(FRAMES_BAD, counts.bad());
        }
        answerBytes = writer.write(answer);
      }
      case REPEATED -> {}
    }
    MachineClock.waitNs(answerBytes * byteNs);
    pty.write(writer.bytes(), answerBytes);
  }
}
