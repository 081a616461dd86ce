package org.stopwell.harness.cli;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.advice.SentinelAdvice;
import org.stopwell.harness.campaign.BenchMaker;
import org.stopwell.harness.campaign.Campaign;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.protocol.SentinelRule;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.standing.BenchStanding;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.KnownAnswer;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Learns the known answer of the sentinels of a plan on a bench. */
@Command(
    name = "sentinel",
    description = {
      "Learns the known answer of a plan's sentinels on a bench: runs the scene of the sentinels"
          + " alone, and prints mean and standard deviation of the distance at rest with the lines"
          + " for the plan.",
      "A sentinel is a trial with a known answer, hidden in a campaign to check the bench. Measure"
          + " the answer on the bench of the campaign, after stopwell rig prove. The plan must hold"
          + " the group sentinels; before the first measurement, write any expected_mm and sd_mm.",
      "More trials give closer limits: with 13 sentinels, a lasting shift of 2 SD is found within 56"
          + " sentinels when 30 trials taught the answer, within 18 when 100 did.",
      "No run file is written. The random numbers are not those of a campaign of the plan."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell sentinel docs/plans/signed-claim.yaml --trials 100",
      "  stopwell sentinel PLAN --trials 30 --bench serial --port /dev/ttyUSB0",
      "",
      "Exit codes: 0 learned; 2 wrong usage or plan; 3 the rig failed; 4 SAFETY_STOP; 5 not learned:"
          + " a trial did not stop, the bench may not decide, or the command was interrupted."
    },
    mixinStandardHelpOptions = true)
final class SentinelCommand extends StopwellCommand {
  private static final double CONFIDENCE = 0.95;

