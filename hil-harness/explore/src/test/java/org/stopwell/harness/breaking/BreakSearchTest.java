package org.stopwell.harness.breaking;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.explore.ExploreFiles;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.OwnPolicies;
import org.stopwell.harness.trial.TestPlans;

/** Searches with real trials: physics, hand and controller. */
class BreakSearchTest {
  private static final long MS = 1_000_000;

  /** A hand that reacts after half a second, on a network of resistors; a plain stop. */
  private static final String LATE_HAND =
      """
      plan: 1
      name: late-hand
      settings: docs/settings/resistance.yaml
      stage: length
      seed: 3
      trials: 1
      time_limit_s: 60
      scene:
        canal: {kind: resistors, length_mm: 8, body_ohm: 6500}
        hand: {feed_mm_per_s: 0.8, passive_mm: 6, reaction_ms: 500, tremor_um: 0}
      factors:
        stop:
          plain:
            settings:
              policies: {stopping: plain}
      """;

  @TempDir Path dir;

  private static Plan plan(String text) throws Exception {
    return Plan.read(new Source(TestPlans.root().resolve("plan.yaml").toString(), text));
  }

  private static Scope scope(String words, Map<String, String> limits) throws BreakException {
    return Scope.of(List.of(words.split(",", -1)), Limits.with(limits));
  }

  private BreakSearch search(Plan plan, Scope scope, int starts, int jobs) throws Exception {
    Path place = Files.createTempDirectory(dir, "break");
    return search(plan, scope, starts, jobs, place, Long.MAX_VALUE);
  }

  /** A search that is given up after so many trials. */
  private static BreakSearch search(
      Plan plan, Scope scope, int starts, int jobs, Path place, long most) throws Exception {
    AtomicLong trials = new AtomicLong();
    BreakSearch.Progress nobody =
        new BreakSearch.Progress() {
          @Override
          public void planned(int parts) {}

          @Override
          public void ended() {}

          @Override
          public void trial() {
            trials.incrementAndGet();
          }

          @Override
          public void found(BreakResult.Breach breach) {}
        };
    String condition = plan.conditions().get(0).name();
    BreakSearch.Work work = new BreakSearch.Work(2, starts, 8, 1, jobs);
    return new BreakSearch(
        plan,
        condition,
        scope,
        work,
        MS,
        () -> trials.get() >= most,
        new BreakState(
            place,
            BreakSearch.fingerprint(plan, condition, scope, work, "this build", OwnPolicies.NONE)),
        nobody);
  }

  private BreakResult result(Plan plan, Scope scope, int starts, int jobs) throws Exception {
    try (BreakSearch search = search(plan, scope, starts, jobs)) {
      return search.search();
    }
  }

  /**
   * Given up in the middle, again and again, the last time with a line that a power cut left
   * unfinished: the end is that of a search in one go.
   */
  @Test
  void aSearchThatWasGivenUpGoesOnAndEndsWithTheSameAnswer() throws Exception {
    Plan plan = plan(LATE_HAND);
    Scope scope = scope("hand,faults.jump", Map.of("hand.peck_stroke_mm", "0"));
    BreakResult whole;
    String text;
    Map<String, String> settings =
        ExploreFiles.settings(plan, TestPlans.root().resolve("docs/plans"));
    try (BreakSearch search = search(plan, scope, 3, 1)) {
      whole = search.search();
      text = search.text(settings).orElseThrow();
    }
    Path place = Files.createDirectories(dir.resolve("cut"));
    for (int cut = 1; cut <= 2; cut++) {
      try (BreakSearch search = search(plan, scope, 3, 1, place, whole.trials() / 3)) {
        assertFalse(search.search().complete(), "cut " + cut);
      }
    }
    Path file = place.resolve(BreakState.NAME);
    List<String> kept = Files.readAllLines(file);
    assertTrue(kept.size() > 3, whole.trials() + " trials: " + kept);
    String last = kept.get(kept.size() - 1);
    Files.writeString(file, last.substring(0, 9), StandardOpenOption.APPEND);
    try (BreakSearch search = search(plan, scope, 3, 2, place, Long.MAX_VALUE)) {
      assertEquals(whole, search.search());
      assertEquals(text, search.text(settings).orElseThrow());
    }
    assertEquals(kept, Files.readAllLines(file).subList(0, kept.size()), "nothing twice");
    IOException other =
        assertThrows(
            IOException.class, () -> search(plan, scope("hand", Map.of()), 3, 1, place, 9));
    assertTrue(
        String.valueOf(other.getMessage()).contains("made by another plan, condition, option"),
        other.toString());
  }

  /** The file passes the foramen once feed × reaction exceeds the standoff of 0.5 mm. */
  @Test
  void theLeastFeedIsTheStandoffOverTheReactionOfTheHand() throws Exception {
    Scope scope = scope("hand", Map.of("hand.tremor_um", "0", "hand.push_through_mm", "0"));
    BreakResult result = result(plan(LATE_HAND), scope, 2, 2);
    BreakResult.Single feed = result.alone().get(0);

    assertEquals("scene.hand.feed_mm_per_s", feed.part().key());
    assertTrue(feed.past());
    // Sensor and controller add 30 ms to the half second.
    assertEquals(0.5 / 0.5, Double.parseDouble(feed.part().value()), 0.07);
    assertTrue(result.breach().orElseThrow().size() <= Math.abs(feed.part().share()) + 1e-9);
  }

