package org.stopwell.harness.explore;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.ObjectInputStream;
import java.io.ObjectOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** Spaces with real trials: physics and controller in place of a function. */
class RealTrialsTest {
  private static final long MS = 1_000_000;

  private static final String SPACE =
      """
      space: 1
      name: quick
      plan: ../plans/reference-canal.yaml
      condition: half-wet/quick
      outcome: stop_error
      design: latin-hypercube
      trials: 24
      factors:
        scene.canal.foramen_diameter_mm: {from: 0.4, to: 0.6}
        scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2, log: true}
      """;

  @TempDir Path dir;

  private static ExploreWork work(String text) throws Exception {
    Source source = new Source(TestPlans.root().resolve("docs/spaces/quick.yaml").toString(), text);
    return ExploreWork.of(Space.read(source, Policies.BUILT_IN), "this build", MS);
  }

  private static Finished<ExploreSummary> all(
      ExploreWork work, int workers, int size, RowSink rows) {
    return new Pool(workers, size)
        .run(work, Finished.none(work), rows, f -> {}, Engine.Watcher.NOBODY, () -> false);
  }

  @Test
  void workersAndShardsChangeNoByte() throws Exception {
    byte[] alone = all(work(SPACE), 1, 1, RowSink.NOWHERE).summary().toBytes();
    for (int workers : new int[] {1, 2, 4}) {
      for (int size : new int[] {7, 64}) {
        assertArrayEquals(
            alone, all(work(SPACE), workers, size, RowSink.NOWHERE).summary().toBytes());
      }
    }
    assertArrayEquals(alone, all(work(SPACE), 2, 1, RowSink.NOWHERE).summary().toBytes());
  }

  /** The plan that is written for a worst trial gives that trial again. */
  @Test
  void theWorstTrialsComeAgain() throws Exception {
    ExploreWork work = work(SPACE);
    ExploreResult result = ExploreResult.of(work, all(work, 2, 0, RowSink.NOWHERE));
    assertEquals(List.of(), result.problems());
    List<Path> plans = new ExploreFiles(work, dir).worst(result);
    assertEquals(ExploreSummary.WORST, plans.size());
    for (int i = 0; i < 3; i++) {
      Plan plan = Plan.read(Source.of(plans.get(i)));
      assertEquals(1, plan.trials());
      TrialSpec spec = plan.trial(0);
      try (VirtualBench bench = new VirtualBench(MS)) {
        bench.open();
        TrialResult again =
            Trials.run(
                    bench,
                    plan.controller(spec),
                    plan.policies(),
                    spec,
                    null,
                    () -> Pace.lockstep(MS),
                    () -> false)
                .orElseThrow();
        assertEquals(result.worst().get(i).badness(), Math.abs(again.stopErrorMicrons()));
      }
    }
  }

  @Test
  void theTableHoldsEveryTrialInBothForms() throws Exception {
    ExploreWork work = work(SPACE);
    ExploreResult result;
    try (TrialTable table = new TrialTable(work, dir)) {
      result = ExploreResult.of(work, all(work, 2, 1, table));
      table.copyToCsv();
    }
    List<String> lines = Files.readAllLines(dir.resolve(TrialTable.CSV));
    assertEquals(25, lines.size());
    List<String> head = List.of(lines.get(0).split(",", -1));
    ByteBuffer npy =
        ByteBuffer.wrap(Files.readAllBytes(dir.resolve(TrialTable.NUMPY)))
            .order(ByteOrder.LITTLE_ENDIAN);
    int offset = 10 + npy.getShort(8);
    assertEquals(0, offset % 64);
    String names = new String(npy.array(), 10, offset - 10, StandardCharsets.US_ASCII);
    assertTrue(names.contains("('scene_canal_foramen_diameter_mm_e3', '<i8')"), names);
    assertTrue(names.contains("'shape': (24,)"), names);
    assertEquals(offset + 24 * head.size() * 8, npy.array().length);
    int outcome = head.indexOf("outcome");
    int with = head.indexOf("has_outcome");
    double sum = 0;
    long count = 0;
    for (int i = 0; i < 24; i++) {
      String[] cells = lines.get(1 + i).split(",", -1);
      long value = npy.getLong(offset + (i * head.size() + outcome) * 8);
      assertEquals(cells[outcome], Long.toString(value));
      assertEquals(
          Math.round(Double.parseDouble(cells[0]) * 1000),
          npy.getLong(offset + i * head.size() * 8));
      sum += cells[with].equals("1") ? value : 0;
      count += cells[with].equals("1") ? 1 : 0;
    }
    assertEquals(count, result.counts().withOutcome());
    assertEquals(sum / count, result.mean(), 1e-9);
  }

