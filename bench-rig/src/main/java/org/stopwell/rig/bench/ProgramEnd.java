package org.stopwell.rig.bench;

import java.util.concurrent.ConcurrentLinkedDeque;
import org.stopwell.rig.bench.BenchException.RigFault;

/**
 * The end of this program, asked for by INT (Ctrl-C) or TERM. Every open bench is stopped and
 * closed, the newest first. Once the end has begun, a bench sends nothing but its stop.
 *
 * <p>The threads of the program and the shutdown hooks of libraries run meanwhile. A library that
 * closes ports in a hook must wait for {@link #begin} first.
 */
public final class ProgramEnd {
  private static final ConcurrentLinkedDeque<Bench> OPEN = new ConcurrentLinkedDeque<>();
  private static volatile boolean begun;

  static {
    try {
      Runtime.getRuntime().addShutdownHook(new Thread(ProgramEnd::begin, "end of the program"));
    } catch (IllegalStateException e) {
      begun = true; // the end began before any bench was open
    }
  }

  private ProgramEnd() {}

  /**
   * Whether the program ends. Never false again once true.
   *
   * @return true from the first moment of the end on
   */
  public static boolean hasBegun() {
    return begun;
  }

  /**
   * A bench is about to be opened.
   *
   * @param bench closed at the end of the program unless it was closed before
   * @throws BenchException when the program ends, so that nothing may be opened any more
   */
  public static void opening(Bench bench) throws BenchException {
    OPEN.addFirst(bench);
    if (begun) {
      OPEN.remove(bench);
      throw new BenchException(RigFault.REFUSED, "the program is ending; no bench can be opened");
    }
  }

  /**
   * A bench is closed.
   *
   * @param bench forgotten here
   */
  public static void closed(Bench bench) {
    OPEN.remove(bench);
  }

  /** Begins the end, or waits until whoever began it has closed every bench. */
  public static synchronized void begin() {
    begun = true;
    OPEN.forEach(Bench::close);
  }
}
