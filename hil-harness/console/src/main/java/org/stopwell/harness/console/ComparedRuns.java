package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.IntFunction;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.claim.Comparison;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.replay.Playback;
import org.stopwell.harness.replay.RecordedPlan;
import org.stopwell.harness.report.ComparisonPage;
import org.stopwell.harness.report.ComparisonSummary;
import org.stopwell.harness.report.Place;
import org.stopwell.harness.report.TraceSeries;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.PolicyFailure;

/** A run and its baseline, open side by side. */
public final class ComparedRuns implements AutoCloseable {
  /** How far a mean stop may move unless told, mm: assumed. */
  public static final double MARGIN_MM = 0.05;

  private final Opened after;
  private final Opened before;
  private final ComparisonSummary summary;
  private final Policies policies;

  private record Opened(Path directory, RunFile file, Evidence evidence) implements AutoCloseable {
    static Opened of(Path directory) throws IOException, RefusedException {
      RunFile file = RunFile.load(directory);
      try {
        if (file.header().protocol().blinding().isPresent() && !Unblinding.isDone(directory)) {
          throw new RefusedException(
              directory + ": the run is blinded; unblind it first: stopwell unblind " + directory);
        }
        return new Opened(directory, file, Evidence.of(file, directory));
      } catch (IOException | RefusedException | RuntimeException e) {
        file.close();
        throw e;
      }
    }

    Comparison.Run run() {
      return new Comparison.Run(
          evidence.header().conditions(), evidence.trials(), evidence.repeats());
    }

    @Override
    public void close() {
      file.close();
    }
  }

  private ComparedRuns(Opened after, Opened before, int marginMicrons, Policies policies)
      throws IOException, PlanException {
    this.after = after;
    this.before = before;
    this.policies = policies;
    summary =
        ComparisonSummary.of(
            Comparison.of(before.run(), after.run(), marginMicrons),
            marginMicrons,
            before.file(),
            after.file());
  }

  /**
   * Opens and compares two runs.
   *
   * @param directory the run under test
   * @param baseline the run to compare with
   * @param marginMicrons permitted shift of a mean, above 0, µm
   * @param policies the policies that their settings may name
   * @return both, to be closed
   * @throws IOException when a run file cannot be read
   * @throws PlanException when the records of a bench cannot be read
   * @throws RefusedException when a run is blinded
   */
  public static ComparedRuns of(Path directory, Path baseline, int marginMicrons, Policies policies)
      throws IOException, PlanException, RefusedException {
    Opened after = Opened.of(directory);
    try {
      Opened before = Opened.of(baseline);
      try {
        return new ComparedRuns(after, before, marginMicrons, policies);
      } catch (IOException | PlanException | RuntimeException e) {
        before.close();
        throw e;
      }
    } catch (IOException | PlanException | RefusedException | RuntimeException e) {
      after.close();
      throw e;
    }
  }

  /**
   * The comparison.
   *
   * @return what the command prints
   */
  public ComparisonSummary summary() {
    return summary;
  }

  /**
   * The comparison as a page of its own.
   *
   * @param place where it stands in the console
   * @return HTML that needs nothing beside it
   */
  public String page(Place place) {
    return ComparisonPage.html(summary, side(before), side(after), place);
  }

  private ComparisonPage.Side side(Opened run) {
    return new ComparisonPage.Side(
        String.valueOf(run.directory().toAbsolutePath().normalize().getFileName()),
        run.evidence(),
        traces(run));
  }

  /** Traces are kept, or simulated again where this build reproduces them; others are not shown. */
  private IntFunction<Optional<TraceSeries>> traces(Opened run) {
    Map<Integer, Optional<TraceSeries>> known = new HashMap<>();
    return index -> known.computeIfAbsent(index, i -> trace(run, i));
  }

  private Optional<TraceSeries> trace(Opened run, int index) {
    try {
      Plan plan = RecordedPlan.of(run.file(), run.directory(), policies);
      return Optional.of(TraceSeries.of(Playback.of(run.file(), plan, index).trace()));
    } catch (IOException | PlanException | TraceException | PolicyFailure e) {
      return Optional.empty();
    }
  }

  @Override
  public void close() {
    after.close();
    before.close();
  }
}
