package org.stopwell.harness.spark;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.SortedMap;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import java.util.jar.JarOutputStream;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineException;
import org.stopwell.harness.explore.Finished;
import org.stopwell.harness.explore.KeptShards;
import org.stopwell.harness.explore.Pool;
import org.stopwell.harness.explore.RowSink;
import org.stopwell.harness.explore.ShardSummary;
import org.stopwell.harness.explore.ShardWork;
import org.stopwell.harness.explore.UnitSet;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.OwnPolicies;
import org.stopwell.harness.tune.TuneFiles;
import org.stopwell.harness.tune.TuneResult;
import org.stopwell.harness.tune.TuneRun;
import org.stopwell.harness.tune.TuneState;
import org.stopwell.harness.tune.Tuning;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.time.Deadline;
import org.stopwell.rig.time.MachineClock;

/** A master and two workers, each a process of its own, started from the jars of the build. */
class SparkClusterTest {
  private static final ToyWork WORK = ToyWork.of(1_000);

  /** Short trials: a quick hand, which stops late; here equal bytes count. */
  private static final String SPACE =
      """
      space: 1
      name: quick
      plan: %s
      condition: half-wet/quick
      outcome: stop_error
      design: latin-hypercube
      trials: 2000
      factors:
        scene.canal.foramen_diameter_mm: {from: 0.4, to: 0.6}
        scene.hand.feed_mm_per_s: {from: 2.5, to: 4}
      """;

  /** The least tuning of one setting in the same short trials. */
  private static final String TARGET =
      """
      space: 1
      name: small
      plan: %s
      condition: half-wet/quick
      outcome: over_travel
      design: latin-hypercube
      trials: 100
      repeats: 10
      factors:
        scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2, log: true}
        settings.stages.length.reaction_ms: {from: 0, to: 400}
      target:
        over_travel: {at_most: 0.5}
        minimise: stop_error_spread
        fresh_canals: 20
      """;

  @TempDir static Path dir;
  private static LocalCluster cluster;
  private static ShippedJars jars;
  private static Process first;

  @BeforeAll
  static void aMasterAndTwoWorkers() throws IOException {
    System.setProperty("spark.executor.memory", "512m");
    System.setProperty(
        "spark.executor.extraJavaOptions", "-XX:+UseSerialGC -XX:TieredStopAtLevel=1");
    jars = LocalCluster.jars(dir);
    cluster = new LocalCluster(dir);
    first = cluster.worker("worker1");
    cluster.worker("worker2");
  }

  @AfterAll
  static void end() {
    if (cluster != null) {
      cluster.close();
    }
  }

  private static byte[] alone(ToyWork work) {
    return new Pool(1)
        .run(
            work, Finished.none(work), RowSink.NOWHERE, f -> {}, Engine.Watcher.NOBODY, () -> false)
        .summary()
        .toBytes();
  }

  private static SparkEngine engine(long shardUnits) {
    return new SparkEngine(Master.of(cluster.url()), jars, shardUnits, Optional.empty());
  }

  /** The rows of work without physics, as a table must hold them. */
  private static void everyRowOnce(long trials, Path table) throws IOException {
    SortedMap<Long, List<Object>> rows = ParquetRows.read(table);
    assertEquals(trials, rows.size());
    assertEquals(trials - 1, rows.lastKey());
    rows.forEach(
        (trial, cells) ->
            assertEquals(
                List.of(
                    RandomStream.trialSeed(7, trial), trial / 2.0, trial % 2 == 0 ? "even" : "odd"),
                cells));
  }

  /** One connection for all: the processes of the workers start once. */
  @Test
  void theBytesAreThoseOfThePoolAndADeadWorkerLosesAndDoublesNothing() throws Exception {
    try (Cluster joined = Cluster.join(Master.of(cluster.url()), jars)) {
      for (long shardUnits : new long[] {0, 7, 100, 999, 5_000}) {
        theBytesAreThoseOfThePool(joined, shardUnits);
      }
      whatIsDoneIsNotDoneAgain(joined);
      aBrokenTrialIsNamed(joined);
      aTuningLeavesTheFilesOfThePool(joined);
      aDeadWorkerLosesAndDoublesNothing(joined);
    }
  }

