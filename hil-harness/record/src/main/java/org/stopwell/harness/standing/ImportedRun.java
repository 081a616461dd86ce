package org.stopwell.harness.standing;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.Origin;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stops.StopJudge;
import org.stopwell.harness.stops.StopRow;
import org.stopwell.harness.stops.StopTable;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.bench.BenchDescription;

/** Stops that were measured elsewhere, as header and trials of a run. */
public final class ImportedRun {
  /** Kind of the note that says when the stops were measured. */
  public static final String MEASURED = "measured";

  private static final BenchDescription NO_BENCH =
      new BenchDescription("elsewhere", "", "", /* simulated= */ false, /* lockstep= */ false, 1);

  private final StopPlan plan;
  private final StopTable.Read table;
  private final List<Condition> conditions;

  /**
   * A run of a table.
   *
   * @param plan its plan
   * @param table its rows
   */
  public ImportedRun(StopPlan plan, StopTable.Read table) {
    this.plan = plan;
    this.table = table;
    SortedMap<String, Integer> planned = new TreeMap<>();
    table.rows().forEach(row -> planned.merge(row.condition(), 1, Integer::sum));
    this.conditions = plan.conditions(planned);
  }

  /**
   * The header.
   *
   * @param name name of the table, without its directory
   * @param build version of this software
   * @param startedAt date and time of the import
   * @param command the command line that repeats it
   * @param registration the freeze that it runs under
   * @return the header, its conditions by their own names
   */
  public RunHeader header(
      String name, String build, String startedAt, String command, Registration registration) {
    return new RunHeader(
        plan.name(),
        plan.source().text(),
        "",
        build,
        NO_BENCH,
        plan.seed(),
        conditions,
        plan.claims(),
        startedAt,
        command,
        plan.protocol(),
        registration,
        new Design(Optional.of(plan.analysis()), List.of(), Map.of(), Optional.empty(), true, ""),
        Origin.elsewhere(name, table.sha256(), plan.place(), plan.uncertaintyMicrons()));
  }

  /**
   * The trials, judged. A stop nearer to the limit than the uncertainty of a distance is not
   * decided.
   *
   * @return in the order of the table
   */
  public List<TrialResult> trials() {
    Map<String, Condition> byName = new HashMap<>();
    conditions.forEach(c -> byName.put(c.name(), c));
    BenchStanding stated = BenchStanding.ofUncertainty(plan.uncertaintyMicrons());
    List<TrialResult> trials = new ArrayList<>();
    for (StopRow row : table.rows()) {
      Condition condition = byName.get(row.condition());
      if (condition == null) {
        throw new IllegalStateException("no condition " + row.condition());
      }
      trials.add(
          stated.weigh(
              StopJudge.of(trials.size(), row, condition),
              condition.toleranceMicrons(),
              condition.overTravelBelowMicrons()));
    }
    return trials;
  }

  /**
   * When the stops were measured.
   *
   * @return such as {@code from 2026-03-01 to 2026-03-04}; empty where the table does not say
   */
  public Optional<String> measured() {
    List<LocalDate> dates = table.rows().stream().flatMap(r -> r.date().stream()).sorted().toList();
    return dates.isEmpty()
        ? Optional.empty()
        : Optional.of("from " + dates.get(0) + " to " + dates.get(dates.size() - 1));
  }
}
