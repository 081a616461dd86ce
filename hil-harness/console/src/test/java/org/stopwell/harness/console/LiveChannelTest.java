package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.eclipse.jetty.util.Callback;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.time.MachineClock;

/** One reads, everybody sees, nobody waits. */
class LiveChannelTest {
  private static final Path RUN = Path.of("run");

  private final AtomicInteger opened = new AtomicInteger();
  private final AtomicInteger asked = new AtomicInteger();
  private final AtomicInteger closed = new AtomicInteger();
  private final AtomicInteger limit = new AtomicInteger(Integer.MAX_VALUE);
  private volatile boolean damaged;
  private final LiveChannel channel = new LiveChannel(run -> Optional.of(source()));

  @AfterEach
  void close() {
    channel.close();
  }

  @Test
  void theFirstWatcherGetsEveryFrameAndEveryOtherTheNewestTwiceASecond() throws Exception {
    List<Seat> seats = IntStream.range(0, 200).mapToObj(i -> new Seat(true)).toList();
    for (Seat seat : seats) {
      assertEquals(LiveChannel.Entry.WATCHING, channel.watch(RUN, seat, seat.left));
    }
    await(() -> seats.get(0).frames() >= 100);
    channel.close();
    int made = (int) channel.made();
    assertEquals(1, opened.get());
    assertEquals(made, seats.get(0).frames(), "the first one sees every frame");
    assertEquals(asked.get(), made, "each frame is made once");
    int least = made / 25 - 1;
    int most = made / 25 + 2;
    for (Seat other : seats.subList(1, 200)) {
      int frames = other.frames();
      assertTrue(frames >= least && frames <= most, frames + " of " + made);
    }
    assertTrue(seats.get(0).text().startsWith("retry: 2000\nevent: pace\ndata: 50\n\ndata: {"));
    assertTrue(seats.get(1).text().startsWith("retry: 2000\nevent: pace\ndata: 2\n\ndata: {"));
    assertTrue(seats.stream().allMatch(seat -> seat.last), "the end is the end of the stream");
  }

  @Test
  void whoTakesNothingLosesFramesAndHoldsNobodyUp() throws Exception {
    Seat stuck = new Seat(false);
    Seat second = new Seat(true);
    channel.watch(RUN, stuck, stuck.left);
    channel.watch(RUN, second, second.left);
    await(() -> second.frames() >= 2);
    assertEquals(1, stuck.parts.size(), "no second frame before the first has gone");
    stuck.sent.succeeded();
    await(() -> stuck.parts.size() == 2);
    String caughtUp = stuck.parts.get(1);
    assertFalse(caughtUp.contains("{\"n\":1}"), "it goes on with the newest: " + caughtUp);
  }

  @Test
  void theNextWatcherFollowsWhenTheFirstLeaves() throws Exception {
    Seat first = new Seat(true);
    Seat second = new Seat(true);
    channel.watch(RUN, first, first.left);
    channel.watch(RUN, second, second.left);
    await(() -> second.frames() >= 1);
    first.broken = true;
    await(() -> second.text().contains("data: 50\n"));
    assertTrue(first.hasLeft, "its connection is closed");
    assertEquals(1, channel.watchers());
  }

  @Test
  void nothingIsReadWhenNobodyWatches() throws Exception {
    assertEquals(0, opened.get());
    Seat seat = new Seat(true);
    channel.watch(RUN, seat, seat.left);
    await(() -> seat.frames() >= 1);
    seat.broken = true;
    await(() -> channel.watchers() == 0);
    assertEquals(1, closed.get());
    int then = asked.get();
    MachineClock.waitNs(100_000_000);
    assertEquals(then, asked.get());
    Seat next = new Seat(true);
    channel.watch(RUN, next, next.left);
    await(() -> next.frames() >= 1);
    assertEquals(2, opened.get());
  }

  /** The last frame before a silence reaches everybody. */
  @Test
  void theNewestFrameReachesEverybodyOnceAlsoWhenNoneFollows() throws Exception {
    limit.set(3);
    Seat first = new Seat(true);
    Seat second = new Seat(true);
    channel.watch(RUN, first, first.left);
    channel.watch(RUN, second, second.left);
    await(() -> second.text().contains("{\"n\":3}"));
    assertEquals(3, first.frames());
    assertEquals(3, channel.made());
  }

  @Test
  void aFeedThatBreaksSendsItsWatchersAway() throws Exception {
    Seat seat = new Seat(true);
    channel.watch(RUN, seat, seat.left);
    await(() -> seat.frames() >= 1);
    damaged = true;
    await(() -> seat.hasLeft);
    assertEquals(1, closed.get());
    await(() -> channel.watchers() == 0);
  }

  @Test
  void tooManyWatchersAreTurnedAway() throws Exception {
    for (int i = 0; i < LiveChannel.MOST_WATCHERS; i++) {
      Seat seat = new Seat(true);
      assertEquals(LiveChannel.Entry.WATCHING, channel.watch(RUN, seat, seat.left));
    }
    Seat late = new Seat(true);
    assertEquals(LiveChannel.Entry.FULL, channel.watch(RUN, late, late.left));
  }

  @Test
  void aRunWithoutAFeedIsNotWatched() throws Exception {
    try (LiveChannel none = new LiveChannel(run -> Optional.empty())) {
      Seat seat = new Seat(true);
      assertEquals(LiveChannel.Entry.NO_FEED, none.watch(RUN, seat, seat.left));
      assertEquals(0, none.watchers());
    }
  }

  private LiveSource source() {
    opened.incrementAndGet();
    return new LiveSource() {
      @Override
      public Optional<byte[]> next() throws IOException {
        if (damaged) {
          throw new IOException("gone");
        }
        if (asked.get() >= limit.get()) {
          return Optional.empty();
        }
        String frame = "{\"n\":" + asked.incrementAndGet() + "}";
        return Optional.of(frame.getBytes(StandardCharsets.UTF_8));
      }

      @Override
      public void close() {
        closed.incrementAndGet();
      }
    };
  }

  private static void await(java.util.function.BooleanSupplier what) {
    while (!what.getAsBoolean()) {
      MachineClock.waitNs(1_000_000);
    }
  }

  /** A watcher without a network. */
  private static final class Seat implements LiveChannel.Sink {
    private final boolean quick;
    private final List<String> parts = new ArrayList<>();
    private final Callback left;
    private Callback sent = Callback.NOOP;
    private volatile boolean hasLeft;
    private volatile boolean broken;
    private volatile boolean last;

    Seat(boolean quick) {
      this.quick = quick;
      this.left = Callback.from(() -> hasLeft = true);
    }

    @Override
    public synchronized void write(boolean end, ByteBuffer bytes, Callback callback) {
      last |= end;
      parts.add(StandardCharsets.UTF_8.decode(bytes).toString());
      sent = callback;
      if (broken) {
        callback.failed(new IOException("closed"));
      } else if (quick) {
        callback.succeeded();
      }
    }

    synchronized String text() {
      return String.join("", parts);
    }

    synchronized int frames() {
      return (int) parts.stream().filter(p -> p.contains("data: {")).count();
    }
  }
}