  private static void theBytesAreThoseOfThePool(Cluster joined, long shardUnits) {
    Set<Long> seen = new HashSet<>();
    RowSink rows =
        (trial, values) -> {
          assertTrue(seen.add(trial), "trial " + trial + " came twice");
          assertEquals(trial, values[1]);
        };
    Finished<ToyWork.Kept> all =
        engine(shardUnits)
            .runOn(
                joined,
                WORK,
                Finished.none(WORK),
                rows,
                f -> {},
                Engine.Watcher.NOBODY,
                () -> false);
    assertArrayEquals(alone(WORK), all.summary().toBytes(), "shards of " + shardUnits);
    assertEquals(List.of(new UnitSet.Range(0, 1_000)), all.units().ranges());
    assertEquals(2_000, seen.size());
  }

  /** The pool did some units here and there; the cluster does the rest. */
  private static void whatIsDoneIsNotDoneAgain(Cluster joined) {
    Finished<ToyWork.Kept> before = Finished.none(WORK);
    for (long[] part : new long[][] {{900, 990}, {17, 18}, {400, 650}}) {
      before = before.with(part[0], part[1], WORK.shard(part[0], part[1], RowSink.NOWHERE));
    }
    long[] done = new long[1];
    Finished<ToyWork.Kept> all =
        engine(64)
            .runOn(
                joined,
                WORK,
                before,
                RowSink.NOWHERE,
                f -> {},
                (worker, trials, ns) -> done[0] += trials,
                () -> false);
    assertEquals(2 * (1_000 - 90 - 1 - 250), done[0]);
    assertArrayEquals(alone(WORK), all.summary().toBytes());
  }

  /** Search and judgement go through one connection, work by work. */
  private static void aTuningLeavesTheFilesOfThePool(Cluster joined) throws Exception {
    Engine onCluster =
        new Engine() {
          @Override
          public <S extends ShardSummary<S>> Finished<S> run(
              ShardWork<S> work,
              Finished<S> before,
              RowSink rows,
              Consumer<Finished<S>> keeper,
              Watcher watcher,
              BooleanSupplier stop) {
            return engine(0).runOn(joined, work, before, rows, keeper, watcher, stop);
          }
        };
    Path there = tuned("tuned-spark", onCluster);
    Path here = tuned("tuned-pool", new Pool(2));
    for (String name :
        List.of(TuneFiles.SETTINGS, "points.csv", "judged.csv", "values", TuneState.NAME)) {
      assertArrayEquals(
          Files.readAllBytes(here.resolve(name)), Files.readAllBytes(there.resolve(name)), name);
    }
  }

  private static Path tuned(String name, Engine engine) throws Exception {
    Path out = Files.createDirectory(dir.resolve(name));
    Path plan = Path.of("../../docs/plans/reference-canal.yaml").toRealPath();
    Source source = new Source(dir.resolve("tune.yaml").toString(), TARGET.formatted(plan));
    Tuning tuning =
        Tuning.of(Space.read(source, Policies.BUILT_IN), "this build", 1_000_000, OwnPolicies.NONE);
    TuneResult result =
        new TuneRun(
                tuning,
                new TuneState(out, tuning),
                engine,
                Engine.Watcher.NOBODY,
                news -> {},
                () -> false)
            .run();
    assertTrue(result.complete());
    TuneFiles files = new TuneFiles(result, out);
    files.settings();
    files.tables();
    // What tune.json holds.
    Files.writeString(out.resolve("values"), result.values().toString());
    return out;
  }

