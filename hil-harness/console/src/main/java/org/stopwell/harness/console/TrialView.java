package org.stopwell.harness.console;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.stream.Stream;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.ConditionNames;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.replay.Playback;
import org.stopwell.harness.replay.RecordedPlan;
import org.stopwell.harness.report.Place;
import org.stopwell.harness.report.TraceSeries;
import org.stopwell.harness.report.TrialPage;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.harness.trial.TrialResult;

/** One trial of a run as a page, with the course that other settings would have taken. */
public final class TrialView {
  private final Path directory;
  private final Policies policies;

  /**
   * A view into a run.
   *
   * @param directory the run directory
   * @param policies the policies that its settings may name
   */
  public TrialView(Path directory, Policies policies) {
    this.directory = directory;
    this.policies = policies;
  }

  /**
   * The page of one trial.
   *
   * @param number the trial, counted from 1 as in the report
   * @param settings other settings to draw over it
   * @param place where the page stands in the console
   * @return HTML that needs nothing beside it
   * @throws IOException when the run file cannot be read
   * @throws PlanException when plan or settings cannot be used
   * @throws TraceException when no trace is kept and the trial cannot be simulated again
   * @throws RefusedException when the run is blinded or has no such trial to show
   */
  public String page(int number, Optional<Source> settings, Place place)
      throws IOException, PlanException, TraceException, RefusedException {
    try (RunFile run = RunFile.load(directory)) {
      ConditionNames names = ConditionNames.shown(run.header(), directory);
      if (names.isCoded()) {
        throw new RefusedException(
            directory
                + ": the run is blinded, and a trace shows which code stands for which level;"
                + " unblind it first: stopwell unblind "
                + directory);
      }
      Evidence evidence = Evidence.of(run, directory);
      // A sentinel stays hidden while its campaign goes on.
      Stream<TrialResult> hidden =
          run.finishedAt().isPresent() ? names.of(run.results()).stream() : Stream.empty();
      TrialResult trial =
          Stream.concat(evidence.trials().stream(), hidden)
              .filter(t -> t.index() == number - 1)
              .findFirst()
              .orElseThrow(
                  () -> new RefusedException(directory + ": has no trial " + number + " to show"));
      Plan plan = RecordedPlan.of(run, directory, policies);
      Playback own = Playback.of(run, plan, trial.index());
      Optional<TrialPage.Other> other = Optional.empty();
      if (settings.isPresent()) {
        Plan changed =
            Plan.read(plan.source(), plan.settingsWith(settings.get()), plan.policies())
                .with(plan.head().seed(), plan.head().trials());
        other = Optional.of(other(run, own, changed, trial.index(), settings.get().name()));
      }
      return TrialPage.html(names.of(run.header()), trial, course(own), other, place);
    }
  }

  private static TrialPage.Course course(Playback own) {
    return new TrialPage.Course(
        TraceSeries.of(own.trace()),
        own.said(),
        own.stored()
            ? "Trace: as recorded in the run file"
            : "Trace: simulated again from the seed of the trial, with the recorded state hash");
  }

  private static TrialPage.Other other(
      RunFile run, Playback own, Plan changed, int index, String name) {
    Playback played = own.with(run.header().bench(), changed, index);
    OptionalLong ends = played.endsNs();
    String note =
        played.result().isPresent()
            ? "simulated to its own end"
            : "the recorded inputs, replayed" + (ends.isPresent() ? " while they apply" : "");
    return new TrialPage.Other(
        String.valueOf(Path.of(name).getFileName()),
        new TrialPage.Course(TraceSeries.of(played.trace()), played.said(), note),
        played.result(),
        ends);
  }
}
