package org.stopwell.rig.board;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.time.MachineClock;
import org.stopwell.rig.wire.BoardIdentity;
import org.stopwell.rig.wire.Message;
import org.stopwell.rig.wire.Packet;

/** An emulated board that keeps account of every good frame that it hears, in order. */
public final class WatchedBoard implements AutoCloseable {
  /** An exchange that turns the motor forward. */
  public static final String TURNING = "EXCHANGE FORWARD";

  private static final int DRIVE = Message.EXCHANGE.index("drive");
  private static final long PATIENCE_S = 200;
  private static final long SLOW_NS = 1_000_000;

  private final LinkedBlockingQueue<String> heard = new LinkedBlockingQueue<>();
  private final EmulatedBoard board;
  private volatile boolean slow;

  /** A board that has just been plugged in. */
  public WatchedBoard(BoardIdentity identity) throws IOException {
    board = EmulatedBoard.start(identity, 0, this::hear);
  }

  private void hear(Packet request) {
    String word = word(request);
    heard.add(word);
    MachineClock.waitNs(slow && word.equals(TURNING) ? SLOW_NS : 0);
  }

  /** Takes its time while the motor turns, so that a trial in lockstep is not over at once. */
  public void slow(boolean on) {
    slow = on;
  }

  private static String word(Packet request) {
    String message = request.message().name();
    return request.message() == Message.EXCHANGE
        ? message + " " + Drive.values()[request.integer(DRIVE)]
        : message;
  }

  public String port() {
    return board.portName();
  }

  /** Waits for a frame; those before it are forgotten. An EXCHANGE has its drive as second word. */
  public void await(String frame) throws InterruptedException {
    String next;
    do {
      next = heard.poll(PATIENCE_S, TimeUnit.SECONDS);
      if (next == null) {
        throw new AssertionError("no " + frame + " in " + PATIENCE_S + " s");
      }
    } while (!next.equals(frame));
  }

  /** What has come since; it is forgotten here. */
  public List<String> heard() {
    List<String> all = new ArrayList<>();
    heard.drainTo(all);
    return all;
  }

  /** Pulls the cable. */
  @Override
  public void close() {
    board.close();
  }
}