  private static void aBrokenTrialIsNamed(Cluster joined) {
    ToyWork broken = new ToyWork(100, 0, 42);
    List<Finished<ToyWork.Kept>> kept = new ArrayList<>();
    EngineException e =
        assertThrows(
            EngineException.class,
            () ->
                engine(10)
                    .runOn(
                        joined,
                        broken,
                        Finished.none(broken),
                        RowSink.NOWHERE,
                        kept::add,
                        Engine.Watcher.NOBODY,
                        () -> false));
    assertTrue(message(e).contains("units 40 to 49 failed on worker "), message(e));
    assertTrue(message(e).contains("a trial that cannot be"), message(e));
    assertTrue(kept.get(kept.size() - 1).units().size() >= 40, "the others count");
  }

  private static void aDeadWorkerLosesAndDoublesNothing(Cluster joined) throws IOException {
    Path table = dir.resolve("toy.parquet");
    ToyWork slow = new ToyWork(120, 50_000_000L, -1);
    Set<Integer> workers = new HashSet<>();
    int[] shards = new int[1];
    Finished<ToyWork.Kept> all =
        new SparkEngine(Master.of(cluster.url()), jars, 3, Optional.of(table))
            .runOn(
                joined,
                slow,
                Finished.none(slow),
                RowSink.NOWHERE,
                f -> {},
                (worker, trials, ns) -> {
                  workers.add(worker);
                  if (++shards[0] == 6) {
                    assertTrue(first.descendants().findAny().isPresent(), "it does shards");
                    LocalCluster.kill(first);
                  }
                },
                () -> false);
    assertEquals(40, shards[0], "every shard came back once");
    assertEquals(2, workers.size(), "both workers did some");
    assertEquals(240, all.summary().trials());
    assertArrayEquals(alone(slow), all.summary().toBytes());
    everyRowOnce(240, table);
    assertTrue(Files.exists(table.resolve(ParquetTable.COMPLETE)));
  }

  /**
   * The command of a user, with physics and an own policy: killed, given again, and compared with
   * the pool.
   */
  @Test
  void aKilledProgramIsContinuedAndEndsWithTheBytesOfThePool() throws Exception {
    Path space = Files.writeString(dir.resolve("space.yaml"), SPACE.formatted(ownPlan()));
    Path own = ownPolicy();
    Path out = dir.resolve("spark");
    String[] command = {
      "explore",
      space + "",
      "--extensions",
      own + "",
      "--on",
      "spark",
      "--master",
      cluster.url(),
      "--out",
      out + ""
    };
    Process killed = cluster.program(dir.resolve("killed.log"), command);
    Deadline deadline = Deadline.in(LocalCluster.START_NS);
    while (!Files.exists(out.resolve(KeptShards.NAME)) && killed.isAlive() && !deadline.passed()) {
      MachineClock.waitNs(20_000_000);
    }
    killed.destroyForcibly().waitFor();
    Path log = dir.resolve("continued.log");
    int code = cluster.program(log, command).waitFor();
    String said = Files.readString(log);
    assertTrue(code == 0 || code == 5, code + ": " + said);
    Matcher later = Pattern.compile("stopwell: (\\d+) trials, .* per worker: ").matcher(said);
    assertTrue(later.find(), said);
    int trials = Integer.parseInt(later.group(1));
    assertTrue(trials > 0 && trials < 2_000, trials + " of 2000 were left");

    Path pool = dir.resolve("pool");
    String[] alone = {"explore", space + "", "--extensions", own + "", "--out", pool + ""};
    assertEquals(code, cluster.program(dir.resolve("pool.log"), alone).waitFor());
    for (String name : List.of(KeptShards.NAME, "trials.npy", "factors.csv")) {
      assertArrayEquals(
          Files.readAllBytes(pool.resolve(name)), Files.readAllBytes(out.resolve(name)), name);
    }
    theTableHoldsTheSameRows(out.resolve("trials.parquet"), pool.resolve("trials.csv"));
  }

