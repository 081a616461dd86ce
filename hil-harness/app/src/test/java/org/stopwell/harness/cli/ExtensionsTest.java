package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.File;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.policy.PolicyExtension;
import org.stopwell.harness.record.ExtensionNote;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchExtension;
import org.stopwell.rig.virtual.VirtualBench;

/** Policies and benches that a stranger compiled, chosen by name from a plan. */
class ExtensionsTest {
  private static final String POLICIES =
      """
      package stranger;

      import java.util.List;
      import org.stopwell.core.policy.Policies;
      import org.stopwell.core.policy.PolicyExtension;
      import org.stopwell.core.settings.Parameter;
      import org.stopwell.core.settings.ParameterTable;

      public final class Own implements PolicyExtension {
        private static final ParameterTable NONE = new ParameterTable(List.of());
        private static final Parameter LEAD =
            Parameter.of("lead_mm")
                .unit("mm", 3)
                .range("0", "1")
                .initially("0.1")
                .text("How much earlier the stop is decided.")
                .source("assumed");
        static volatile Object kept;
        private static int calls;

        @Override
        public Policies addTo(Policies known) {
          return known
              .withStopping(
                  "fixed-lead",
                  new ParameterTable(List.of(LEAD)),
                  (all, own) -> {
                    int lead = own.getInt(LEAD);
                    return (remaining, closing, coast) -> remaining - lead;
                  })
              .withStopping(
                  "starves",
                  NONE,
                  (all, own) ->
                      (remaining, closing, coast) -> {
                        throw new OutOfMemoryError("of a test");
                      })
              .withStopping(
                  "throws",
                  NONE,
                  (all, own) ->
                      (remaining, closing, coast) -> {
                        if (remaining < 3000) {
                          throw new IllegalStateException("no idea");
                        }
                        return remaining;
                      })
              .withStopping(
                  "loops",
                  NONE,
                  (all, own) ->
                      (remaining, closing, coast) -> {
                        long end = System.nanoTime() + 20_000_000_000L;
                        while (remaining < 3000 && System.nanoTime() < end) {
                          calls++;
                        }
                        return remaining;
                      })
              .withStopping(
                  "allocates",
                  NONE,
                  (all, own) ->
                      (remaining, closing, coast) -> {
                        kept = new double[] {remaining};
                        return remaining;
                      });
        }
      }
      """;

  private static final String BENCH =
      """
      package stranger;

      import org.stopwell.rig.bench.*;
      import org.stopwell.rig.virtual.VirtualBench;

      public final class Mine implements BenchExtension {
        public String name() { return "mine"; }
        public boolean simulated() { return true; }
        public Bench make(BenchAddress where) {
          return new ForwardingBench(new VirtualBench(where.periodNs())) {
            @Override
            public BenchDescription describe() {
              BenchDescription b = super.describe();
              return new BenchDescription(
                  "mine", b.serialNumber(), b.firmware(), b.simulated(), b.lockstep(), b.periodNs());
            }
          };
        }
      }
      """;

  @TempDir Path dir;
  private Path plan = Path.of("");
  private Path classes = Path.of("");

