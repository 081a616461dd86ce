package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.stopwell.harness.claim.ComparedCondition;
import org.stopwell.harness.claim.Comparison;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.record.HeaderChanges;
import org.stopwell.harness.record.Origin;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunFileException;
import org.stopwell.harness.standing.BenchNotes;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;

/**
 * A run against a baseline, for people and for machines.
 *
 * @param comparison the conditions in pairs
 * @param marginMicrons permitted shift of a mean, µm
 * @param changes what is not the same in both runs
 * @param labels what one of both runs is: simulated, not measured here; none for two runs on a
 *     physical bench
 * @param withheld why there is no verdict; empty when there is one
 */
public record ComparisonSummary(
    Comparison comparison,
    int marginMicrons,
    List<HeaderChanges.Change> changes,
    List<String> labels,
    Optional<Withheld> withheld) {
  /** Takes a copy. */
  public ComparisonSummary {
    changes = List.copyOf(changes);
    labels = List.copyOf(labels);
  }

  /**
   * The summary of a comparison.
   *
   * @param comparison the conditions in pairs
   * @param marginMicrons permitted shift of a mean, µm
   * @param before the baseline
   * @param after the run under test
   * @return the summary
   * @throws RunFileException when a run file cannot be read
   * @throws PlanException when the records of a bench cannot be read
   */
  public static ComparisonSummary of(
      Comparison comparison, int marginMicrons, RunFile before, RunFile after)
      throws RunFileException, PlanException {
    List<HeaderChanges.Change> changes =
        new ArrayList<>(HeaderChanges.between(before.header(), after.header()));
    Deviation.between(BenchNotes.items(before.notes()), BenchNotes.items(after.notes()))
        .forEach(d -> changes.add(new HeaderChanges.Change(d.what(), d.planned(), d.found())));
    return new ComparisonSummary(
        comparison,
        marginMicrons,
        changes,
        Stream.of(before, after)
            .map(run -> run.header().label())
            .filter(label -> !label.isEmpty())
            .distinct()
            .toList(),
        Stream.concat(before.results().stream(), after.results().stream())
            .flatMap(t -> Withheld.from(t).stream())
            .findFirst());
  }

  /**
   * The verdict on the comparison.
   *
   * @return UNDECIDED when a bench could not decide
   */
  public Verdict verdict() {
    return withheld.isPresent() ? Verdict.UNDECIDED : comparison.verdict();
  }

  /**
   * What the numbers are.
   *
   * @return such as {@code simulated}; empty for two runs on a physical bench
   */
  String label() {
    return String.join(", ", labels);
  }

  /**
   * For people.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    out.accept(
        "Margin ±"
            + Numbers.plainMillimetres(marginMicrons)
            + (labels.isEmpty() ? "" : ", " + label()));
    for (ComparedCondition c : comparison.conditions()) {
      out.accept("  " + c.name() + ": " + c.verdict());
      if (c.before().expectsStop()) {
        out.accept("    moved by " + Numbers.signedMillimetres(c.shift()) + ", " + interval(c));
        out.accept("    spread times " + ratio(c));
      }
      out.accept(
          "    "
              + (c.paired()
                  ? Words.count(c.pairs(), "pair") + canals(c) + "; " + changes(c)
                  : "different trials: compared as independent samples"
                      + canals(c)
                      + "; "
                      + changes(c)));
    }
    if (comparison.isWorseTogether()) {
      out.accept(
          "Over all conditions together more trials "
              + "fail, or end without a stop where one is expected,"
              + " than chance explains.");
    }
    comparison.onlyBefore().forEach(name -> out.accept("  " + name + ": only in the baseline"));
    comparison
        .onlyAfter()
        .forEach(name -> out.accept("  " + name + ": only in this run, not compared"));
    out.accept(changes.isEmpty() ? "Same configuration." : "Changed:");
    for (HeaderChanges.Change change : changes) {
      out.accept(
          "  " + change.what() + ": " + word(change.before()) + " → " + word(change.after()));
    }
    out.accept(verdict() + withheld.map(w -> ": " + w + ": " + w.sentence()).orElse(""));
  }

  private static String canals(ComparedCondition c) {
    return c.before().expectsStop() && c.canals() > 0
        ? " in "
            + (c.byTooth()
                ? Words.count(c.canals(), "tooth", "teeth")
                : Words.count(c.canals(), "canal"))
        : "";
  }

  private static String changes(ComparedCondition c) {
    return c.paired()
        ? c.newlyFailed()
            + " newly failed, "
            + c.newlyPassed()
            + " no longer failed, "
            + c.newlyWithoutStop()
            + " newly without a stop"
        : c.newlyFailed()
            + " failed (baseline "
            + c.newlyPassed()
            + "), "
            + c.newlyWithoutStop()
            + " without a stop (baseline "
            + c.newlyStopped()
            + ")";
  }

  private static String interval(ComparedCondition c) {
    return c.isConstant()
        ? "identical in every pair"
        : "90 % interval " + Numbers.millimetres(c.shiftInterval());
  }

  private static String ratio(ComparedCondition c) {
    return c.spreadRatio().isEmpty()
        ? Numbers.NOT_ESTIMABLE
        : String.format(Locale.ROOT, "%.3f", c.spreadRatio().getAsDouble());
  }

  private static String word(String text) {
    return text.isEmpty() ? "(none)" : text;
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    List<Map<String, Object>> conditions = new ArrayList<>();
    for (ComparedCondition c : comparison.conditions()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("condition", c.name());
      one.put("verdict", c.verdict().name());
      one.put("paired", c.paired());
      one.put("pairs", c.pairs());
      one.put("shift_um", c.shift().isPresent() ? c.shift().getAsDouble() : null);
      one.put("shift_low_um", c.shiftInterval().map(Interval::low).orElse(null));
      one.put("shift_high_um", c.shiftInterval().map(Interval::high).orElse(null));
      one.put("spread_ratio", c.spreadRatio().isPresent() ? c.spreadRatio().getAsDouble() : null);
      one.put("newly_failed", c.newlyFailed());
      one.put("newly_passed", c.newlyPassed());
      one.put("newly_without_stop", c.newlyWithoutStop());
      one.put("newly_stopped", c.newlyStopped());
      one.put("canals", c.canals());
      one.put("margin_um", c.marginMicrons());
      conditions.add(one);
    }
    List<Map<String, Object>> changed = new ArrayList<>();
    for (HeaderChanges.Change change : changes) {
      changed.add(
          Map.of("what", change.what(), "before", change.before(), "after", change.after()));
    }
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("verdict", verdict().name());
    all.put("simulated", labels.contains("simulated"));
    all.put("measured_here", !labels.contains(Origin.NOT_HERE));
    all.put("conditions", conditions);
    all.put("worse_together", comparison.isWorseTogether());
    all.put("only_before", comparison.onlyBefore());
    all.put("only_after", comparison.onlyAfter());
    all.put("changes", changed);
    return all;
  }
}
