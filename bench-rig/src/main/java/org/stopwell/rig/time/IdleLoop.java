package org.stopwell.rig.time;

/**
 * A loop that keeps a period and does nothing in it, beside one that does: when this one is late
 * too, the computer is, and not what the other one waits for.
 */
public final class IdleLoop implements AutoCloseable {
  private final LatenessHistogram lateness = new LatenessHistogram();
  private final Thread thread;
  private volatile boolean ended;

  /**
   * Starts the loop.
   *
   * @param periodNs its period, ns
   */
  public IdleLoop(long periodNs) {
    Pace pace = Pace.realTime(periodNs);
    thread =
        new Thread(
            () -> {
              do {
                pace.next();
                lateness.add(pace.latenessNs());
              } while (!ended);
            },
            "idle loop");
    thread.setDaemon(true);
    thread.start();
  }

  /**
   * Ends the loop.
   *
   * @return how late it was at worst, ns
   */
  public long worstNs() {
    close();
    return lateness.worstNs();
  }

  @Override
  public void close() {
    ended = true;
    try {
      thread.join();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
