package org.stopwell.harness.trace;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.OptionalInt;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Settings;

/**
 * Scores a controller on traces that carry the truth. The first decision ends a trace: in the hand
 * the file would have stopped there. A trace goes on, so the place of rest is the true distance
 * after the coast, the time from the decision to rest that the settings state.
 */
public final class TraceScorer {
  /** Stands for the coast of the settings. */
  public static final int COAST_OF_SETTINGS = -1;

  /** Sampling is judged where the file is nearer to the foramen than this, µm. */
  private static final int NEAR_MICRONS = 3_000;

  /** Longest time between two samples that can be scored, ns: half of the greatest signal age. */
  private static final long LONGEST_SAMPLE_NS = 500_000_000;

  private static final int MOST_MISTAKES = 20;

  private final Settings settings;
  private final Stage stage;
  private final int coastMicrons;
  private final int standoffMicrons;
  private final int toleranceMicrons;
  private final long signalAgeNs;

  /**
   * A scorer.
   *
   * @param settings the settings of the controller
   * @param stage stage of work; it must stop at the standoff
   * @param coastMicrons travel from the decision to rest, µm; {@link #COAST_OF_SETTINGS}: what the
   *     file travels in the trace within {@code reaction_ms}
   */
  public TraceScorer(Settings settings, Stage stage, int coastMicrons) {
    this.settings = settings;
    this.stage = stage;
    this.coastMicrons = coastMicrons;
    ParameterValues values = settings.controller().stage(stage);
    standoffMicrons = values.getInt(StageParameters.STANDOFF);
    toleranceMicrons = values.getInt(StageParameters.TOLERANCE);
    signalAgeNs = settings.controller().section("guard").get(GuardParameters.SIGNAL_AGE);
  }

  /**
   * Travel from the decision to rest.
   *
   * @return µm; {@link #COAST_OF_SETTINGS}: what the file travels in the trace within {@link
   *     #reactionNs}
   */
  public int coastMicrons() {
    return coastMicrons;
  }

  /**
   * Time from the decision to rest.
   *
   * @return as the settings state it, ns
   */
  public long reactionNs() {
    return settings.controller().stage(stage).get(StageParameters.REACTION);
  }

  /**
   * Age of a sample from which it is stale.
   *
   * @return as the settings state it, ns
   */
  public long signalAgeNs() {
    return signalAgeNs;
  }

  /**
   * Teeth that the weights were taught with: their traces are no test of them.
   *
   * @return their names
   */
  public List<String> taught() {
    return settings.controller().weights().isEmpty()
        ? List.of()
        : settings.weights().weights().origin().teeth();
  }

  /** Told how many traces are done. */
  @FunctionalInterface
  public interface Progress {
    /**
     * Traces are done.
     *
     * @param done how many so far
     */
    void done(int done);
  }

  /**
   * Scores every trace of a directory.
   *
   * @param traces the directory
   * @param jobs how many traces at once; the result does not depend on it
   * @param progress told after each
   * @return one score for each, in the order of the directory
   * @throws TraceException with what is wrong with the traces, at most 20 mistakes
   */
  public List<TraceScore> score(TraceDirectory traces, int jobs, Progress progress)
      throws TraceException {
    ExecutorService pool = Executors.newFixedThreadPool(jobs);
    List<String> mistakes = new ArrayList<>();
    List<TraceScore> scores = new ArrayList<>();
    try {
      Deque<Future<TraceScore>> inFlight = new ArrayDeque<>();
      int taken = 0;
      for (TracedApproach approach : traces.approaches()) {
        if (inFlight.size() >= 2 * jobs) {
          take(inFlight.removeFirst(), scores, mistakes);
          progress.done(++taken);
        }
        if (mistakes.size() >= MOST_MISTAKES) {
          break;
        }
        inFlight.add(pool.submit(() -> score(approach)));
      }
      while (!inFlight.isEmpty()) {
        take(inFlight.removeFirst(), scores, mistakes);
        progress.done(++taken);
      }
    } finally {
      pool.shutdownNow();
    }
    if (!mistakes.isEmpty()) {
      throw new TraceException(mistakes.stream().limit(MOST_MISTAKES).toList());
    }
    return scores;
  }

  private static void take(
      Future<TraceScore> future, List<TraceScore> scores, List<String> mistakes) {
    try {
      scores.add(future.get());
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException("interrupted", e);
    } catch (ExecutionException e) {
      if (e.getCause() instanceof TraceException wrong) {
        mistakes.addAll(wrong.mistakes());
      } else {
        throw new IllegalStateException("a trace failed with an unexpected error", e.getCause());
      }
    }
  }

  /**
   * Scores one trace.
   *
   * @param approach the trace
   * @return its score
   * @throws TraceException when it cannot be read, or does not hold what the settings need
   */
  public TraceScore score(TracedApproach approach) throws TraceException {
    TruthTrace trace = approach.read();
    trace.check(settings.controller());
    long sampleNs = sampleNs(trace);
    if (!(sampleNs <= LONGEST_SAMPLE_NS)) {
      throw new TraceException(
          List.of(
              approach.file()
                  + ": a sample every "
                  + sampleNs / 1_000_000
                  + " ms, must be at most "
                  + LONGEST_SAMPLE_NS / 1_000_000
                  + " ms; record it faster"));
    }
    TraceStepper stepper =
        new TraceStepper(
            trace.columns(), patient(sampleNs).controller(), settings.policies(), stage);
    Scored scored = new Scored(approach, trace, stepper, sampleNs);
    for (int row = 0; row < trace.rows() && !scored.decided(); row++) {
      long rowNs = trace.nowNs(row);
      while (!scored.decided() && stepper.before(rowNs)) {
        scored.step();
      }
      if (!scored.decided()) {
        trace.fill(row, stepper.commandedMilliRpm(), stepper.in());
        stepper.at(rowNs);
        scored.step();
      }
    }
    return scored.result();
  }