  @Test
  void theWrittenPlanRepeatsTheOverTravel() throws Exception {
    Plan plan = plan(LATE_HAND);
    Scope scope =
        scope("hand,faults.frozen_signal,faults.overspeed", Map.of("hand.feed_mm_per_s", "0.9"));
    try (BreakSearch search = search(plan, scope, 4, 2)) {
      BreakResult result = search.search();
      BreakResult.Breach breach = result.breach().orElseThrow();
      Path folder = TestPlans.root().resolve("docs/plans");
      String text = search.text(ExploreFiles.settings(plan, folder)).orElseThrow();
      Plan written = Plan.read(new Source(folder.resolve("broken.yaml").toString(), text));

      assertEquals(1, written.trials());
      assertTrue(search.repeats(written, breach), text);
      assertTrue(breach.deepestMicrons().orElseThrow() < 0);
      assertEquals(BreakSearch.SEEDS, breach.margin().orElseThrow().seeds());
    }
  }

  @Test
  void theLeastDisturbanceOfRealTrialsNeedsEachOfItsIngredients() throws Exception {
    Plan plan = plan(LATE_HAND);
    Scope scope = scope("hand", Map.of("hand.feed_mm_per_s", "0.9"));
    TrialField field =
        new TrialField(plan, plan.plannedConditions().get(0), scope, 1, MS, () -> false, () -> {});
    Arena arena = field.arena(0, 0);
    double[] all = new double[arena.ingredients().size()];
    java.util.Arrays.fill(all, 1);
    double[] least = new Shrink(arena).least(all);

    assertTrue(arena.isPast(least));
    assertFalse(arena.isPast(new Shrink(arena).scaled(least, Shrink.BELOW)));
    List<String> needed = new ArrayList<>();
    for (int i = 0; i < least.length; i++) {
      if (least[i] != 0) {
        double[] without = least.clone();
        without[i] = 0;
        assertFalse(arena.isPast(without), arena.ingredients().get(i).name());
        needed.add(arena.ingredients().get(i).name());
      }
    }
    assertFalse(needed.isEmpty());
  }

  /** The motor stops 2 mm short; 2 mm/s for half a second, a push of 0.3 mm and tremor are less. */
  @Test
  void aStopFarAwayCannotBeBroken() throws Exception {
    Plan plan =
        plan(
            LATE_HAND.replace("policies: {stopping: plain}", "stages: {length: {standoff_mm: 2}}"));
    Scope scope = scope("hand,noise", Map.of("hand.peck_stroke_mm", "0"));
    BreakResult result = result(plan, scope, 3, 2);

    assertTrue(result.breach().isEmpty(), result + "");
    assertTrue(result.complete());
    assertTrue(result.trials() > 3 * 8, result.trials() + " trials");
    assertTrue(result.nearestMicrons() > 0);
  }

  @Test
  void theNumberOfJobsChangesNothing() throws Exception {
    Scope scope = scope("hand,faults.jump", Map.of("hand.peck_stroke_mm", "0"));

    assertEquals(result(plan(LATE_HAND), scope, 2, 1), result(plan(LATE_HAND), scope, 2, 3));
  }

  /** A stage neither trembles nor pushes: only its feed takes part. */
  @Test
  void aStageIsDisturbedByItsFeedAlone() throws Exception {
    Plan plan = plan(LATE_HAND.replace("{feed_mm_per_s", "{motion: stage, feed_mm_per_s"));
    TrialField field =
        new TrialField(
            plan,
            plan.plannedConditions().get(0),
            scope("hand", Map.of()),
            1,
            MS,
            () -> false,
            () -> {});

    assertEquals(
        List.of("hand.feed_mm_per_s"),
        field.arena(0, 0).ingredients().stream().map(Ingredient::name).toList());
  }

  @Test
  void wrongWordsAndLimitsAreNamedAllAtOnce() {
    BreakException limits =
        assertThrows(
            BreakException.class,
            () ->
                Limits.with(
                    new java.util.TreeMap<>(
                        Map.of("hand.feed_mm_per_s", "25", "hand.spin", "1", "faults.jump", "x"))));
    assertEquals(3, limits.mistakes().size());
    assertTrue(
        limits.mistakes().contains("hand.feed_mm_per_s: 25 is outside 0.01 to 20 mm/s"),
        limits.getMessage());
    BreakException words =
        assertThrows(BreakException.class, () -> scope("hand,faults.port_gone,jumps", Map.of()));
    assertEquals(2, words.mistakes().size());
    assertTrue(words.mistakes().get(0).startsWith("faults.port_gone ends the trial"));
    assertTrue(words.mistakes().get(1).startsWith("jumps is none of hand, noise, faults, "));
  }
}
