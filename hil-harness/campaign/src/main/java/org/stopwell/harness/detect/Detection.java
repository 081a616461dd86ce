package org.stopwell.harness.detect;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.IntConsumer;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.evidence.Decision;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * The smallest defect of each kind that a plan detects. Whole campaigns run on the virtual bench
 * with the defect in the controller, each with its own seed; a campaign detects a defect if its
 * verdict is not {@code PASS}.
 */
public final class Detection implements AutoCloseable {
  private final Plan plan;
  private final int campaigns;
  private final long periodNs;
  private final IntConsumer progress;
  private final ExecutorService pool;

  /**
   * The result for one size.
   *
   * @param size the size
   * @param noticed campaigns that noticed, out of those that were run; a size that is missed is not
   *     tried on
   * @param effect what it did to the trials of the campaign that missed it, empty when none did
   */
  public record Tried(int size, Proportion noticed, Optional<Effect> effect) {
    /**
     * Whether every campaign detected the defect.
     *
     * @return true when none missed
     */
    public boolean always() {
      return noticed.count() == noticed.trials();
    }
  }

  /**
   * The result for one kind of defect.
   *
   * @param kind the kind
   * @param smallest the smallest size that every campaign noticed, empty when none was
   * @param missed the greatest size below it that was missed, empty when none was
   */
  public record Finding(DefectKind kind, Optional<Tried> smallest, Optional<Tried> missed) {}

  /**
   * The effect of a defect on the trials of the sound controller: same canals, hands and noise.
   *
   * @param trials how many there are
   * @param verdicts how many of them had another verdict, or the same verdict with another cause
   * @param worstMicrons how far the stop moved that moved most, µm, where both stopped
   */
  public record Effect(int trials, int verdicts, int worstMicrons) {
    static Effect of(List<TrialResult> sound, List<TrialResult> defective) {
      int verdicts = 0;
      int worst = 0;
      int trials = Math.min(sound.size(), defective.size());
      for (int i = 0; i < trials; i++) {
        TrialResult a = sound.get(i);
        TrialResult b = defective.get(i);
        verdicts += a.verdict() != b.verdict() || !a.code().equals(b.code()) ? 1 : 0;
        if (a.stopped() && b.stopped()) {
          worst = Math.max(worst, Math.abs(a.stopErrorMicrons() - b.stopErrorMicrons()));
        }
      }
      return new Effect(trials, verdicts, worst);
    }
  }

  /**
   * A search.
   *
   * @param plan the plan
   * @param campaigns campaigns for each size, at least 1
   * @param jobs trials at once, at least 1
   * @param periodNs control period, ns
   * @param progress receives how many campaigns were run
   */
  public Detection(Plan plan, int campaigns, int jobs, long periodNs, IntConsumer progress) {
    this.plan = plan;
    this.campaigns = campaigns;
    this.periodNs = periodNs;
    this.progress = progress;
    this.pool = Executors.newFixedThreadPool(jobs);
  }

  /**
   * How often the plan raises an alarm over a sound controller.
   *
   * @return campaigns whose verdict is not {@code PASS}, out of all
   */
  public Proportion falseAlarms() {
    int alarms = 0;
    for (int i = 0; i < campaigns; i++) {
      alarms += notices(campaign(null, i), i) ? 1 : 0;
    }
    return new Proportion(alarms, campaigns);
  }

  /**
   * Searches the smallest size that is always detected. Larger sizes are assumed to be easier to
   * detect: each attempt halves the remaining sizes.
   *
   * @param kind kind of defect
   * @return what was found
   */
  public Finding search(DefectKind kind) {
    List<Integer> sizes = kind.sizes();
    int low = 0;
    int high = sizes.size();
    Optional<Tried> smallest = Optional.empty();
    Optional<Tried> missed = Optional.empty();
    while (low < high) {
      int middle = (low + high) >>> 1;
      Tried tried = attempt(new Defect(kind, sizes.get(middle)));
      if (tried.always()) {
        smallest = Optional.of(tried);
        high = middle;
      } else {
        missed = Optional.of(tried);
        low = middle + 1;
      }
    }
    return new Finding(kind, smallest, missed);
  }

  private Tried attempt(Defect defect) {
    int noticed = 0;
    for (int i = 0; i < campaigns; i++) {
      List<TrialResult> results = campaign(defect, i);
      if (!notices(results, i)) {
        return new Tried(
            defect.size(),
            new Proportion(noticed, i + 1),
            Optional.of(Effect.of(campaign(null, i), results)));
      }
      noticed++;
    }
    return new Tried(defect.size(), new Proportion(noticed, campaigns), Optional.empty());
  }

  /** Campaign number {@code i} has the same trials for every defect: they differ in it alone. */
  private List<TrialResult> campaign(@Nullable Defect defect, int i) {
    Plan own = own(i);
    List<Future<TrialResult>> running = new ArrayList<>();
    for (int trial = 0; trial < own.trials(); trial++) {
      int index = trial;
      running.add(pool.submit((Callable<TrialResult>) () -> run(own, index, defect)));
    }
    List<TrialResult> results = new ArrayList<>();
    for (Future<TrialResult> one : running) {
      results.add(get(one));
    }
    return results;
  }

  private Plan own(int i) {
    return plan.with(plan.head().seed() + i, plan.head().trials());
  }

  private boolean notices(List<TrialResult> results, int i) {
    RunHeader header = header(own(i));
    Evidence evidence = Evidence.of(header, results);
    Optional<Integer> until = evidence.decision().map(Decision::index);
    if (until.isPresent()) {
      evidence = Evidence.of(header, results.subList(0, until.get() + 1));
    }
    progress.accept(1);
    return evidence.summary().verdict() != Verdict.PASS;
  }

  private TrialResult run(Plan own, int index, @Nullable Defect defect) {
    TrialSpec spec = own.trial(index);
    ControllerSettings sound = own.controller(spec);
    Policies known = own.policies();
    ControllerSettings settings =
        defect == null ? sound : defect.settings(sound, known, spec.stage());
    Policies policies = defect == null ? known : defect.policies(sound, known);
    try (VirtualBench bench = new VirtualBench(periodNs)) {
      bench.open();
      Bench seen = defect == null ? bench : defect.bench(bench);
      return Trials.run(
              seen, settings, policies, spec, null, () -> Pace.lockstep(periodNs), () -> false)
          .orElseThrow();
    }
  }

  private RunHeader header(Plan own) {
    try (VirtualBench bench = new VirtualBench(periodNs)) {
      return RunHeader.of(own, "", bench.describe(), "", "", Registration.NONE);
    }
  }

  private static <T> T get(Future<T> future) {
    try {
      return future.get();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted", e);
    } catch (ExecutionException e) {
      throw new IllegalStateException("a trial failed with an unexpected error", e.getCause());
    }
  }

  @Override
  public void close() {
    pool.shutdownNow();
  }
}