  private static void theTableHoldsTheSameRows(Path table, Path csv) throws IOException {
    SortedMap<Long, List<Object>> rows = ParquetRows.read(table);
    List<String> lines = Files.readAllLines(csv);
    assertEquals(lines.size() - 1, rows.size());
    assertEquals(2_000, rows.size());
    rows.forEach(
        (trial, cells) -> {
          List<String> expected = List.of(lines.get((int) (trial + 1)).split(",", -1));
          assertEquals(expected.size(), cells.size());
          for (int i = 0; i < cells.size(); i++) {
            if (cells.get(i) instanceof Double number) {
              assertEquals(Double.parseDouble(expected.get(i)), number);
            } else {
              assertEquals(expected.get(i), cells.get(i).toString());
            }
          }
        });
    assertTrue(Files.exists(table.resolve(ParquetTable.COMPLETE)));
  }

  /** The reference canal under the policy of the template. */
  private static Path ownPlan() throws IOException {
    Path docs = Path.of("../../docs").toRealPath();
    Files.writeString(
        dir.resolve("own.yaml"),
        Files.readString(docs.resolve("settings/reference-canal.yaml"))
            + "policies: {stopping: fixed-lead}\npolicy: {fixed-lead: {lead_mm: 0.05}}\n");
    return Files.writeString(
        dir.resolve("plan.yaml"),
        Files.readString(docs.resolve("plans/reference-canal.yaml"))
            .replace("settings: ../settings/reference-canal.yaml", "settings: own.yaml"));
  }

  /** The policy of the template as a directory of classes. */
  private static Path ownPolicy() throws IOException {
    Path template = Path.of("../../docs/templates/policy/src/main").toRealPath();
    Path classes = Files.createDirectories(dir.resolve("own-policy"));
    String core =
        jars.files().stream()
            .filter(f -> String.valueOf(f.getFileName()).startsWith("controller-core-"))
            .findFirst()
            .orElseThrow()
            .toString();
    assertEquals(
        0,
        ToolProvider.getSystemJavaCompiler()
            .run(
                null,
                null,
                null,
                "-d",
                classes.toString(),
                "-cp",
                core,
                template.resolve("java/com/example/FixedLead.java").toString()));
    String services = "META-INF/services/org.stopwell.core.policy.PolicyExtension";
    Path place = classes.resolve(services);
    Files.createDirectories(place.resolveSibling(""));
    Files.copy(template.resolve("resources").resolve(services), place);
    return classes;
  }

  @Test
  void aWorkerWithAnotherBuildIsRefused() throws IOException {
    Path built = jarOfTheContract();
    Path other =
        Files.createDirectories(dir.resolve("other")).resolve(built.getFileName().toString());
    otherBuild(built, other);
    System.setProperty("spark.executor.extraClassPath", other.toString());
    try (SparkEngine engine = engine(0)) {
      EngineException e =
          assertThrows(
              EngineException.class,
              () ->
                  engine.run(
                      WORK,
                      Finished.none(WORK),
                      RowSink.NOWHERE,
                      f -> {},
                      Engine.Watcher.NOBODY,
                      () -> false));
      assertTrue(message(e).contains("is refused: " + other), message(e));
      assertTrue(message(e).contains("another build than harness-explore-"), message(e));
    } finally {
      System.clearProperty("spark.executor.extraClassPath");
    }
  }

  private static Path jarOfTheContract() {
    return jars.files().stream()
        .filter(f -> String.valueOf(f.getFileName()).startsWith("harness-explore-"))
        .findFirst()
        .orElseThrow();
  }

  /** The same classes, and one more entry. */
  private static void otherBuild(Path jar, Path other) throws IOException {
    try (JarFile in = new JarFile(jar.toFile());
        OutputStream file = Files.newOutputStream(other);
        JarOutputStream out = new JarOutputStream(file)) {
      for (JarEntry entry : in.stream().toList()) {
        out.putNextEntry(new JarEntry(entry.getName()));
        in.getInputStream(entry).transferTo(out);
      }
      out.putNextEntry(new JarEntry("another"));
    }
  }

  private static String message(Exception e) {
    return String.valueOf(e.getMessage());
  }
}
