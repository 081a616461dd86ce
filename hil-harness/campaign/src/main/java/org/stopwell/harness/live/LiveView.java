package org.stopwell.harness.live;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.rig.time.MachineClock;

/**
 * Reads the live file of a campaign that this or another program runs, and writes what it says as
 * JSON. Reading never disturbs the campaign. Not safe for use by several threads.
 *
 * <p>The file can come from anybody, so nothing in it is trusted: every number is an index within
 * limits or is only shown, and texts go out as text.
 */
public final class LiveView implements AutoCloseable {
  /** A writer that was silent for longer is gone or stands still, ms; it writes twice a second. */
  private static final long SILENT_MS = 3_000;

  private static final int TRIES = 20;
  private static final long TRY_AGAIN_NS = 500_000;

  /** Frames in one message at most: the newest. */
  private static final int FRAMES_AT_ONCE = 64;

  /** Finished trials in one message: the newest, so that a watcher may lose a few messages. */
  private static final int STOPS_AT_ONCE = 8;

  private final FileChannel channel;
  private final ByteBuffer bytes =
      ByteBuffer.allocate(LiveFile.BYTES).order(ByteOrder.LITTLE_ENDIAN);
  private final StringBuilder json = new StringBuilder();
  private long framesSent;
  private long turnSent = -1;
  private boolean silentSent;

  private LiveView(FileChannel channel) {
    this.channel = channel;
  }

  /**
   * Opens the live file of a run.
   *
   * @param directory the run directory
   * @return empty when the run shows nothing
   */
  public static Optional<LiveView> open(Path directory) {
    Path file = directory.resolve(LiveFile.NAME);
    @Nullable FileChannel channel = null;
    try {
      channel = FileChannel.open(file, StandardOpenOption.READ, LinkOption.NOFOLLOW_LINKS);
      LiveView view = new LiveView(channel);
      if (channel.size() == LiveFile.BYTES && view.read()) {
        return Optional.of(view);
      }
    } catch (IOException e) {
      // It has gone, or it was never there.
    }
    close(channel);
    return Optional.empty();
  }

  @Override
  public void close() {
    close(channel);
  }

  private static void close(@Nullable FileChannel channel) {
    if (channel != null) {
      try {
        channel.close();
      } catch (IOException e) {
        // It was only read.
      }
    }
  }

  /**
   * Everything: the campaign, every stop that is kept, the last frames of the trial that ended
   * last.
   *
   * @return one JSON object; empty when nothing can be read any more
   */
  public Optional<byte[]> whole() {
    if (!read()) {
      return Optional.empty();
    }
    json.setLength(0);
    json.append("{\"campaign\":");
    object(LiveFile.CAMPAIGN, LiveFile.CAMPAIGN_BYTES, LiveFile.SCENE);
    head();
    long frames = Math.max(0, bytes.getLong(LiveFile.FRAMES_WRITTEN));
    frames(Math.max(0, frames - LiveFile.HELD_MOST), frames);
    long stops = bytes.getLong(LiveFile.STOPS_WRITTEN);
    stops(Math.max(0, stops - LiveFile.STOPS_KEPT), stops);
    int count = Math.max(0, Math.min(LiveFile.HELD_MOST, bytes.getInt(LiveFile.HELD_COUNT)));
    json.append(",\"heldScene\":");
    object(LiveFile.HELD_SCENE, LiveFile.HELD_SCENE_BYTES, LiveFile.FRAMES);
    json.append(",\"held\":[");
    for (int i = 0; i < count; i++) {
      frame(i == 0, LiveFile.HELD + i * LiveFile.FRAME_BYTES);
    }
    json.append("]}");
    return Optional.of(json.toString().getBytes(StandardCharsets.UTF_8));
  }

  /**
   * The head, the frames since the last call and the newest stops.
   *
   * @return one JSON object; empty when nothing has changed since the last call
   */
  public Optional<byte[]> news() {
    if (!read() || (bytes.getLong(LiveFile.TURN) == turnSent && isSilent() == silentSent)) {
      return Optional.empty();
    }
    turnSent = bytes.getLong(LiveFile.TURN);
    silentSent = isSilent();
    json.setLength(0);
    json.append('{');
    head();
    long frames = Math.max(0, bytes.getLong(LiveFile.FRAMES_WRITTEN));
    frames(Math.max(framesSent, frames - FRAMES_AT_ONCE), frames);
    framesSent = frames;
    long stops = bytes.getLong(LiveFile.STOPS_WRITTEN);
    stops(Math.max(0, stops - STOPS_AT_ONCE), stops);
    json.append('}');
    return Optional.of(json.toString().getBytes(StandardCharsets.UTF_8));
  }

  /**
   * Whether the campaign has ended, or its program is gone.
   *
   * @return true when nothing more will come
   */
  public boolean isOver() {
    return !read() || hasEnded() || isSilent();
  }

  private boolean hasEnded() {
    return (bytes.getInt(LiveFile.FLAGS) & LiveFile.ENDED) != 0;
  }

  private boolean isSilent() {
    return MachineClock.epochMicros() / 1_000 - bytes.getLong(LiveFile.ALIVE) > SILENT_MS;
  }

  /** Reads the whole file between two writes. */
  private boolean read() {
    try {
      for (int i = 0; i < TRIES; i++) {
        long turn = turn();
        bytes.clear();
        while (bytes.hasRemaining()) {
          if (channel.read(bytes, bytes.position()) < 0) {
            return false;
          }
        }
        bytes.clear();
        if (turn % 2 == 0 && turn() == turn) {
          return bytes.getInt(0) == LiveFile.MAGIC && bytes.getInt(4) == LiveFile.VERSION;
        }
        MachineClock.waitNs(TRY_AGAIN_NS);
      }
    } catch (IOException e) {
      // A disk that refuses shows nothing.
    }
    return false;
  }