  /** What came of a trace so far. */
  private final class Scored {
    private final TracedApproach approach;
    private final TruthTrace trace;
    private final TraceStepper stepper;
    private final long sampleNs;
    private boolean driven;
    private long firstDrivenNs;
    private @Nullable TraceScore decision;

    /** Where the motor stopped because the file left the fluid; the file may come back. */
    private @Nullable TraceScore left;

    Scored(TracedApproach approach, TruthTrace trace, TraceStepper stepper, long sampleNs) {
      this.approach = approach;
      this.trace = trace;
      this.stepper = stepper;
      this.sampleNs = sampleNs;
    }

    boolean decided() {
      return decision != null;
    }

    void step() {
      ControllerOutput out = stepper.out();
      if (out.drive.turns()) {
        left = null;
        firstDrivenNs = driven ? firstDrivenNs : stepper.nowNs();
        driven = true;
      } else if (left == null && ends(out)) {
        TraceScore score = score(true, stepper.nowNs());
        if (outOfFluid(out)) {
          left = score;
        } else {
          decision = score;
        }
      }
    }

    /** The decision; without one, where the file left for good; or else the end of the trace. */
    TraceScore result() {
      if (decision != null) {
        return decision;
      }
      return left != null ? left : score(false, trace.nowNs(trace.rows() - 1));
    }

    private TraceScore score(boolean ended, long endNs) {
      ControllerOutput out = stepper.out();
      int truth = trace.truthMicrons(endNs);
      boolean coasts = ended && driven;
      long restNs = coasts && coastMicrons < 0 ? endNs + reactionNs() : endNs;
      int rest = coasts && coastMicrons >= 0 ? truth - coastMicrons : trace.truthMicrons(restNs);
      TraceScore.Outcome outcome =
          ended && atStandoff(out.reason)
              ? TraceScore.Outcome.STOPPED
              : ended || !driven ? TraceScore.Outcome.REFUSED : TraceScore.Outcome.NO_STOP;
      return new TraceScore(
          approach,
          outcome,
          driven,
          endNs - trace.nowNs(0),
          truth,
          out.readingPresent ? OptionalInt.of(out.remainingMicrons) : OptionalInt.empty(),
          rest,
          standoffMicrons,
          toleranceMicrons,
          driven && (rest < 0 || trace.deepestMicrons(firstDrivenNs, restNs) < 0),
          out.trust,
          out.cause,
          out.reason,
          out.boundMicrons,
          sampleNs,
          travel(trace));
    }
  }

  /** The motor rests because the file has no contact, as where a hand pecks at the surface. */
  private static boolean outOfFluid(ControllerOutput out) {
    return out.reason == Reason.TRUST_LOST
        && (out.cause == Cause.OPEN || out.cause == Cause.UNWETTED);
  }

  /** A decision to stop, or any other rest than by the operator's will. */
  private static boolean ends(ControllerOutput out) {
    return switch (out.state) {
      case LOCKED -> true;
      case HOLDING -> out.reason != Reason.DEMAND_RELEASED;
      case BACKING -> atStandoff(out.reason);
      default -> false;
    };
  }

  private static boolean atStandoff(Reason reason) {
    return reason == Reason.STANDOFF_REACHED || reason == Reason.PAST_FORAMEN;
  }

  /**
   * The settings for a sampling: a sample is not stale for being the newest of a slow trace.
   *
   * @param sampleNs median time between two samples, ns
   */
  private Settings patient(long sampleNs) {
    long ageNs = 2 * sampleNs;
    if (ageNs <= signalAgeNs) {
      return settings;
    }
    String text = "guard: {signal_age_ms: " + (ageNs + 999_999) / 1_000_000 + "}";
    try {
      return settings.with(text);
    } catch (PlanException e) {
      throw new IllegalStateException("a signal age within its limits is refused", e);
    }
  }

  /**
   * Whether a trace was scored with a greater signal age than the settings state.
   *
   * @param score a score
   * @return true for slow sampling
   */
  public boolean slow(TraceScore score) {
    return 2 * score.sampleNs() > signalAgeNs;
  }

  /** Median time between two samples; without two the whole trace, ns. */
  private static long sampleNs(TruthTrace trace) {
    long[] apart = new long[trace.rows()];
    int count = 0;
    int before = -1;
    for (int row = 0; row < trace.rows(); row++) {
      if (trace.sampled(row)) {
        if (before >= 0) {
          apart[count++] = trace.nowNs(row) - trace.nowNs(before);
        }
        before = row;
      }
    }
    Arrays.sort(apart, 0, count);
    return count == 0 ? 0 : apart[count / 2];
  }

  /** Median travel between two samples near the foramen, µm. */
  private static int travel(TruthTrace trace) {
    int[] travel = new int[trace.rows()];
    int count = 0;
    int before = -1;
    for (int row = 0; row < trace.rows(); row++) {
      if (trace.sampled(row) && Math.abs(trace.truthMicrons(row)) <= NEAR_MICRONS) {
        if (before >= 0) {
          travel[count++] = Math.abs(trace.truthMicrons(row) - trace.truthMicrons(before));
        }
        before = row;
      }
    }
    Arrays.sort(travel, 0, count);
    return count == 0 ? 0 : travel[count / 2];
  }
}
