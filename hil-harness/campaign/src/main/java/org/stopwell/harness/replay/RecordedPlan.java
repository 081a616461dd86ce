package org.stopwell.harness.replay;

import java.nio.file.Path;
import java.util.List;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.plan.Mistake;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.TrialResult;

/** The plan of a run as it was recorded. */
public final class RecordedPlan {
  private RecordedPlan() {}

  /**
   * Reads the plan out of a run file.
   *
   * @param run the run file
   * @param directory the run directory, for messages
   * @param policies the policies that its settings may name
   * @return the plan with the seed and the trials of the run
   * @throws PlanException when it cannot be read, or is not the plan of these trials
   * @throws RunFileException when the run file cannot be read
   */
  public static Plan of(RunFile run, Path directory, Policies policies)
      throws PlanException, RunFileException {
    RunHeader header = run.header();
    Plan recorded = header.plan(policies);
    int perCondition = header.plannedTrials() / header.conditions().size();
    int conditions = recorded.conditions().size();
    if (!(perCondition >= 1) || conditions != header.conditions().size()) {
      throw wrong(
          directory,
          "the recorded plan has "
              + conditions
              + " conditions, the run file "
              + header.conditions().size()
              + " with "
              + header.plannedTrials()
              + " trials; the run file is not that of this plan");
    }
    Plan plan = recorded.with(header.campaignSeed(), perCondition);
    for (TrialResult trial : run.results()) {
      if (!(trial.index() < plan.trials())) {
        throw wrong(
            directory,
            "trial "
                + (trial.index() + 1L)
                + ": the recorded plan has "
                + plan.trials()
                + " trials");
      }
    }
    return plan;
  }

  private static PlanException wrong(Path directory, String why) {
    return new PlanException(List.of(new Mistake(directory.toString(), 0, "", why)));
  }
}
