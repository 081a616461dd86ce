package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialSpec;

/** Spaces: what is written is what is explored, and every mistake has its line. */
class SpaceTest {
  private static final String GOOD =
      """
      space: 1
      name: ratio
      plan: first-stop.yaml
      condition: half-wet/two-frequency
      outcome: stop_error
      design: latin-hypercube
      trials: 1000
      factors:
        scene.canal.length_mm: {from: 8, to: 18}
        scene.canal.tissue_ohm_m: {from: 1.5, to: 5, log: true}
        scene.canal.foramen_diameter_mm: {mean: 0.5, sd: 0.05}
        scene.fluid.fill: {choice: [half_wet, brimful]}
        settings.stages.length.speed_rpm: {from: 150, to: 400}
      correlations:
        - {of: [scene.canal.length_mm, scene.canal.tissue_ohm_m], is: 0.3}
      """;

  @TempDir Path dir;

  private static Source at(String text) {
    return new Source(TestPlans.root().resolve("docs/plans/space.yaml").toString(), text);
  }

  private static Space read(String text) throws PlanException {
    return Space.read(at(text), Policies.BUILT_IN);
  }

  @Test
  void aSpaceSaysWhatItSays() throws Exception {
    Space space = read(GOOD);
    assertEquals(Space.Design.LATIN_HYPERCUBE, space.head().design());
    assertEquals("half-wet/two-frequency", space.condition().name());
    assertEquals(5, space.factors().size());
    Factor length = space.factors().get(0);
    assertEquals(8000, length.at(0));
    assertEquals(18000, length.at(1));
    assertEquals(13000, length.at(0.5));
    assertEquals(0, length.position(13000));
    Factor tissue = space.factors().get(1);
    assertEquals(274, tissue.at(0.5)); // the root of 1.5 times 5 is 2.739
    assertEquals(-Factor.ONE, tissue.position(150));
    Factor foramen = space.factors().get(2);
    assertEquals(350, foramen.at(0));
    assertEquals(500, foramen.at(0.5));
    assertEquals(650, foramen.at(1));
    assertEquals("brimful", space.factors().get(3).text(space.factors().get(3).at(0.6)));
    assertTrue(space.factors().get(4).isOfSettings());
    assertEquals(0.3, space.correlations().get(1).get(0));
  }

