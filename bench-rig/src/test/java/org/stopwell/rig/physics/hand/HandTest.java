package org.stopwell.rig.physics.hand;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.function.IntUnaryOperator;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

/** What a hand feels of a file that turns. It answers after 150 ms and feeds 0.5 mm/s. */
class HandTest {
  private static final double DEEP = 1e-3;

  private Hand hand;
  private long nowMs;

  @BeforeEach
  void aHandBelowItsPassiveDepth() throws Exception {
    Scene scene = Scene.of(Map.of("hand", Map.of("tremor_um", "0")), 1);
    hand = new Hand(scene.section("hand"), 16e-3, RandomStream.of(1, "hand"), 1_000_000);
    nowMs = 0;
    assertEquals(0, feed(500, ms -> 0), "a file that rests is not fed");
  }

  @Test
  void aFileThatTurnsEitherWayIsFedAfterTheReactionTime() throws Exception {
    for (int way : new int[] {1, -1}) {
      aHandBelowItsPassiveDepth();
      assertEquals(0, feed(150, ms -> way), "way " + way);
      assertEquals(50, feed(100, ms -> way), "way " + way);
    }
  }

  @Test
  void strokesBackThatAreShorterThanTheReactionTimeDoNotInterruptTheFeed() {
    feed(200, HandTest::stroke);
    assertEquals(500, feed(1_000, HandTest::stroke));
  }

  /** Strokes of 67 ms forward and 22 ms back, with a millisecond of rest between. */
  private static int stroke(int ms) {
    int at = ms % 91;
    return at < 67 ? 1 : at == 67 || at == 90 ? 0 : -1;
  }

  @Test
  void aFileThatTurnsBackForLongerStopsTheHand() {
    feed(300, ms -> 1);
    assertEquals(75, feed(150, ms -> -1), "the hand has not answered yet");
    assertEquals(0, feed(1_000, ms -> -1));
    assertEquals(0, feed(150, ms -> 1));
    assertTrue(feed(100, ms -> 1) > 0, "the file drives on");
  }

  @Test
  void aStopIsFeltAfterTheReactionTime() {
    feed(300, ms -> 1);
    assertEquals(75, feed(150, ms -> 0));
    assertEquals(0, feed(500, ms -> 0));
    assertEquals(0, feed(150, ms -> -1), "after a rest either way is felt");
    assertEquals(50, feed(100, ms -> -1));
  }

  /** Stretches of feed and of pause take turns, each 0.3 to 1 times the longest. */
  @Test
  void aHesitatingHandFeedsAndPausesForUpToTheLongestInterval() throws Exception {
    Map<String, String> written =
        Map.of(
            "motion", "hesitating", "hesitation_ms", "500", "reaction_ms", "0", "tremor_um", "0");
    hand =
        new Hand(
            Scene.of(Map.of("hand", written), 1).section("hand"),
            16e-3,
            RandomStream.of(1, "hand"),
            1_000_000);
    nowMs = 0;
    hand.move(0, DEEP, 1);
    boolean feeds = true;
    int length = 0;
    List<Integer> stretches = new ArrayList<>();
    for (nowMs = 1; nowMs < 300_000; nowMs++) {
      double way = hand.move(nowMs * 1_000_000, DEEP, 1);
      assertTrue(way == 0 || Math.abs(way - 0.5e-6) < 1e-15, "0.5 mm/s or nothing: " + way);
      if (feeds == way > 0) {
        length++;
      } else {
        stretches.add(length);
        feeds = !feeds;
        length = 1;
      }
    }
    List<Integer> whole = stretches.subList(1, stretches.size());
    assertEquals(151, Collections.min(whole), 10, "shortest, ms");
    assertEquals(501, Collections.max(whole), 5, "longest, ms");
    double mean = whole.stream().mapToInt(ms -> ms).average().orElseThrow();
    assertEquals(326, mean, 15, "mean, ms");
  }

  /** A sine of 10 Hz and a drift at 0.1 and 0.3 Hz, each of 40 µm rms: 57 µm together. */
  @Test
  void aHandAtRestTremblesAndDriftsByTheRootMeanSquareThatIsWritten() throws Exception {
    Scene scene = Scene.of(Map.of("hand", Map.of("tremor_um", "40")), 1);
    hand = new Hand(scene.section("hand"), 16e-3, RandomStream.of(1, "hand"), 1_000_000);
    feed(1_000, ms -> 1);
    feed(1_000, ms -> 0);
    int window = 100; // one period of the tremor
    double place = 0;
    double[] places = new double[100_000]; // ten and thirty periods of the drift
    for (int i = 0; i < places.length; i++) {
      place += 1e6 * hand.move(nowMs++ * 1_000_000, DEEP, 0);
      places[i] = place;
    }
    double mean = Arrays.stream(places).average().orElseThrow();
    double all = 0;
    double slow = 0;
    for (int i = 0; i + window <= places.length; i++) {
      all += Math.pow(places[i] - mean, 2);
      double smooth = Arrays.stream(places, i, i + window).average().orElseThrow() - mean;
      slow += smooth * smooth;
    }
    assertEquals(40 * Math.sqrt(2), Math.sqrt(all / places.length), 0.5, "all, µm rms");
    assertEquals(40, Math.sqrt(slow / places.length), 0.5, "drift, µm rms");
  }

  /** Strokes of 2 mm at 4 mm/s about a feed of 0.5 mm/s: in at 4.5, out at 3.5 mm/s, 1 s each. */
  @Test
  void aPeckingHandStrokesAtAnEvenSpeed() throws Exception {
    Map<String, String> written =
        Map.of(
            "motion",
            "pecking",
            "peck_stroke_mm",
            "2",
            "peck_mm_per_s",
            "4",
            "reaction_ms",
            "0",
            "tremor_um",
            "0");
    hand =
        new Hand(
            Scene.of(Map.of("hand", written), 1).section("hand"),
            16e-3,
            RandomStream.of(1, "hand"),
            1_000_000);
    nowMs = 0;
    assertEquals(1_125, feed(250, ms -> 1), "in, from the middle");
    assertEquals(-1_750, feed(500, ms -> 1), "out");
    assertEquals(2_250, feed(500, ms -> 1), "in");
    assertEquals(500, feed(1_000, ms -> 1), "a whole stroke leaves the feed");
  }

  /** How far the hand feeds within a time, µm. */
  private long feed(int ms, IntUnaryOperator rotation) {
    double metres = 0;
    for (int i = 0; i < ms; i++) {
      metres += hand.move(nowMs * 1_000_000, DEEP, rotation.applyAsInt(i));
      nowMs++;
    }
    return Math.round(metres * 1e6);
  }
}
