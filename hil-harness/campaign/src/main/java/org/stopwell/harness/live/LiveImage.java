package org.stopwell.harness.live;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.rig.time.MachineClock;

/**
 * The content of the live file in memory. Its lock is held for as long as memory is copied, never
 * while the disk works; a step of a trial does not take it.
 */
final class LiveImage {
  private static final int ALIVE_EVERY = 25; // looks: twice a second

  private final ByteBuffer image =
      ByteBuffer.allocate(LiveFile.BYTES).order(ByteOrder.LITTLE_ENDIAN);
  private final FrameRing ring;
  private final int[] frame = new int[LiveFile.FRAME_INTS];
  private final int[] heldFrame = new int[LiveFile.FRAME_INTS];
  private long frames;
  private long stops;
  private long stopsTaken;
  private boolean newScene;
  private boolean newHead;
  private int looks;

  /** A stretch of changed bytes. */
  record Range(int from, int to) {}

  LiveImage(FrameRing ring) {
    this.ring = ring;
    image.putInt(0, LiveFile.MAGIC).putInt(4, LiveFile.VERSION);
    image.putLong(LiveFile.BEGUN, MachineClock.epochMicros() / 1_000);
  }

  synchronized void campaign(String json) {
    putText(LiveFile.CAMPAIGN, LiveFile.CAMPAIGN_BYTES, LiveFile.SCENE - LiveFile.CAMPAIGN, json);
  }

  synchronized void scene(String json) {
    putText(LiveFile.SCENE, LiveFile.SCENE_BYTES, LiveFile.HELD - LiveFile.SCENE, json);
    newScene = true;
  }

  synchronized void said(String text) {
    putText(LiveFile.SAID, LiveFile.SAID_BYTES, LiveFile.SAID_MOST, text);
    newHead = true;
  }

  /** Sets a number of the head. */
  synchronized void head(int at, int value) {
    newHead |= image.getInt(at) != value;
    image.putInt(at, value);
  }

  synchronized void stop(int number, int condition, LiveStop kind, int errorMicrons) {
    int at = LiveFile.STOPS + (int) (stops++ % LiveFile.STOPS_KEPT) * LiveFile.STOP_BYTES;
    image.putInt(at, number).putInt(at + 4, condition);
    image.putInt(at + 8, kind.ordinal()).putInt(at + 12, errorMicrons);
  }

  /** Holds the last frames of a trial, of which the ring holds the newest. */
  synchronized void hold(int trial, long first) {
    long end = ring.written();
    long from = Math.max(first, end - LiveFile.HELD_MOST);
    for (long n = from; n < end; n++) {
      ring.copy(n, heldFrame);
      putFrame(LiveFile.HELD + (int) (n - from) * LiveFile.FRAME_BYTES, heldFrame);
    }
    int length = image.getInt(LiveFile.SCENE_BYTES);
    boolean fits = length <= LiveFile.FRAMES - LiveFile.HELD_SCENE;
    image.putInt(LiveFile.HELD_SCENE_BYTES, fits ? length : 0);
    if (fits) {
      System.arraycopy(image.array(), LiveFile.SCENE, image.array(), LiveFile.HELD_SCENE, length);
    }
    image.putInt(LiveFile.HELD_TRIAL, trial).putInt(LiveFile.HELD_COUNT, (int) (end - from));
    newScene = true;
  }

  synchronized void takeAll(byte[] into) {
    System.arraycopy(image.array(), 0, into, 0, LiveFile.BYTES);
  }

  /**
   * Copies what has changed.
   *
   * @param into receives it at the same places
   * @return where something changed, the head last; nothing when the file needs no write
   */
  synchronized List<Range> take(byte[] into) {
    List<Range> changed = new ArrayList<>();
    long written = ring.written();
    long from = Math.max(frames, written - LiveFile.FRAMES_KEPT / 2);
    for (long n = from; n < written; n++) {
      if (ring.copy(n, frame)) {
        putFrame(LiveFile.FRAMES + (int) (n % LiveFile.FRAMES_KEPT) * LiveFile.FRAME_BYTES, frame);
      }
    }
    add(changed, LiveFile.FRAMES, LiveFile.FRAME_BYTES, LiveFile.FRAMES_KEPT, from, written);
    long firstStop = Math.max(stopsTaken, stops - LiveFile.STOPS_KEPT);
    add(changed, LiveFile.STOPS, LiveFile.STOP_BYTES, LiveFile.STOPS_KEPT, firstStop, stops);
    if (newScene) {
      changed.add(new Range(LiveFile.SCENE, LiveFile.FRAMES));
    }
    if (looks++ % ALIVE_EVERY != 0 && changed.isEmpty() && !newHead) {
      return changed;
    }
    frames = written;
    stopsTaken = stops;
    newScene = false;
    newHead = false;
    image.putLong(LiveFile.ALIVE, MachineClock.epochMicros() / 1_000);
    image.putLong(LiveFile.FRAMES_WRITTEN, frames).putLong(LiveFile.STOPS_WRITTEN, stops);
    changed.add(new Range(0, LiveFile.CAMPAIGN));
    changed.forEach(r -> System.arraycopy(image.array(), r.from, into, r.from, r.to - r.from));
    return changed;
  }

  /** The places of a ring between two counts: one stretch, or two around its end. */
  private static void add(List<Range> to, int at, int bytes, int places, long first, long end) {
    if (first == end) {
      return;
    }
    int a = (int) (first % places);
    int b = (int) (end % places);
    if (a < b) {
      to.add(new Range(at + a * bytes, at + b * bytes));
    } else {
      to.add(new Range(at + a * bytes, at + places * bytes));
      if (b > 0) {
        to.add(new Range(at, at + b * bytes));
      }
    }
  }

  private void putFrame(int at, int[] numbers) {
    for (int i = 0; i < LiveFile.FRAME_INTS; i++) {
      image.putInt(at + 4 * i, numbers[i]);
    }
  }

  /** Text that does not fit is cut. */
  private void putText(int at, int lengthAt, int most, String text) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    int length = bytes.length;
    if (length > most) {
      length = most;
      while (length > 0 && (bytes[length] & 0xc0) == 0x80) {
        length--; // not within a character
      }
    }
    image.putInt(lengthAt, length);
    image.put(at, bytes, 0, length);
  }
}