  @BeforeEach
  void compile() throws Exception {
    plan = dir.resolve("plan.yaml");
    Files.writeString(plan, TestPlans.quick(2).source().text());
    classes = dir.resolve("own-policies");
    Path sources = Files.createDirectories(dir.resolve("src/stranger"));
    Files.writeString(sources.resolve("Own.java"), POLICIES);
    Files.writeString(sources.resolve("Mine.java"), BENCH);
    String path = placeOf(PolicyExtension.class) + File.pathSeparator + placeOf(VirtualBench.class);
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
                path,
                sources.resolve("Own.java").toString(),
                sources.resolve("Mine.java").toString()));
    Path services = Files.createDirectories(classes.resolve("META-INF/services"));
    Files.writeString(services.resolve(PolicyExtension.class.getName()), "stranger.Own\n");
    Files.writeString(services.resolve(BenchExtension.class.getName()), "stranger.Mine\n");
  }

  private static Path placeOf(Class<?> type) throws URISyntaxException {
    return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI());
  }

  private void settings(String policies) throws Exception {
    Files.writeString(
        dir.resolve("settings.yaml"),
        TestPlans.quick(2).settings().source().text() + "\n" + policies);
  }

  @Test
  void aPlanNamesAPolicyFromOutsideAndTheRunNamesWhereItComesFrom() throws Exception {
    settings("policies: {stopping: fixed-lead}\npolicy: {fixed-lead: {lead_mm: 0.25}}\n");
    Said without = stopwell("check", plan);
    assertEquals(2, without.code);
    assertTrue(without.err.contains("fixed-lead is not one of predict, plain"), without.err);
    assertEquals(0, own("check", plan).code);

    Path run = dir.resolve("run");
    own("run", plan, "--out", run);
    try (RunFile file = RunFile.load(run)) {
      List<ExtensionNote> notes = ExtensionNote.of(file.notes());
      assertEquals(1, notes.size());
      assertEquals("policies.stopping fixed-lead", notes.get(0).name());
      assertEquals("own-policies", notes.get(0).file());
      for (TrialResult trial : file.results()) {
        if (trial.stopped()) {
          // 0.75 mm, less what a hand of 1 mm/s goes on in the 0.15 s until it answers, and its
          // tremor
          assertEquals(600, trial.remainingMicrons(), 160, trial.message());
        }
      }
      String report = Files.readString(run.resolve("report.html"));
      assertTrue(report.contains("policies.stopping fixed-lead"), "the report names the policy");
      assertTrue(report.contains(notes.get(0).sha256()), "the report names the hash");
    }
    for (String command : List.of("replay", "report")) {
      Said refused = stopwell(command, run);
      assertEquals(2, refused.code, refused.err);
      assertTrue(
          refused.err.contains("uses policies.stopping fixed-lead from own-policies"), refused.err);
      assertTrue(refused.err.contains("--extensions"), refused.err);
    }
    assertEquals(0, own("replay", run).code);
    assertNotEquals(2, own("report", run).code);
  }

  private Path space(String policies) throws Exception {
    settings(policies);
    return Files.writeString(
        dir.resolve("space.yaml"),
        """
        space: 1
        name: own
        plan: plan.yaml
        condition: %s
        outcome: stop_error
        design: latin-hypercube
        trials: 12
        factors:
          scene.hand.feed_mm_per_s: {from: 0.8, to: 1.2}
        """
            .formatted(TestPlans.quick(2).plannedConditions().get(0).name()));
  }

  @Test
  void anExplorationUsesOwnPoliciesAndGoesOnWithTheVerySame() throws Exception {
    Path space = space("policies: {stopping: fixed-lead}\npolicy: {fixed-lead: {lead_mm: 0.25}}\n");
    Path to = dir.resolve("explored");
    assertEquals(2, stopwell("explore", space, "--out", to).code, "a policy that is not there");
    Said said = own("explore", space, "--out", to);
    assertEquals(0, said.code, said.err);
    assertTrue(said.out.contains("worst/01.yaml --extensions " + classes), "the command is whole");
    Files.writeString(classes.resolve("another"), "build");
    Said refused = own("explore", space, "--out", to);
    assertEquals(2, refused.code, refused.out);
    assertTrue(refused.err.contains("was made by another space"), refused.err);
  }

  @Test
  void anExplorationWithABrokenPolicyFailsByName() throws Exception {
    Said said =
        own("explore", space("policies: {stopping: throws}\n"), "--out", dir.resolve("explored"));
    assertEquals(Verdict.FAIL.exitCode(), said.code, said.err + said.out);
    assertTrue(said.err.contains("stopwell: Policy throws (own-policies) threw"), said.err);
  }

  @Test
  void resumeWantsTheVerySameExtension() throws Exception {
    settings("policies: {stopping: fixed-lead}\n");
    Path run = dir.resolve("run");
    own("run", plan, "--out", run);
    Files.writeString(classes.resolve("another"), "build");
    Extensions another = Extensions.load(List.of(classes));
    try (RunFile file = RunFile.load(run)) {
      another.require(file, run, false);
      String refused =
          String.valueOf(
              assertThrows(UsageException.class, () -> another.require(file, run, true))
                  .getMessage());
      assertTrue(
          refused.contains("policies.stopping fixed-lead from own-policies, SHA-256"), refused);
      assertTrue(refused.contains("own-policies has SHA-256"), refused);
    }
    assertEquals(0, own("replay", run).code);
  }

  @ParameterizedTest
  @CsvSource({
    "throws, POLICY_THREW, 'threw IllegalStateException: no idea'",
    "loops, POLICY_STUCK, 'did not return from a step'",
    "allocates, POLICY_ALLOCATED, 'allocates memory in the step'"
  })
  void aPolicyThatThrowsLoopsOrAllocatesFailsByName(String name, String code, String what)
      throws Exception {
    settings("policies: {stopping: " + name + "}\n");
    Path run = dir.resolve("run");
    Said said = own("run", plan, "--jobs", 2, "--out", run);
    assertEquals(Verdict.FAIL.exitCode(), said.code, said.err + said.out);
    try (RunFile file = RunFile.load(run)) {
      List<TrialResult> failed =
          file.results().stream().filter(t -> t.code().equals(code)).toList();
      assertFalse(failed.isEmpty(), file.results().toString());
      for (TrialResult trial : failed) {
        assertEquals(Verdict.FAIL, trial.verdict());
        assertTrue(
            trial.message().startsWith("Policy " + name + " (own-policies) "), trial.message());
        assertTrue(trial.message().contains(what), trial.message());
      }
    }
  }

  /** The memory is the program's, whoever asks for the last of it. */
  @Test
  void aPolicyWithoutMemoryIsTheFailureOfTheProgram() throws Exception {
    settings("policies: {stopping: starves}\n");
    Path run = dir.resolve("run");
    Said said = own("run", plan, "--out", run);
    assertEquals(Verdict.PROGRAM_FAILED, said.code, said.err);
    assertTrue(said.err.contains("stopwell: out of memory (of a test)"), said.err);
    assertTrue(said.err.contains("continue with: stopwell resume " + run), said.err);
  }

  @Test
  void aBenchFromOutsideIsChosenByItsName() throws Exception {
    settings("");
    Said without = stopwell("run", plan, "--bench", "mine");
    assertEquals(2, without.code);
    assertTrue(
        without.err.contains("--bench mine is not one of virtual, emulated, serial, boards, pi"),
        without.err);
    Path run = dir.resolve("run");
    Said said = own("run", plan, "--bench", "mine", "--out", run);
    assertEquals(0, said.code, said.err);
    try (RunFile file = RunFile.load(run)) {
      assertEquals("mine", file.header().bench().kind());
      assertEquals("--bench mine", ExtensionNote.of(file.notes()).get(0).name());
    }
  }

  @Test
  void whatIsNoExtensionIsRefused() throws IOException {
    Said missing = stopwell("check", plan, "--extensions", dir.resolve("none.jar"));
    assertEquals(2, missing.code);
    assertTrue(missing.err.contains("there is no such jar or directory"), missing.err);
    Path empty = Files.createDirectories(dir.resolve("empty"));
    Said nothing = stopwell("check", plan, "--extensions", empty);
    assertEquals(2, nothing.code);
    assertTrue(nothing.err.contains("no policy and no bench is named in"), nothing.err);
  }

  private record Said(int code, String out, String err) {}

  private Said own(Object... words) {
    return stopwell(Stream.concat(Stream.of(words), Stream.of("--extensions", classes)).toArray());
  }

  private static Said stopwell(@Nullable Object... words) {
    List<String> args = new ArrayList<>();
    for (Object word : words) {
      args.add(Objects.requireNonNull(word).toString());
    }
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code = Main.run(args.toArray(String[]::new), new PrintWriter(out), new PrintWriter(err));
    return new Said(code, out.toString(), err.toString());
  }
}
