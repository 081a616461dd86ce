package org.stopwell.harness.live;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicBoolean;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.time.MachineClock;

/**
 * Shows a running campaign to watchers, in this program or another: a file of fixed size in the run
 * directory, which goes at the end. Trials write into memory; a thread of its own copies that to
 * the file, 50 times a second. Whoever reads the file is never waited for. A disk that refuses ends
 * the feed, but no trial.
 */
public final class LiveFeed implements AutoCloseable {
  private static final long TICK_NS = 20_000_000;
  private static final long LONGEST_END_MS = 1_000; // of a disk that stalls

  private final LiveCampaign campaign;
  private final FrameRing ring = new FrameRing();
  private final LiveImage image = new LiveImage(ring);
  private final AtomicBoolean taken = new AtomicBoolean();
  private final List<TrialResult> waiting = new ArrayList<>();
  private final Path file;
  private final @Nullable Thread thread;
  private int done;
  private int rigFaults;
  private int tests;
  private int worstLateMicros;
  private volatile boolean ended;

  /** Set by a step, never taken back. */
  volatile boolean stopLineSeen;

  private LiveFeed(LiveCampaign campaign, Path file, @Nullable FileChannel channel) {
    this.campaign = campaign;
    this.file = file;
    this.thread = channel == null ? null : new Thread(() -> copy(channel), "live feed");
  }

  /**
   * Begins a feed. Never throws: where the disk refuses, nothing is shown.
   *
   * @param directory the run directory
   * @param header the header as the run file holds it
   * @param done trials that are finished already, as the run file holds them
   * @return the feed
   */
  public static LiveFeed begin(Path directory, RunHeader header, List<TrialResult> done) {
    Path file = directory.resolve(LiveFile.NAME);
    @Nullable FileChannel channel = null;
    try {
      // A new file: whoever has an earlier one open keeps it whole.
      Files.deleteIfExists(file);
      channel = FileChannel.open(file, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE);
    } catch (IOException e) {
      // The campaign goes on unseen.
    }
    return begin(file, channel, header, done);
  }

  static LiveFeed begin(
      Path file, @Nullable FileChannel channel, RunHeader header, List<TrialResult> done) {
    LiveFeed feed = new LiveFeed(LiveCampaign.of(header), file, channel);
    feed.finished(done);
    feed.image.head(LiveFile.DONE_BEFORE, done.size());
    if (feed.thread != null) {
      feed.thread.setDaemon(true);
      feed.thread.start();
    }
    return feed;
  }

  /**
   * A place from which one bench is watched.
   *
   * @return sees the trials on that bench, one after another
   */
  public Onlooker place() {
    return thread == null
        ? Onlooker.NOBODY
        : new LiveTrial(this, ring, campaign.covered(), campaign.header().bench().simulated());
  }

  /**
   * Shows finished trials. Where known-answer trials are hidden in the order, stops appear once
   * their whole stretch is done, without the hidden ones and numbered without them.
   *
   * @param results as the run file holds them, in run order, safe on the disk
   */
  public synchronized void finished(List<TrialResult> results) {
    for (TrialResult result : results) {
      done++;
      rigFaults += result.verdict() == Verdict.RIG_FAULT ? 1 : 0;
      waiting.add(campaign.names().of(result));
      int place = result.index() + 1;
      if (place % campaign.stretch() == 0 || place == campaign.planned()) {
        waiting.stream().filter(r -> !campaign.isHidden(r)).forEach(this::show);
        waiting.clear();
      }
    }
    image.head(LiveFile.DONE, done);
    image.head(LiveFile.RIG_FAULTS, rigFaults);
  }

  private void show(TrialResult result) {
    int condition = campaign.place(result.condition());
    if (condition < 0) {
      return; // no trial of this campaign
    }
    tests++;
    image.stop(
        campaign.stretch() > 1 ? tests : result.index() + 1,
        condition,
        LiveStop.of(result, campaign.header().conditions().get(condition)),
        result.stopErrorMicrons());
  }

  /**
   * Shows what happens beside the trials, until the next trial begins.
   *
   * @param text one sentence, such as which port is waited for
   */
  public void say(String text) {
    image.said(text);
  }

  /** The trial is shown if no other is. */
  boolean claim(TrialSpec spec) {
    if (!taken.compareAndSet(false, true)) {
      return false;
    }
    image.said("");
    if (!campaign.covered()) {
      image.scene(scene(spec));
    }
    return true;
  }

  private String scene(TrialSpec spec) {
    try {
      int condition = campaign.place(campaign.names().of(spec.condition()));
      return LiveScene.json(spec, condition, campaign.header().bench().simulated());
    } catch (IOException | RuntimeException e) {
      return ""; // A scene that cannot be drawn leaves the traces.
    }
  }

  /**
   * A trial has ended; the last frames of a shown one are held.
   *
   * @param shown whether it was shown
   * @param trial its number; 0 when the plan hides which trial it was
   * @param first its first frame
   * @param lateNs worst lateness of its steps, ns
   */
  void release(boolean shown, int trial, long first, long lateNs) {
    noteLateness((int) Math.min(Integer.MAX_VALUE, lateNs / 1_000));
    if (shown) {
      if (trial > 0) {
        image.hold(trial, first);
      }
      taken.set(false);
    }
  }

  private synchronized void noteLateness(int micros) {
    worstLateMicros = Math.max(worstLateMicros, micros);
    image.head(LiveFile.WORST_LATENESS, worstLateMicros);
  }

  /** Ends the feed and removes its file. Whoever reads it still sees that it has ended. */
  @Override
  public void close() {
    ended = true;
    if (thread == null) {
      return;
    }
    boolean interrupted = Thread.interrupted();
    try {
      thread.join(LONGEST_END_MS);
    } catch (InterruptedException e) {
      interrupted = true;
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
    try {
      Files.deleteIfExists(file);
    } catch (IOException e) {
      // A file that nobody writes harms nobody.
    }
  }

  private void copy(FileChannel to) {
    byte[] bytes = new byte[LiveFile.BYTES];
    ByteBuffer out = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
    try (to) {
      image.campaign(campaign.json(LiveFile.SCENE - LiveFile.CAMPAIGN));
      image.takeAll(bytes);
      long turn = 0;
      write(to, out, new LiveImage.Range(0, LiveFile.BYTES));
      for (boolean last = false; !last; ) {
        last = ended;
        image.head(
            LiveFile.FLAGS,
            (stopLineSeen ? LiveFile.STOP_LINE_SEEN : 0) | (last ? LiveFile.ENDED : 0));
        List<LiveImage.Range> changed = image.take(bytes);
        if (!changed.isEmpty()) {
          out.putLong(LiveFile.TURN, ++turn);
          write(to, out, new LiveImage.Range(LiveFile.TURN, LiveFile.TURN + Long.BYTES));
          out.putLong(LiveFile.TURN, ++turn);
          for (LiveImage.Range range : changed) { // the head with the even turn comes last
            write(to, out, range);
          }
        }
        if (!last) {
          MachineClock.waitNs(TICK_NS);
        }
      }
    } catch (IOException | RuntimeException e) {
      // A disk that refuses: from here on nothing is shown.
    }
  }

  private static void write(FileChannel to, ByteBuffer from, LiveImage.Range range)
      throws IOException {
    from.limit(range.to()).position(range.from());
    while (from.hasRemaining()) {
      to.write(from, from.position());
    }
    from.clear();
  }
}
