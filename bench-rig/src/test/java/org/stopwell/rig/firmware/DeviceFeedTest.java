package org.stopwell.rig.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.Watched;

/**
 * How the real binaries of both boards feed a device, as the shank scale shows it. Simulated: the
 * boards, the stage and the file are models.
 */
class DeviceFeedTest {
  private static FeedingBoards boards;

  @BeforeAll
  static void plug() throws Exception {
    Firmware.make("device-board", "drive-board", "emulators");
    boards = new FeedingBoards();
  }

  @AfterAll
  static void unplug() {
    boards.close();
  }

  private static Scene scene(Map<String, String> hand) throws Exception {
    Map<String, String> all = new HashMap<>(hand);
    all.putIfAbsent("motion", "steady");
    all.putIfAbsent("tremor_um", "0");
    all.put("start_above_mm", "0");
    all.put("passive_mm", "0");
    return Scene.of(
        Map.of(
            "canal",
            Map.of("kind", "chain", "length_mm", "16"),
            "fluid",
            Map.of("level_mm", "12"),
            "hand",
            all),
        1);
  }

  /** Slope of the least squares line through samples, µm/s. */
  private static double speed(List<Watched> samples) {
    double n = samples.size();
    double t = samples.stream().mapToDouble(Watched::timeNs).sum() / n;
    double x = samples.stream().mapToDouble(Watched::shankMicrons).sum() / n;
    double up = 0;
    double down = 0;
    for (Watched each : samples) {
      up += (each.timeNs() - t) * (each.shankMicrons() - x);
      down += (each.timeNs() - t) * (each.timeNs() - t);
    }
    return up / down * 1e9;
  }

  /** Every speed over any 0.1 mm; then the file stops, and the feed its reaction time later. */
  @ParameterizedTest
  @CsvSource({"0.05, 0, 2200", "0.125, 100, 1000", "0.5, 250, 300", "2, 0, 160"})
  void the_feed_has_its_speed_and_stops_after_its_reaction_time(String feed, int reaction, int ms)
      throws Exception {
    boards.mount(scene(Map.of("feed_mm_per_s", feed, "reaction_ms", "" + reaction)));
    boards.tell("spin 300000");
    boards.pass(reaction + 60);
    List<Watched> seen = boards.pass(ms);
    double wanted = Double.parseDouble(feed) * 1e3;
    long windowNs = (long) (100 / wanted * 1e9);
    int windows = 0;
    double worst = 0;
    for (int from = 0; from < seen.size(); from += 10) {
      long endNs = seen.get(from).timeNs() + windowNs;
      int to = from;
      while (to < seen.size() && seen.get(to).timeNs() < endNs) {
        to++;
      }
      if (to < seen.size()) {
        worst = Math.max(worst, Math.abs(speed(seen.subList(from, to)) / wanted - 1));
        windows++;
      }
    }
    boards.tell("spin 0");
    boards.pass(reaction + 100);
    double late = (boards.steppedMicros() - boards.sensedStopMicros()) * 1e-3 - reaction;
    double stepMs = 0.625 / wanted * 1e3;
    System.out.printf(
        "feed %s mm/s: within %.2f %% over 0.1 mm, stop %.2f ms after its reaction of %d ms%n",
        feed, worst * 100, late, reaction);
    assertTrue(windows > 5, "windows " + windows);
    assertTrue(worst < 0.02, "worst " + worst);
    assertTrue(late > -2 - stepMs && late < 2, "late " + late + " ms; a step is " + stepMs + " ms");
  }

  @ParameterizedTest
  @CsvSource({"4, 16, 2, 900", "0.5, 0.5, 0.5, 2700"})
  void strokes_have_their_depth_and_rate(String stroke, String speed, double hertz, int ms)
      throws Exception {
    boards.mount(
        scene(
            Map.of(
                "motion",
                "pecking",
                "feed_mm_per_s",
                "0.05",
                "peck_stroke_mm",
                stroke,
                "peck_mm_per_s",
                speed,
                "reaction_ms",
                "0")));
    boards.tell("spin 300000");
    boards.pass(40);
    List<Watched> seen = boards.pass(ms);
    double firstNs = seen.get(0).timeNs();
    double start = 0;
    double low = Double.MAX_VALUE;
    double high = -Double.MAX_VALUE;
    double before = Double.NaN;
    double beforeNs = Double.NaN;
    double firstCross = Double.NaN;
    double lastCross = Double.NaN;
    int crossed = 0;
    for (Watched each : seen) {
      double place = each.shankMicrons() - 50e-9 * (each.timeNs() - firstNs) - start;
      low = Math.min(low, place);
      high = Math.max(high, place);
      if (before * place < 0) {
        lastCross = beforeNs + (each.timeNs() - beforeNs) * before / (before - place);
        firstCross = Double.isNaN(firstCross) ? lastCross : firstCross;
        crossed++;
      }
      before = place;
      beforeNs = each.timeNs();
    }
    double seenHertz = (crossed - 1) / (2 * (lastCross - firstCross) * 1e-9);
    double depth = Double.parseDouble(stroke) * 1e3;
    System.out.printf(
        "strokes of %s mm at %s Hz: %.0f µm at %.4f Hz%n", stroke, hertz, high - low, seenHertz);
    assertEquals(depth, high - low, 0.02 * depth + 12, "12 µm: play of the screw and the scale");
    assertEquals(hertz, seenHertz, 0.02 * hertz);
  }

  /** Something presses back from 0.5 mm on, by 2 N for each mm. */
  @Test
  void the_feed_waits_at_the_limit_of_its_force() throws Exception {
    boards.mount(scene(Map.of("feed_mm_per_s", "2", "reaction_ms", "0", "press_n", "1")));
    boards.tell("spin 300000");
    boards.tell("spring 9500");
    int most = boards.pass(600).stream().mapToInt(Watched::forceMilliNewtons).max().orElse(0);
    boards.tell("spring 0");
    List<Watched> free = boards.pass(200);
    System.out.printf("force at most %d mN at a limit of 1000 mN%n", most);
    assertEquals(1_000, most, 40);
    int way = free.get(free.size() - 1).shankMicrons() - free.get(0).shankMicrons();
    assertTrue(way > 300, "and it goes on: " + way + " µm");
  }

  @Test
  void what_the_stage_cannot_do_is_refused_by_its_key() throws Exception {
    Map<String, Map<String, String>> impossible =
        Map.of(
            "hand.motion", Map.of("motion", "hesitating"),
            "hand.after_stop", Map.of("after_stop", "withdraw"),
            "hand.peck_mm_per_s", Map.of("motion", "pecking", "peck_mm_per_s", "18"),
            "hand.tremor_um", Map.of("tremor_um", "500", "tremor_hz", "20"),
            "hand.feed_mm_per_s", Map.of("feed_mm_per_s", "20", "tremor_um", "35"),
            "hand.press_n", Map.of("press_n", "5"));
    for (Map.Entry<String, Map<String, String>> each : impossible.entrySet()) {
      Scene scene = scene(each.getValue());
      BenchException e = assertThrows(BenchException.class, () -> boards.mount(scene));
      assertEquals(RigFault.REFUSED, e.fault(), e.toString());
      assertTrue(String.valueOf(e.getMessage()).contains(each.getKey()), e.getMessage());
    }
  }
}
