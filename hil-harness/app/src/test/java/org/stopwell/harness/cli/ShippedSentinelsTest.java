package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.stopwell.harness.evidence.BadSentinel;
import org.stopwell.harness.evidence.SentinelWatch;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.stats.KnownAnswer;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * The sentinels of every shipped plan on the bench that it ships for: the known answer, and how
 * often a sound bench gives an alarm.
 *
 * <p>The long form runs as many campaigns' sentinels as {@code -Dstopwell.campaigns} says.
 */
class ShippedSentinelsTest {
  private static final long MS = 1_000_000;

  static Stream<Path> plans() throws IOException {
    List<Path> found = new ArrayList<>();
    try (Stream<Path> files = Files.list(Path.of("../../docs/plans"))) {
      for (Path file : files.filter(f -> f.toString().endsWith(".yaml")).sorted().toList()) {
        if (Files.readString(file).contains("\nsentinels:")) {
          found.add(file);
        }
      }
    }
    assertTrue(!found.isEmpty(), "no shipped plan has sentinels");
    return found.stream();
  }

  /** Six standard errors of mean and of the logarithm of the SD, for this many fresh trials. */
  @ParameterizedTest
  @MethodSource("plans")
  void freshTrialsGiveTheKnownAnswer(Path file) throws Exception {
    Plan plan = Plan.read(Source.of(file));
    SentinelRule rule = plan.protocol().sentinels().orElseThrow();
    Plan alone = plan.with(20_260, plan.head().trials()).sentinelsAlone(150);
    List<TrialResult> fresh = trials(alone, IntStream.range(0, alone.trials()).toArray());
    assertTrue(fresh.stream().allMatch(TrialResult::stopped), "a sentinel always stops");
    KnownAnswer learned =
        KnownAnswer.of(Moments.of(fresh.stream().mapToLong(TrialResult::remainingMicrons)), 0.95);
    double distance =
        learned.distance(rule.expectedMicrons(), rule.deviationMicrons(), rule.learnedFrom());
    assertTrue(distance < 4, file + ": " + learned + " is " + distance + " standard errors off");
    assertTrue(
        learned.distance(617, 27, 1000) > 4, "the known answer of an earlier core is told apart");
  }

  @ParameterizedTest
  @MethodSource("plans")
  void aSoundBenchSeldomGivesAnAlarm(Path file) throws Exception {
    int campaigns = Integer.getInteger("stopwell.campaigns", 8);
    Plan plan = Plan.read(Source.of(file));
    long alarms =
        IntStream.range(0, campaigns)
            .parallel()
            .filter(c -> alarm(plan.with(1_000_000 + c, plan.head().trials())))
            .count();
    // 2 % and 2.3 standard errors: of 1,000 campaigns at most 30.
    double most = 0.02 * campaigns + 2.3 * Math.sqrt(0.02 * 0.98 * campaigns);
    System.out.println(alarms + " of " + campaigns + " campaigns of " + file + " with an alarm");
    assertTrue(alarms <= most, alarms + " of " + campaigns + ", allowed " + most);
  }

  private static boolean alarm(Plan plan) {
    SentinelWatch watch = new SentinelWatch(plan.protocol().sentinels().orElseThrow());
    int[] places =
        IntStream.range(0, plan.trials())
            .filter(i -> plan.trial(i).condition().equals(SentinelRule.CONDITION))
            .toArray();
    return trials(plan, places).stream()
        .map(watch::add)
        .flatMap(java.util.Optional<BadSentinel>::stream)
        .findAny()
        .isPresent();
  }

  private static List<TrialResult> trials(Plan plan, int[] places) {
    List<TrialResult> results = new ArrayList<>();
    try (VirtualBench bench = new VirtualBench(MS)) {
      bench.open();
      for (int place : places) {
        TrialSpec spec = plan.trial(place);
        results.add(
            Trials.run(
                    bench,
                    plan.controller(spec),
                    plan.policies(),
                    spec,
                    null,
                    () -> Pace.lockstep(MS),
                    () -> false)
                .orElseThrow());
      }
    }
    return results;
  }

  @Test
  void theCommandTeachesThePlanItsLines() throws Exception {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String plan = "../../docs/plans/signed-claim.yaml";
    assertEquals(
        0, stopwell(out, err, "sentinel", plan, "--trials", "12", "--seed", "5"), err::toString);
    String said = out.toString();
    assertTrue(said.contains("12 sentinels on bench virtual, simulated rest at 0."), said);
    assertTrue(said.contains("  learned_from: 12"), said);
    assertTrue(
        said.matches("(?s).*\n  expected_mm: 0\\.[56]\\d\\d\n  sd_mm: 0\\.0\\d\\d\n.*"), said);
    assertTrue(said.contains("95 % interval"), said);
    StringWriter again = new StringWriter();
    stopwell(again, err, "sentinel", plan, "--trials", "12", "--seed", "5", "--jobs", "1");
    assertEquals(said, again.toString(), "the same seed teaches the same");
    StringWriter json = new StringWriter();
    stopwell(json, err, "sentinel", plan, "--trials", "12", "--seed", "6", "--json");
    assertTrue(json.toString().contains("\"simulated\" : true"), json.toString());

    assertEquals(2, stopwell(out, err, "sentinel", "../../docs/plans/first-stop.yaml"));
    assertTrue(err.toString().contains("the plan has no sentinels"), err.toString());
    assertEquals(2, stopwell(out, err, "sentinel", plan, "--trials", "9"));
  }

  private static int stopwell(StringWriter out, StringWriter err, String... args) {
    return Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