  @Test
  void settingsAreComparedOnTheSameCanals() throws Exception {
    ExploreWork work =
        work(
            SPACE.replace("design: latin-hypercube", "design: grid\nrepeats: 6\nlevels: 2")
                + "  settings.stages.length.standoff_mm: {from: 0.2, to: 1}\n");
    ExploreResult result = ExploreResult.of(work, all(work, 2, 0, RowSink.NOWHERE));
    assertEquals(2, result.points().size());
    assertEquals(List.of("0.2"), result.points().get(0).values());
    assertEquals(6, result.points().get(0).overTravel().trials());
    long[] one = work.values(0);
    long[] other = work.values(6);
    assertEquals(one[0], other[0]);
    assertEquals(work.rest(0), work.rest(6));
    assertNotEquals(one[2], other[2]);
    assertTrue(result.points().stream().anyMatch(ParetoFront.Point::onFront));
  }

  @Test
  void whatCannotBeEstimatedIsSaid() throws Exception {
    ExploreWork work =
        work(SPACE.replace("half-wet/quick", "dry/quick").replace("trials: 24", "trials: 4"));
    ExploreResult result = ExploreResult.of(work, all(work, 2, 0, RowSink.NOWHERE));
    assertEquals(0, result.counts().withOutcome());
    assertTrue(
        result.problems().get(0).contains("none of 4 trials stopped"), result.problems() + "");
    assertTrue(result.surface().isEmpty());
  }

  @Test
  void otherWorkHasAnotherFingerprint() throws Exception {
    String one = work(SPACE).fingerprint();
    assertEquals(one, work(SPACE).fingerprint());
    assertNotEquals(one, work(SPACE.replace("to: 0.6", "to: 0.61")).fingerprint());
    assertNotEquals(
        one,
        new ExploreWork(work(SPACE).space().with(2, 24), (v, r) -> Evaluation.of(0), "this build")
            .fingerprint());
    assertNotEquals(
        one,
        new ExploreWork(work(SPACE).space(), (v, r) -> Evaluation.of(0), "other").fingerprint());
    assertFalse(one.isEmpty());
  }

  /** On another machine the work is the same work, without a file. */
  @Test
  void workThatTravelsIsTheSameWork() throws Exception {
    itTravels(work(SPACE));
  }

  /** The best estimate needs weights. A file of weights travels with the work. */
  @Test
  void theBestEstimateTravelsWithItsWeights() throws Exception {
    Path docs = TestPlans.root().resolve("docs");
    Files.copy(
        TestPlans.root()
            .resolve("controller-core/src/main/resources/stopwell-weights/shipped.weights"),
        dir.resolve("own.weights"));
    Files.writeString(
        dir.resolve("own.yaml"),
        Files.readString(docs.resolve("settings/length.yaml"))
            .replace("policy: approach", "policy: approach\n  weights: own.weights"));
    Files.writeString(
        dir.resolve("plan.yaml"),
        Files.readString(docs.resolve("plans/first-stop.yaml"))
            .replace("../settings/length.yaml", "own.yaml")
            .replace("../settings", docs.resolve("settings").toAbsolutePath().toString()));
    ExploreWork own = ExploreWork.of(Space.read(estimate(dir), Policies.BUILT_IN), "b", MS);
    itTravels(own);
    ExploreWork shipped =
        ExploreWork.of(Space.read(estimate(docs.resolve("plans")), Policies.BUILT_IN), "b", MS);
    itTravels(shipped);
    // Equal weights give equal trials, whichever file they stand in.
    assertArrayEquals(
        shipped.shard(0, 5, RowSink.NOWHERE).toBytes(), own.shard(0, 5, RowSink.NOWHERE).toBytes());
    assertTrue(
        ExploreResult.of(own, all(own, 2, 0, RowSink.NOWHERE)).counts().withOutcome() > 0,
        "some of them stop");
  }

  private static Source estimate(Path folder) {
    return new Source(
        folder.resolve("space.yaml").toString(),
        SPACE
            .replace(
                "../plans/reference-canal.yaml",
                Files.exists(folder.resolve("plan.yaml")) ? "plan.yaml" : "first-stop.yaml")
            .replace("half-wet/quick", "half-wet/estimate")
            .replace("trials: 24", "trials: 10"));
  }

  private static void itTravels(ExploreWork work) throws Exception {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ObjectOutputStream out = new ObjectOutputStream(bytes)) {
      out.writeObject(work);
    }
    try (ObjectInputStream in =
        new ObjectInputStream(new ByteArrayInputStream(bytes.toByteArray()))) {
      ExploreWork there = (ExploreWork) in.readObject();
      assertEquals(work.fingerprint(), there.fingerprint());
      assertArrayEquals(
          work.shard(3, 5, RowSink.NOWHERE).toBytes(),
          there.shard(3, 5, RowSink.NOWHERE).toBytes());
    }
  }

  /** Memory does not grow with the number of trials. */
  @Test
  void aSummaryHasOneSize() throws Exception {
    Space space = KnownFunctions.space(Space.Design.RANDOM, 3, -3, 3, 9, 200_000);
    ExploreWork work = new ExploreWork(space, KnownFunctions::ishigami, "");
    assertEquals(
        work.shard(0, 1_000, RowSink.NOWHERE).toBytes().length,
        all(work, 2, 1000, RowSink.NOWHERE).summary().toBytes().length);
  }
}