  /** What makes the file wrong, and what the message must say. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "{from: 8, to: 18} -> {from: 18, to: 8} -> :9: factors.scene.canal.length_mm: the range is"
            + " empty: from 18 to 8 mm",
        "{from: 8, to: 18} -> {from: 8, to: 8} -> the range is empty",
        "{from: 8, to: 18} -> {from: 8, to: 40} -> outside 4 to 30 mm",
        "{from: 8, to: 18} -> 9 -> write {from: …, to: …}",
        "{mean: 0.5, sd: 0.05} -> {mean: 0.5, sd: 0.2} -> outside 0.1 to 3 mm",
        "{choice: [half_wet, brimful]} -> {choice: [half_wet]} -> two or more",
        "{choice: [half_wet, brimful]} -> {choice: [half_wet, half_full]} -> half_full",
        "{choice: [half_wet, brimful]} -> {from: 1, to: 2} -> is not a number",
        "canal.length_mm: { -> canal.lenght_mm: { -> did you mean scene.canal.length_mm",
        "design: latin-hypercube -> design: sobol -> needs independent factors",
        "is: 0.3 -> is: 3 -> outside -1 to 1",
        "scene.canal.tissue_ohm_m], is: 0.3} -> settings.stages.length.speed_rpm], is: 0.3}\nrepeats: 5"
            + " -> :15: correlations.of: joins a setting with another factor",
        "trials: 1000 -> trials: 0 -> outside 1 to",
        "outcome: stop_error -> outcome: luck -> luck",
        "condition: half-wet/two-frequency -> condition: wet -> give one of half-wet/estimate",
        "first-stop.yaml -> missing.yaml -> :3: plan: missing.yaml: no such file",
        "factors: -> factor: -> did you mean factors",
        "trials: 1000 -> trials: 1000\nrepeats: 5\ndesign2: x -> unknown key",
        "{from: 1.5, to: 5, log: true} -> {from: 1.5, to: 5, log: 1} -> neither true nor false",
        "settings.stages.length.speed_rpm: {from: 150, to: 400} ->"
            + " scene.front_end.frequency_1_hz: {from: 630, to: 7000} ->"
            + " front_end.frequency_1_hz: 3815 Hz leaves out 630 Hz",
      })
  void aMistakeIsNamedWithItsLine(String slip) {
    String[] change = slip.split(" -> ", -1);
    String wrong = GOOD.replace(change[0], change[1]);
    assertTrue(!wrong.equals(GOOD), slip);
    PlanException e = assertThrows(PlanException.class, () -> read(wrong));
    assertTrue(String.valueOf(e.getMessage()).contains(change[2]), e.getMessage());
  }

  private static final String TUNED =
      GOOD
          + """
          target:
            over_travel: {at_most: 0.005}
            time: {at_most_s: 40}
            minimise: early_stop
          """;

  @Test
  void aTargetSaysWhatItSays() throws Exception {
    TuneTarget target = read(TUNED).target().orElseThrow();
    assertEquals(
        List.of(
            new TuneTarget.Limit(TuneTarget.Measure.OVER_TRAVEL, 0.005, 17),
            new TuneTarget.Limit(TuneTarget.Measure.TIME, 40, 18)),
        target.limits());
    assertEquals(TuneTarget.Measure.EARLY_STOP, target.minimise());
    assertEquals(2000, target.freshCanals());
    assertTrue(read(GOOD).target().isEmpty());
    assertEquals(target, read(TUNED).with(3, 70).target().orElseThrow());
  }

  /** What makes a target wrong, and what the message must say. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "minimise: early_stop -> minimise: over_travel -> :17: target.over_travel: is limited and"
            + " minimised",
        "minimise: early_stop -> minimise: luck -> luck",
        "  minimise: early_stop -> # -> target.minimise: missing",
        "at_most: 0.005 -> at_most: 5 -> :17: target.over_travel.at_most: 5 is outside 0.000001 to",
        "at_most: 0.005 -> at_most_s: 5 -> target.over_travel.at_most: missing",
        "{at_most: 0.005} -> 0.005 -> target.over_travel: 0.005 is not a group of keys",
        "{at_most: 0.005} ->  -> target.over_travel: is empty; write a group of keys",
        "at_most_s: 40 -> at_most_s: 180 -> :18: target.time: at_most_s 180.0 s limits nothing",
        "over_travel: { -> overtravel: { -> did you mean over_travel",
        "minimise: -> fresh_canals: 10\n  minimise: -> fresh_canals",
      })
  void aWrongTargetIsNamedWithItsLine(String slip) {
    String[] change = slip.split(" -> ", -1);
    String wrong = TUNED.replace(change[0], change[1]);
    assertTrue(!wrong.equals(TUNED), slip);
    PlanException e = assertThrows(PlanException.class, () -> read(wrong));
    assertTrue(String.valueOf(e.getMessage()).contains(change[2]), e.getMessage());
  }

  @Test
  void aTargetWithoutALimitOrOnARefusalIsRefused() {
    String none =
        TUNED
            .replace("  over_travel: {at_most: 0.005}\n", "")
            .replace("  time: {at_most_s: 40}\n", "");
    assertTrue(message(none).contains("target: states no limit"), message(none));
    String dry =
        TUNED
            .replace("condition: half-wet/two-frequency", "condition: dry/estimate")
            .replace("time: {at_most_s: 40}", "refusal: {at_most: 0.1}");
    assertTrue(
        message(dry).contains("choose a condition in which the file can stop"), message(dry));
    assertTrue(message(dry).contains("early_stop cannot be estimated"), message(dry));
  }

  private static String message(String text) {
    return String.valueOf(assertThrows(PlanException.class, () -> read(text)).getMessage());
  }

  @Test
  void correlationsThatCannotBeAreRefused() {
    String three =
        GOOD.replace(
            "  - {of: [scene.canal.length_mm, scene.canal.tissue_ohm_m], is: 0.3}\n",
            """
              - {of: [scene.canal.length_mm, scene.canal.tissue_ohm_m], is: 0.9}
              - {of: [scene.canal.length_mm, scene.canal.foramen_diameter_mm], is: 0.9}
              - {of: [scene.canal.tissue_ohm_m, scene.canal.foramen_diameter_mm], is: -0.9}
            """);
    PlanException e = assertThrows(PlanException.class, () -> read(three));
    assertEquals(1, e.mistakes().size(), e.getMessage());
    assertTrue(e.mistakes().get(0).message().contains("positive semidefinite"), e.getMessage());
    assertEquals(14, e.mistakes().get(0).line());
  }

  @Test
  void allMistakesComeAtOnce() {
    PlanException e =
        assertThrows(
            PlanException.class,
            () ->
                read(
                    GOOD.replace("from: 8, to: 18", "from: 18, to: 8")
                        .replace("from: 150, to: 400", "from: 400, to: 150")
                        .replace("trials: 1000", "trials: 0")));
    assertEquals(List.of(7, 9, 13), e.mistakes().stream().map(Mistake::line).toList());
  }

  /** A trial of a space, and the same trial by the plan that is written for it. */
  @Test
  void aPointWrittenAsAPlanIsTheSameTrial() throws Exception {
    Space space = read(GOOD);
    PlanPoint points = new PlanPoint(space);
    long[] values = {11234, 274, 512, 1, 222_000};
    PlanPoint.Point point = points.at(values, 123_456_789_012L);
    Path settings = TestPlans.root().resolve("docs/settings").toAbsolutePath();
    String text =
        points.text(
            values,
            123_456_789_012L,
            Map.of(
                "",
                settings.resolve("length.yaml").toString(),
                "../settings/ratio.yaml",
                settings.resolve("ratio.yaml").toString()));
    Path file = dir.resolve("one.yaml");
    Files.writeString(file, text);
    Plan plan = Plan.read(Source.of(file));
    assertEquals(1, plan.trials());
    TrialSpec again = plan.trial(0);
    assertEquals(point.spec().scene().seed(), again.scene().seed());
    for (String section : org.stopwell.rig.bench.Scene.allTables().keySet()) {
      org.stopwell.rig.bench.Scene.allTables()
          .get(section)
          .parameters()
          .forEach(
              p ->
                  assertEquals(
                      point.spec().scene().section(section).get(p),
                      again.scene().section(section).get(p),
                      section + "." + p.key()));
    }
    assertEquals(11234, again.scene().section("canal").get(p("canal", "length_mm")));
    assertEquals(point.controller().fingerprint(), plan.controller(again).fingerprint());
    assertEquals(point.spec().faults(), again.faults());
    assertEquals(point.spec().expectation(), again.expectation());
    assertEquals(point.spec().toleranceMicrons(), again.toleranceMicrons());
  }

  private static org.stopwell.core.settings.Parameter p(String section, String key) {
    return java.util.Objects.requireNonNull(org.stopwell.rig.bench.Scene.tables().get(section))
        .parameters()
        .stream()
        .filter(p -> p.key().equals(key))
        .findFirst()
        .orElseThrow();
  }
}