  private long turn() throws IOException {
    bytes.position(LiveFile.TURN).limit(LiveFile.TURN + Long.BYTES);
    int got = channel.read(bytes, LiveFile.TURN);
    bytes.clear();
    return got == Long.BYTES ? bytes.getLong(LiveFile.TURN) : -1;
  }

  private void head() {
    if (json.length() > 1) {
      json.append(',');
    }
    int flags = bytes.getInt(LiveFile.FLAGS);
    json.append("\"ended\":").append(hasEnded());
    json.append(",\"silent\":").append(!hasEnded() && isSilent());
    json.append(",\"stopLine\":").append((flags & LiveFile.STOP_LINE_SEEN) != 0);
    number("nowMs", bytes.getLong(LiveFile.ALIVE));
    number("begunMs", bytes.getLong(LiveFile.BEGUN));
    number("done", bytes.getInt(LiveFile.DONE));
    number("doneBefore", bytes.getInt(LiveFile.DONE_BEFORE));
    number("rigFaults", bytes.getInt(LiveFile.RIG_FAULTS));
    number("heldTrial", bytes.getInt(LiveFile.HELD_TRIAL));
    json.append(",\"worstLateMs\":").append(bytes.getInt(LiveFile.WORST_LATENESS) / 1_000.0);
    json.append(",\"said\":");
    quoted(text(LiveFile.SAID, LiveFile.SAID_BYTES, LiveFile.CAMPAIGN));
    json.append(",\"scene\":");
    object(LiveFile.SCENE, LiveFile.SCENE_BYTES, LiveFile.HELD);
  }

  private void frames(long from, long end) {
    json.append(",\"frames\":[");
    boolean first = true;
    for (long n = from; n < end; n++) {
      int at = LiveFile.FRAMES + (int) (n % LiveFile.FRAMES_KEPT) * LiveFile.FRAME_BYTES;
      if (bytes.getInt(at) == (int) n) {
        frame(first, at);
        first = false;
      }
    }
    json.append(']');
  }

  private void stops(long from, long end) {
    number("stops", end);
    number("firstStop", from);
    json.append(",\"newStops\":[");
    for (long n = from; n < end; n++) {
      int at = LiveFile.STOPS + (int) (n % LiveFile.STOPS_KEPT) * LiveFile.STOP_BYTES;
      json.append(n == from ? "[" : ",[").append(bytes.getInt(at));
      json.append(',').append(bytes.getInt(at + 4)).append(",\"");
      json.append(LiveStop.ofCode(bytes.getInt(at + 8))).append("\",");
      json.append(bytes.getInt(at + 12)).append(']');
    }
    json.append(']');
  }

  /** A frame as the page takes it, its numbers in the order of {@code live.js}. */
  private void frame(boolean first, int at) {
    int flags = bytes.getInt(at + 60);
    boolean covered = (flags & LiveFile.COVERED) != 0;
    boolean reading = (flags & LiveFile.HAS_READING) != 0;
    int bound = bytes.getInt(at + 20);
    json.append(first ? "[" : ",[").append(bytes.getInt(at + 4)); // trial
    json.append(',').append(bytes.getInt(at + 8)); // ms
    json.append(',').append(bytes.getInt(at + 36) / 1_000.0); // link, ms
    json.append(',').append(bytes.getInt(at + 40) / 1_000.0); // lateness, ms
    json.append(',').append((flags & LiveFile.STOP_LINE) != 0);
    if (!covered) {
      json.append(',').append(bytes.getInt(at + 12)); // truth
      optional(reading, bytes.getInt(at + 16));
      optional(reading && bound > 0, bound);
      optional((flags & LiveFile.HAS_FLUID) != 0, bytes.getInt(at + 32));
      json.append(',').append(bytes.getInt(at + 24) / 1_000.0); // rpm
      json.append(',').append(bytes.getInt(at + 28) / 10_000.0); // N·cm
      word(Trust.ofCode(bytes.getInt(at + 44)));
      word(Cause.ofCode(bytes.getInt(at + 48)));
      word(State.ofCode(bytes.getInt(at + 52)));
      word(Drive.ofCode(bytes.getInt(at + 56) >> 8));
      word(Reason.ofCode(bytes.getInt(at + 56) & 0xff));
    }
    json.append(']');
  }

  private void optional(boolean there, int value) {
    json.append(',');
    if (there) {
      json.append(value);
    } else {
      json.append("null");
    }
  }

  private void word(Enum<?> word) {
    json.append(",\"").append(word.name()).append('"');
  }

  private void number(String key, long value) {
    json.append(",\"").append(key).append("\":").append(value);
  }

  /** A JSON object that the writer wrote; anything that is none is left out. */
  private void object(int at, int lengthAt, int end) {
    String text = text(at, lengthAt, end);
    json.append(text.startsWith("{") && text.endsWith("}") ? text : "null");
  }

  private String text(int at, int lengthAt, int end) {
    int length = Math.max(0, Math.min(end - at, bytes.getInt(lengthAt)));
    return new String(bytes.array(), at, length, StandardCharsets.UTF_8);
  }

  private void quoted(String text) {
    json.append('"');
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (c == '"' || c == '\\') {
        json.append('\\').append(c);
      } else {
        json.append(c < ' ' ? ' ' : c);
      }
    }
    json.append('"');
  }
}
