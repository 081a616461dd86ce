package org.stopwell.harness.live;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.campaign.Campaign;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.BlindKey;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.virtual.VirtualBench;
import tools.jackson.jr.ob.JSON;

/** The live feed shows a campaign, changes nothing in it, and tells nothing that the plan hides. */
class LiveFeedTest {
  private static final long MS = 1_000_000;
  private static final String HIDING =
      """
      blind: network
      sentinels:
        every: 4
        expected_mm: 0.5
        sd_mm: 0.3
        on_bad: go_on
        scene:
          canal: {body_ohm: 6500}
      """;

  @TempDir Path dir;

  @ParameterizedTest
  @ValueSource(ints = {1, 2})
  void watchersChangeNoStepAndNoResult(int jobs) throws Exception {
    Plan plan = TestPlans.quick(2);
    List<RunFile.Entry> alone = run(plan, jobs, () -> Onlooker.NOBODY);
    AtomicBoolean end = new AtomicBoolean();
    List<Throwable> failed = new ArrayList<>();
    List<RunFile.Entry> watched;
    try (LiveFeed feed = LiveFeed.begin(dir, header(plan), List.of())) {
      List<Thread> watchers = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        Thread watcher = new Thread(() -> watch(end));
        watcher.setUncaughtExceptionHandler((t, e) -> failed.add(e));
        watcher.start();
        watchers.add(watcher);
      }
      watched = run(plan, jobs, feed::place);
      end.set(true);
      for (Thread watcher : watchers) {
        watcher.join();
      }
    }
    assertEquals(List.of(), failed);
    assertEquals(alone.size(), watched.size());
    for (int i = 0; i < alone.size(); i++) {
      assertEquals(alone.get(i).result(), watched.get(i).result());
      assertArrayEquals(alone.get(i).trace(), watched.get(i).trace(), "every step of trial " + i);
    }
  }

  private void watch(AtomicBoolean end) {
    while (!end.get()) {
      LiveView.open(dir)
          .ifPresent(
              view -> {
                view.news();
                view.whole();
                view.close();
              });
    }
  }

  @Test
  void theViewShowsSceneFramesAndStops() throws Exception {
    Plan plan = TestPlans.quick(1);
    RunHeader header = header(plan);
    Map<String, Object> whole;
    LiveView view;
    try (LiveFeed feed = LiveFeed.begin(dir, header, List.of())) {
      List<RunFile.Entry> kept = run(plan, 1, feed::place);
      feed.finished(results(kept));
      feed.say("waits up to 10 s for the \"port\"");
      view = await(2);
      whole = json(view.whole().orElseThrow());
      assertFalse(view.isOver());
      Map<String, Object> news = json(view.news().orElseThrow());
      List<?> frames = list(news, "frames");
      assertTrue(frames.size() > 10, frames.size() + " frames");
      assertEquals(2, list(news, "newStops").size());
      feed.say("the port is back");
      assertEquals("the port is back", awaitNews(view).get("said"));
    }
    try (view) {
      assertTrue(view.isOver(), "whoever watches sees the end");
    }
    assertFalse(Files.exists(dir.resolve(LiveFile.NAME)), "the file goes at the end");
    assertTrue(LiveView.open(dir).isEmpty());

    Map<?, ?> scene = (Map<?, ?>) whole.get("scene");
    assertNotNull(scene);
    assertEquals(8_000, scene.get("canalUm"));
    assertEquals(true, scene.get("network"));
    assertEquals(2, scene.get("trial"));
    assertEquals(500, scene.get("standoffUm"));
    assertEquals("waits up to 10 s for the \"port\"", whole.get("said"));
    assertEquals(2, whole.get("done"));
    List<?> held = list(whole, "held");
    assertTrue(held.size() > 50, held.size() + " frames of the last trial");
    assertEquals(2, ((List<?>) held.get(0)).get(0), "the trial");
    assertEquals(scene, whole.get("heldScene"));
    assertEquals(16, ((List<?>) held.get(0)).size());
    List<?> stops = list(whole, "newStops");
    assertEquals(List.of(1, 1, "AS_EXPECTED", 0), stops.get(0));
    assertEquals(List.of(2, 0, "WITHIN"), ((List<?>) stops.get(1)).subList(0, 3));
  }

  /** No word, order, number or picture tells which trial is a known-answer trial, or the arm. */
  @Test
  void whatThePlanHidesStaysHidden() throws Exception {
    Plan plan = hiding();
    assertEquals(4 + 2, plan.trials());
    BlindKey key = BlindKey.draw("network", plan.blindedLevels());
    RunHeader header = header(plan);
    ConditionNames coding = ConditionNames.coding(header, key);
    try (LiveFeed feed = LiveFeed.begin(dir, header.coded(key), List.of())) {
      List<RunFile.Entry> kept = run(plan, 1, feed::place);
      List<TrialResult> coded = results(kept).stream().map(coding::of).toList();
      int hidden = -1;
      for (TrialResult trial : coded.subList(0, 4)) {
        feed.finished(List.of(trial));
        hidden = trial.condition().equals(SentinelRule.CONDITION) ? trial.index() : hidden;
        try (LiveView view = await(trial.index() + 1)) {
          byte[] news = view.news().orElseThrow();
          String text = text(view.whole().orElseThrow()) + text(news);
          assertFalse(text.contains("sentinel"), text);
          assertFalse(text.contains("sound") || text.contains("leaking"), text);
          Map<String, Object> whole = json(view.whole().orElseThrow());
          assertEquals(null, whole.get("scene"));
          assertEquals(null, whole.get("heldScene"));
          assertEquals(List.of(), list(whole, "held"));
          assertEquals(List.of(), list(whole, "newStops"), "not before the stretch is done");
          assertEquals(0, whole.get("heldTrial"));
          assertTrue(list(json(news), "frames").size() > 10);
          List<Object> frames = new ArrayList<>(list(json(news), "frames"));
          frames.addAll(list(whole, "frames"));
          for (Object frame : frames) {
            assertEquals(5, ((List<?>) frame).size());
            assertEquals(List.of(0, 0), ((List<?>) frame).subList(0, 2));
          }
        }
      }
      feed.finished(coded.subList(4, 6));
      try (LiveView view = await(6)) {
        List<?> stops = list(json(view.whole().orElseThrow()), "newStops");
        assertEquals(List.of(1, 2, 3, 4), stops.stream().map(s -> ((List<?>) s).get(0)).toList());
      }
      assertTrue(coded.stream().anyMatch(t -> t.condition().equals(SentinelRule.CONDITION)));
    }
  }

  @Test
  void aFullDiskEndsTheFeedAndNoTrial() throws Exception {
    Plan plan = TestPlans.quick(1);
    FileChannel full = FileChannel.open(Path.of("/dev/full"), StandardOpenOption.WRITE);
    try (LiveFeed feed = LiveFeed.begin(dir.resolve("nothing"), full, header(plan), List.of())) {
      assertEquals(2, run(plan, 1, feed::place).size());
    }
    try (LiveFeed feed = LiveFeed.begin(dir.resolve("missing"), header(plan), List.of())) {
      assertEquals(2, run(plan, 1, feed::place).size());
    }
    assertTrue(LiveView.open(dir.resolve("missing")).isEmpty());
  }

  @Test
  void aStepAllocatesNothing() throws Exception {
    Plan plan = TestPlans.quick(1);
    try (LiveFeed feed = LiveFeed.begin(dir, header(plan), List.of())) {
      Onlooker place = feed.place();
      ControllerInput in = new ControllerInput();
      ControllerOutput out = new ControllerOutput();
      Truth truth = new Truth();
      place.begin(plan.trial(0));
      ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
      long least = Long.MAX_VALUE;
      for (int round = 0; round < 5; round++) {
        long before = threads.getThreadAllocatedBytes(Thread.currentThread().getId());
        for (int i = 0; i < 20_000; i++) {
          place.step(i * MS, in, out, truth, 0);
        }
        long used = threads.getThreadAllocatedBytes(Thread.currentThread().getId()) - before;
        least = Math.min(least, used);
      }
      assertTrue(least < 1_000, least + " bytes in 20 000 steps");
      place.end();
    }
  }

  /** A run directory can have come by mail. */
  @Test
  void aForeignFileIsHarmless() throws Exception {
    Random random = new Random(7);
    byte[] bytes = new byte[LiveFile.BYTES];
    for (int round = 0; round < 50; round++) {
      random.nextBytes(bytes);
      if (round > 0) {
        // A head that is taken, and anything behind it.
        System.arraycopy(new byte[] {'S', 'W', 'L', 'V', 1, 0, 0, 0, 2, 0}, 0, bytes, 0, 10);
        System.arraycopy(new byte[6], 0, bytes, 10, 6);
      }
      Files.write(dir.resolve(LiveFile.NAME), bytes);
      boolean taken =
          LiveView.open(dir)
              .map(
                  view -> {
                    view.news();
                    view.whole();
                    view.isOver();
                    view.close();
                    return true;
                  })
              .orElse(false);
      assertEquals(round > 0, taken);
    }
    Files.write(dir.resolve(LiveFile.NAME), new byte[10]);
    assertTrue(LiveView.open(dir).isEmpty());
  }

  private static Plan hiding() throws Exception {
    return Plan.read(
        new Source("hiding.yaml", TestPlans.quick(2).source().text() + HIDING),
        new Source("settings.yaml", TestPlans.quick(1).settings().source().text()));
  }

  /** A view in which that many trials are done. */
  private LiveView await(int done) throws Exception {
    while (true) {
      LiveView view = LiveView.open(dir).orElse(null);
      if (view != null) {
        Map<String, Object> whole = json(view.whole().orElseThrow());
        if (Objects.equals(whole.get("done"), done)) {
          return view;
        }
        view.close();
      }
      // a feed tells nobody when it is written: whoever reads looks again
      Thread.sleep(5);
    }
  }

  private static Map<String, Object> awaitNews(LiveView view) throws Exception {
    while (true) {
      Optional<byte[]> news = view.news();
      if (news.isPresent() && text(news.get()).contains("is back")) {
        return json(news.get());
      }
      // a feed tells nobody when it is written: whoever reads looks again
      Thread.sleep(5);
    }
  }

  private static List<RunFile.Entry> run(Plan plan, int jobs, Supplier<Onlooker> onlookers)
      throws Exception {
    List<RunFile.Entry> kept = new ArrayList<>();
    Campaign campaign =
        new Campaign(plan, List.of(), jobs, () -> false, kept::addAll).watchedBy(onlookers);
    assertEquals(Campaign.End.COMPLETE, campaign.run(open(), LiveFeedTest::open));
    return kept;
  }

  private static List<TrialResult> results(List<RunFile.Entry> kept) {
    return kept.stream().map(RunFile.Entry::result).toList();
  }

  private static Bench open() {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    return bench;
  }

  private static RunHeader header(Plan plan) {
    return RunHeader.of(
        plan,
        "test",
        new VirtualBench(MS).describe(),
        "2026-01-01T00:00:00Z",
        "test",
        Registration.NONE);
  }

  private static String text(byte[] json) {
    return new String(json, StandardCharsets.UTF_8);
  }

  private static Map<String, Object> json(byte[] text) throws Exception {
    return JSON.std.mapFrom(text(text));
  }

  private static List<?> list(Map<String, Object> from, String key) {
    return (List<?>) Objects.requireNonNull(from.get(key), key);
  }
}
