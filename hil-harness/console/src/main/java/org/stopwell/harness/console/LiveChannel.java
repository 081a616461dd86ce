package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import org.eclipse.jetty.util.Callback;
import org.jspecify.annotations.Nullable;

/**
 * The way from a run to its watchers, as server-sent events. One thread takes each frame once and
 * hands the same bytes to all. The first watcher of a run gets every frame, the others the newest
 * one twice a second. Who has not yet taken the last frame gets no new one: a slow watcher loses
 * frames, and nobody waits for it. Without watchers nothing is read and the thread rests.
 */
final class LiveChannel implements AutoCloseable {
  /** Updates per second for the first watcher of a run. */
  static final int FIRST_PER_S = 50;

  /** Updates per second for every other watcher. */
  static final int OTHERS_PER_S = 2;

  /** Most watchers of all runs together; assumed: a class of students and then some. */
  static final int MOST_WATCHERS = 250;

  private static final int TURNS = FIRST_PER_S / OTHERS_PER_S;
  private static final int BEAT_TICKS = 10 * FIRST_PER_S; // shows which watchers have gone

  private static final ByteBuffer BEAT = event(":\n\n");
  private static final ByteBuffer FIRST_PACE = pace(FIRST_PER_S);
  private static final ByteBuffer OTHER_PACE = pace(OTHERS_PER_S);

  private final LiveSource.Opener opener;
  private final Map<Path, Watched> runs = new LinkedHashMap<>();
  private final ScheduledExecutorService thread =
      Executors.newSingleThreadScheduledExecutor(LiveChannel::daemon);
  private @Nullable ScheduledFuture<?> ticking;
  private int watchers;
  private long ticks;
  private long made;

  LiveChannel(LiveSource.Opener opener) {
    this.opener = opener;
  }

  /** Where a watcher's bytes go; returns at once and calls back when they are gone. */
  @FunctionalInterface
  interface Sink {
    void write(boolean last, ByteBuffer bytes, Callback sent);
  }

  /** What became of somebody who wants to watch. */
  enum Entry {
    WATCHING,
    NO_FEED,
    FULL
  }

  /**
   * Adds a watcher.
   *
   * @param run the run directory
   * @param sink takes what is sent, headers first
   * @param gone called once, when the watcher has left or is sent away
   */
  synchronized Entry watch(Path run, Sink sink, Callback gone) throws IOException {
    if (watchers >= MOST_WATCHERS) {
      return Entry.FULL;
    }
    Watched watched = runs.get(run);
    if (watched == null) {
      Optional<LiveSource> source = opener.open(run);
      if (source.isEmpty()) {
        return Entry.NO_FEED;
      }
      watched = new Watched(source.get());
      runs.put(run, watched);
    }
    watchers++;
    watched.watchers.add(new Watcher(sink, gone));
    if (ticking == null) {
      long every = TimeUnit.SECONDS.toNanos(1) / FIRST_PER_S;
      ticking = thread.scheduleAtFixedRate(this::tick, 0, every, TimeUnit.NANOSECONDS);
    }
    return Entry.WATCHING;
  }

  /** Frames that were made since the start, however many watchers got them. */
  synchronized long made() {
    return made;
  }

  /** Everybody who watches now. */
  synchronized int watchers() {
    return watchers;
  }

  @Override
  public synchronized void close() {
    runs.values().forEach(Watched::end);
    runs.clear();
    rest();
    thread.shutdownNow();
  }

  private void rest() {
    if (ticking != null) {
      ticking.cancel(false);
      ticking = null;
    }
    watchers = 0;
  }

  private synchronized void tick() {
    ticks++;
    runs.values().removeIf(Watched::isOver);
    watchers = runs.values().stream().mapToInt(run -> run.watchers.size()).sum();
    if (runs.isEmpty()) {
      rest();
    }
  }

  private static Thread daemon(Runnable work) {
    Thread thread = new Thread(work, "console-live");
    thread.setDaemon(true);
    return thread;
  }

  private static ByteBuffer pace(int perSecond) {
    return event("retry: 2000\nevent: pace\ndata: " + perSecond + "\n\n");
  }

  private static ByteBuffer together(ByteBuffer first, ByteBuffer second) {
    return ByteBuffer.allocate(first.remaining() + second.remaining())
        .put(first.duplicate())
        .put(second.duplicate())
        .flip();
  }

  private static ByteBuffer event(String text) {
    return ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8)).asReadOnlyBuffer();
  }

  private static ByteBuffer event(byte[] frame) {
    byte[] head = "data: ".getBytes(StandardCharsets.UTF_8);
    return ByteBuffer.allocate(head.length + frame.length + 2)
        .put(head)
        .put(frame)
        .put((byte) '\n')
        .put((byte) '\n')
        .flip()
        .asReadOnlyBuffer();
  }

  /** A run that somebody watches. */
  private final class Watched {
    private final LiveSource source;
    private final List<Watcher> watchers = new ArrayList<>();
    private ByteBuffer newest = BEAT;
    private long number;

    Watched(LiveSource source) {
      this.source = source;
    }

    /** One turn; true when nobody is left or nothing more comes. */
    boolean isOver() {
      watchers.removeIf(Watcher::hasLeft);
      if (watchers.isEmpty()) {
        source.close();
        return true;
      }
      try {
        source.next().ifPresent(this::take);
      } catch (IOException | RuntimeException e) {
        end();
        return true;
      }
      for (int i = 0; i < watchers.size(); i++) {
        watchers.get(i).serve(i, newest, number);
      }
      return false;
    }

    private void take(byte[] frame) {
      newest = event(frame);
      number++;
      made++;
    }

    void end() {
      watchers.forEach(Watcher::leave);
      source.close();
    }
  }

  /** One browser. */
  private final class Watcher implements Callback {
    private final Sink sink;
    private final Callback gone;
    private final AtomicBoolean busy = new AtomicBoolean();
    private volatile boolean failed;
    private int pace;
    private long seen;

    Watcher(Sink sink, Callback gone) {
      this.sink = sink;
      this.gone = gone;
    }

    /** Its place in the row decides how often it gets a frame; not all in the same moment. */
    void serve(int place, ByteBuffer newest, long number) {
      int due = place == 0 ? FIRST_PER_S : OTHERS_PER_S;
      if (due != pace) {
        if (send(together(due == FIRST_PER_S ? FIRST_PACE : OTHER_PACE, newest))) {
          pace = due;
          seen = number;
        }
      } else if (seen != number) {
        if ((place == 0 || (ticks + place) % TURNS == 0) && send(newest)) {
          seen = number;
        }
      } else if ((ticks + place) % BEAT_TICKS == 0) {
        send(BEAT);
      }
    }

    private boolean send(ByteBuffer bytes) {
      if (!busy.compareAndSet(false, true)) {
        return false;
      }
      sink.write(false, bytes.duplicate(), this);
      return true;
    }

    @Override
    public void succeeded() {
      busy.set(false);
    }

    @Override
    public void failed(Throwable why) {
      failed = true;
    }

    boolean hasLeft() {
      if (failed) {
        gone.failed(new IOException("the watcher has left"));
      }
      return failed;
    }

    /** What has not gone out yet is lost. */
    void leave() {
      if (busy.compareAndSet(false, true)) {
        sink.write(true, ByteBuffer.allocate(0), gone);
      } else {
        gone.failed(new IOException("the feed has ended"));
      }
    }
  }
}