  @Parameters(paramLabel = "PLAN", description = "A plan with sentinels, a YAML file.")
  Path file = Path.of("");

  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Trials to learn from, 10 to 100000. Default: ${DEFAULT-VALUE}.",
      defaultValue = "30")
  int trials = 30;

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the random numbers. Default: as in the plan.")
  @Nullable Long seed;

  @Mixin BenchOptions benches = new BenchOptions();

  @Mixin RecordsOption records = new RecordsOption();

  @Mixin PortWait portWait = new PortWait();

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    Range.check("--trials", trials, 10, 100_000);
    if (seed != null && seed < 0) {
      throw new UsageException("--seed " + seed + " is below 0");
    }
    Plan plan = Plan.read(Source.of(file), extensions().policies());
    if (plan.protocol().sentinels().isEmpty()) {
      throw new UsageException(
          file
              + ": the plan has no sentinels; add the group sentinels, see docs/plan-reference.md");
    }
    long from = seed == null ? plan.head().seed() : seed;
    Plan alone = plan.with(from, plan.head().trials()).sentinelsAlone(trials);
    int atOnce = benches.jobs(jobs.asked);
    portWait.checked();
    BenchMaker maker = benches.maker();
    Interruption.watch();
    try (Bench bench = maker.open()) {
      Conductor.refuseLacks(alone, bench);
      BenchStanding standing =
          records.of(bench.describe(), benches.at.station).standing(alone, Utc.today());
      boolean simulated = bench.describe().simulated();
      List<TrialResult> results = run(alone, bench, maker, standing, atOnce);
      Optional<Verdict> spoiled = spoiled(results, standing);
      return spoiled.isPresent()
          ? spoiled.get().exitCode()
          : print(plan, results, benches.sentence(), simulated);
    }
  }

  private List<TrialResult> run(
      Plan alone, Bench bench, BenchMaker maker, BenchStanding standing, int atOnce)
      throws IOException {
    List<TrialResult> results = new ArrayList<>();
    try (Progress progress = Progress.of("sentinels", alone.trials(), 0)) {
      BenchMaker patient =
          portWait.around(
              maker, Interruption::requested, what -> progress.say("stopwell: " + what, err()));
      new Campaign(
              alone,
              List.of(),
              atOnce,
              Interruption::requested,
              finished -> {
                finished.stream().map(RunFile.Entry::result).forEach(results::add);
                progress.add(finished.size());
              })
          .under(standing)
          .run(bench, patient);
    }
    return results;
  }

  /** Why nothing was learned; empty when every trial stopped on a bench that may decide. */
  private Optional<Verdict> spoiled(List<TrialResult> results, BenchStanding standing) {
    standing.reasons().forEach(r -> err().println("stopwell: " + r.cause() + ": " + r.text()));
    if (!standing.reasons().isEmpty()) {
      err().println("stopwell: nothing learned: this bench may not decide");
      return Optional.of(Verdict.UNDECIDED);
    }
    for (TrialResult trial : results) {
      boolean rig = trial.verdict() == Verdict.RIG_FAULT || trial.verdict() == Verdict.SAFETY_STOP;
      if (rig || !trial.stopped()) {
        err()
            .println(
                "stopwell: nothing learned: trial "
                    + (trial.index() + 1)
                    + (rig
                        ? ": "
                        : " did not stop; choose a scene in which the file always stops: ")
                    + trial.message());
        return Optional.of(rig ? trial.verdict() : Verdict.UNDECIDED);
      }
    }
    if (results.size() < trials) {
      err()
          .println(
              "stopwell: nothing learned: interrupted after "
                  + results.size()
                  + " of "
                  + trials
                  + " trials");
      return Optional.of(Verdict.UNDECIDED);
    }
    return Optional.empty();
  }

  private int print(Plan plan, List<TrialResult> results, String bench, boolean simulated)
      throws IOException {
    Moments rests = Moments.of(results.stream().mapToLong(TrialResult::remainingMicrons));
    KnownAnswer learned = KnownAnswer.of(rests, CONFIDENCE);
    SentinelRule now = plan.protocol().sentinels().orElseThrow();
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", plan.head().name());
    all.put("bench", bench);
    all.put("simulated", simulated);
    all.put("learned_from", learned.trials());
    all.put("mean_um", learned.mean());
    all.put("mean_interval_um", interval(learned.meanInterval()));
    all.put("sd_um", learned.deviation());
    all.put("sd_interval_um", interval(learned.deviationInterval()));
    json.print(out(), all, lines -> lines(plan, learned, now, bench, lines));
    return 0;
  }

  private static List<Double> interval(Interval interval) {
    return List.of(interval.low(), interval.high());
  }

  private static void lines(
      Plan plan, KnownAnswer learned, SentinelRule now, String bench, Consumer<String> out) {
    out.accept(
        plan.head().name()
            + ": "
            + learned.trials()
            + " sentinels on bench "
            + bench
            + " rest at "
            + Numbers.plainMillimetres(learned.expectedMicrons())
            + " short of the foramen.");
    out.accept(
        "  mean "
            + Numbers.millimetres(OptionalDouble.of(learned.mean()))
            + ", 95 % interval "
            + Numbers.millimetres(Optional.of(learned.meanInterval())));
    out.accept(
        "  SD   "
            + Numbers.millimetres(OptionalDouble.of(learned.deviation()))
            + ", 95 % interval "
            + Numbers.millimetres(Optional.of(learned.deviationInterval())));
    out.accept("Lines for the plan, in the group sentinels:");
    out.accept("  expected_mm: " + key(learned.expectedMicrons()));
    out.accept("  sd_mm: " + key(learned.deviationMicrons()));
    out.accept("  learned_from: " + learned.trials());
    SentinelRule rule =
        new SentinelRule(
                now.every(),
                learned.expectedMicrons(),
                learned.deviationMicrons(),
                now.stops(),
                learned.trials(),
                0,
                0)
            .forTrials(plan.plannedConditions().size() * plan.head().trials());
    out.accept("With these lines:");
    SentinelAdvice.of(rule).forEach(line -> out.accept("  " + line));
    int from = now.learnedFrom();
    double distance = learned.distance(now.expectedMicrons(), now.deviationMicrons(), from);
    out.accept(
        "The plan holds "
            + Numbers.plainMillimetres(now.expectedMicrons())
            + ", SD "
            + Numbers.plainMillimetres(now.deviationMicrons())
            + ", from "
            + from
            + " trials: "
            + (distance <= 3
                ? "these trials agree with it."
                : "these trials contradict it. Replace the lines."));
  }

  private static String key(int microns) {
    return BigDecimal.valueOf(microns, 3).toPlainString();
  }
}
