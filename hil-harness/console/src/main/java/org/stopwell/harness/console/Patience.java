package org.stopwell.harness.console;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.TimeUnit;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.util.component.AbstractLifeCycle;
import org.eclipse.jetty.util.thread.Scheduler;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.time.MachineClock;

/**
 * How long a connection may take. Whoever sends a byte now and then is never idle, so each request
 * must be there, and each answer taken, within a time of its own.
 */
final class Patience extends AbstractLifeCycle implements Connection.Listener {
  private static final long LOOK_MS = 1_000;

  private final long requestNs;
  private final long answerNs;
  private final Scheduler scheduler;
  private final Map<Connection, Long> ends = new ConcurrentHashMap<>();
  private Scheduler.@Nullable Task next;

  /**
   * With these limits.
   *
   * @param requestNs from the opening of a connection, or from the last answer, to a whole request
   * @param answerNs from the request until the answer has been taken
   * @param scheduler has somebody look every second
   */
  Patience(long requestNs, long answerNs, Scheduler scheduler) {
    this.requestNs = requestNs;
    this.answerNs = answerNs;
    this.scheduler = scheduler;
  }

  @Override
  public void onOpened(Connection connection) {
    awaitRequest(connection);
  }

  @Override
  public void onClosed(Connection connection) {
    ends.remove(connection);
  }

  /** The next request must come in time. */
  void awaitRequest(Connection connection) {
    ends.put(connection, MachineClock.nowNs() + requestNs);
    if (!connection.getEndPoint().isOpen()) {
      ends.remove(connection);
    }
  }

  /** The answer must be taken in time. */
  void answer(Connection connection) {
    ends.computeIfPresent(connection, (c, end) -> MachineClock.nowNs() + answerNs);
  }

  /** A watcher stays as long as it likes. */
  void watch(Connection connection) {
    ends.remove(connection);
  }

  @Override
  protected void doStart() {
    look();
  }

  @Override
  protected void doStop() {
    if (next != null) {
      next.cancel();
    }
  }

  private void look() {
    long now = MachineClock.nowNs();
    ends.forEach(
        (connection, end) -> {
          if (now - end >= 0) {
            connection.getEndPoint().close();
          }
        });
    next = scheduler.schedule(this::look, LOOK_MS, TimeUnit.MILLISECONDS);
  }
}
