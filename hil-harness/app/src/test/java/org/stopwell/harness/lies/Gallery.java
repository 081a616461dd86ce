package org.stopwell.harness.lies;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/** Every trial of the plans in {@code docs/plans/lies}, run once on the virtual bench. */
final class Gallery {
  /** The policies, by their level of the factor {@code reading}; the best first. */
  enum Policy {
    ESTIMATE("estimate", "Best estimate"),
    TWO_FREQUENCY("two-frequency", "Two-frequency reading");

    private final String level;
    private final String title;

    Policy(String level, String title) {
      this.level = level;
      this.title = title;
    }

    String title() {
      return title;
    }
  }

  /**
   * A moment of a trial.
   *
   * @param shown what the controller shows, and the truth
   * @param levelMicrons fluid level above the foramen, µm
   */
  record Moment(Ending.Shown shown, int levelMicrons) {}

  /**
   * One trial.
   *
   * @param spec what was planned
   * @param result what came of it
   * @param moments its course, 25 a second; of the first trial of a condition only
   * @param counts the moment that counts
   * @param end the last moment
   */
  record Run(TrialSpec spec, TrialResult result, List<Moment> moments, Moment counts, Moment end) {}

  private static final long MS = 1_000_000;
  private static final int EVERY = 40;

  private final Map<String, Plan> plans = new LinkedHashMap<>();
  private final Map<String, List<Run>> conditions = new LinkedHashMap<>();
  private final Map<String, Verdict> verdicts = new LinkedHashMap<>();

  Gallery() throws Exception {
    ExecutorService pool = Executors.newFixedThreadPool(2);
    try {
      for (Lie lie : Lie.values()) {
        if (!plans.containsKey(lie.plan())) {
          run(lie.plan(), pool);
        }
      }
    } finally {
      pool.shutdownNow();
    }
  }

  static Path file(String name) {
    return TestPlans.root().resolve("docs/plans/lies/" + name + ".yaml");
  }

  private void run(String name, ExecutorService pool) throws Exception {
    Plan plan = Plan.read(Source.of(file(name)));
    plans.put(name, plan);
    List<Callable<Run>> jobs = new ArrayList<>();
    for (int i = 0; i < plan.trials(); i++) {
      TrialSpec spec = plan.trial(i);
      boolean first = i < plan.conditions().size();
      jobs.add(() -> run(plan, spec, first));
    }
    List<TrialResult> results = new ArrayList<>();
    for (Future<Run> job : pool.invokeAll(jobs)) {
      Run run = job.get();
      results.add(run.result());
      conditions
          .computeIfAbsent(name + " " + run.spec().condition(), c -> new ArrayList<>())
          .add(run);
    }
    verdicts.put(name, CampaignSummary.of(plan.conditions(), plan.claims(), results).verdict());
  }

  private static Run run(Plan plan, TrialSpec spec, boolean whole) throws Exception {
    TraceRecorder trace = new TraceRecorder();
    TrialResult result;
    try (Bench bench = new VirtualBench(MS)) {
      bench.open();
      result =
          Trials.run(
                  bench,
                  plan.controller(spec),
                  plan.policies(),
                  spec,
                  trace,
                  () -> Pace.lockstep(MS),
                  () -> false)
              .orElseThrow();
    }
    TraceReader reader = new TraceReader(trace.bytes());
    List<Moment> moments = new ArrayList<>();
    @Nullable Moment crossing = null;
    @Nullable Moment decision = null;
    @Nullable Moment end = null;
    for (int i = 0; reader.next(); i++) {
      boolean kept = whole && i % EVERY == 0;
      boolean crosses = crossing == null && reader.truth.remainingMicrons < 0;
      boolean decides = result.stopped() && reader.nowNs == result.stopTimeNs();
      boolean last = i == reader.steps() - 1;
      if (kept || crosses || decides || last) {
        Moment now = moment(reader);
        crossing = crosses ? now : crossing;
        decision = decides ? now : decision;
        end = now;
        if (kept || last) {
          moments.add(now);
        }
      }
    }
    Moment last = Objects.requireNonNull(end);
    Moment counts = crossing != null ? crossing : decision != null ? decision : last;
    return new Run(spec, result, whole ? List.copyOf(moments) : List.of(), counts, last);
  }

  private static Moment moment(TraceReader reader) {
    return new Moment(
        new Ending.Shown(
            reader.truth.remainingMicrons,
            reader.out.readingPresent,
            reader.out.remainingMicrons,
            reader.out.boundMicrons,
            reader.out.cause,
            reader.out.state,
            reader.out.reason),
        reader.truth.fluidLevelMicrons);
  }

  /** The trials of a policy with a lie, in run order. */
  List<Run> runs(Lie lie, Policy policy) {
    return runs(lie.plan(), policy, lie.level());
  }

  /** The trials of a policy in the sound tooth of the plan of a lie, in run order. */
  List<Run> sound(Lie lie, Policy policy) {
    return runs(lie.plan(), policy, "sound");
  }

  private List<Run> runs(String plan, Policy policy, String level) {
    return Objects.requireNonNull(conditions.get(plan + " " + policy.level + "/" + level));
  }

  /** How the trials of a policy with a lie ended, in run order. */
  List<Ending> endings(Lie lie, Policy policy) {
    return runs(lie, policy).stream().map(run -> ending(lie, run)).toList();
  }

  static Ending ending(Lie lie, Run run) {
    return Ending.of(
        lie, run.result(), run.counts().shown(), run.end().shown(), run.spec().toleranceMicrons());
  }

  /** How often each way of ending came. */
  Map<Survival, Integer> counts(Lie lie, Policy policy) {
    Map<Survival, Integer> counts = new EnumMap<>(Survival.class);
    endings(lie, policy).forEach(ending -> counts.merge(ending.survival(), 1, Integer::sum));
    return counts;
  }

  /** Whether no trial of a policy with a lie was fooled. */
  boolean survives(Lie lie, Policy policy) {
    return !counts(lie, policy).containsKey(Survival.FOOLED);
  }

  /** The verdict that {@code run} gives for a plan. */
  Verdict verdict(String plan) {
    return Objects.requireNonNull(verdicts.get(plan));
  }

  List<String> planNames() {
    return List.copyOf(plans.keySet());
  }
}
