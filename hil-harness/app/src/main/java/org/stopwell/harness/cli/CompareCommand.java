package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.claim.ComparedCondition;
import org.stopwell.harness.claim.Comparison;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.protocol.Deviation;
import org.stopwell.harness.record.HeaderChanges;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.Unblinding;
import org.stopwell.harness.standing.BenchNotes;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Compares a run with a baseline. */
@Command(
    name = "compare",
    description =
        "Compares a run with a baseline: how far the mean stop of each condition moved,"
            + " against a margin, and which inputs changed.",
    footer = {
      "",
      "Example:",
      "  stopwell compare runs/new runs/released --margin-mm 0.05",
      "",
      "Trials with the same number and seed are compared in pairs. PASS: every condition"
          + " moved less than the margin, and no trial got worse. FAIL: a condition moved beyond"
          + " the margin, or more verdicts got worse than chance explains. UNDECIDED: the trials"
          + " do not decide."
    },
    mixinStandardHelpOptions = true)
final class CompareCommand implements Callable<Integer> {
  @Parameters(index = "0", paramLabel = "DIR", description = "Run directory under test.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "BASELINE", description = "Run directory to compare with.")
  Path baseline = Path.of("");

  @Option(
      names = "--margin-mm",
      paramLabel = "M",
      description =
          "Permitted shift of the mean stop error of a condition, mm. Default:"
              + " ${DEFAULT-VALUE}.",
      defaultValue = "0.05")
  double marginMm = 0.05;

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    if (!(marginMm >= 0.001 && marginMm <= 10)) {
      throw new UsageException("--margin-mm " + marginMm + " is outside 0.001 to 10");
    }
    try (RunFile after = RunFile.load(directory);
        RunFile before = RunFile.load(baseline)) {
      Comparison comparison =
          Comparison.of(
              run(baseline, before), run(directory, after), (int) Math.round(marginMm * 1000));
      Optional<Withheld> withheld =
          Stream.concat(before.results().stream(), after.results().stream())
              .flatMap(t -> Withheld.from(t).stream())
              .findFirst();
      Verdict verdict = withheld.isPresent() ? Verdict.UNDECIDED : comparison.verdict();
      List<HeaderChanges.Change> changes =
          new ArrayList<>(HeaderChanges.between(before.header(), after.header()));
      Deviation.between(BenchNotes.items(before.notes()), BenchNotes.items(after.notes()))
          .forEach(d -> changes.add(new HeaderChanges.Change(d.what(), d.planned(), d.found())));
      boolean simulated = before.header().bench().simulated() || after.header().bench().simulated();
      if (json) {
        out.println(json(comparison, changes, simulated, verdict));
      } else {
        print(out, comparison, changes, simulated);
        out.println(verdict + withheld.map(w -> ": " + w + ": " + w.sentence()).orElse(""));
      }
      return verdict.exitCode();
    }
  }

  /** A blinded run must be unblinded before a comparison. */
  private static Comparison.Run run(Path directory, RunFile file) throws Exception {
    if (file.header().protocol().blinding().isPresent() && !Unblinding.isDone(directory)) {
      throw new UsageException(
          directory + ": the run is blinded; unblind it first: stopwell unblind " + directory);
    }
    Evidence evidence = Evidence.of(file.header(), file.results(), true);
    return new Comparison.Run(evidence.header().conditions(), evidence.trials());
  }

  private void print(
      PrintWriter out,
      Comparison comparison,
      List<HeaderChanges.Change> changes,
      boolean simulated) {
    out.println(
        "Margin ±"
            + Numbers.plainMillimetres((int) Math.round(marginMm * 1000))
            + (simulated ? ", simulated" : ""));
    for (ComparedCondition c : comparison.conditions()) {
      out.println("  " + c.name() + ": " + c.verdict());
      if (c.before().expectsStop()) {
        out.println("    moved by " + Numbers.signedMillimetres(c.shift()) + ", " + interval(c));
        out.println("    spread times " + ratio(c));
      }
      out.println(
          "    "
              + (c.paired()
                  ? c.pairs()
                      + " pairs; "
                      + c.newlyFailed()
                      + " got worse, "
                      + c.newlyPassed()
                      + " got better"
                  : "different trials: compared as independent samples"));
    }
    comparison.onlyBefore().forEach(name -> out.println("  " + name + ": only in the baseline"));
    comparison
        .onlyAfter()
        .forEach(name -> out.println("  " + name + ": only in this run, not compared"));
    out.println(changes.isEmpty() ? "Same configuration." : "Changed:");
    for (HeaderChanges.Change change : changes) {
      out.println(
          "  " + change.what() + ": " + word(change.before()) + " → " + word(change.after()));
    }
  }

  private static String interval(ComparedCondition c) {
    return c.isConstant()
        ? "identical in every pair"
        : "90 % interval " + Numbers.millimetres(c.shiftInterval());
  }

  private static String ratio(ComparedCondition c) {
    return c.spreadRatio().isEmpty()
        ? Numbers.NOT_ESTIMABLE
        : String.format(java.util.Locale.ROOT, "%.3f", c.spreadRatio().getAsDouble());
  }

  private static String word(String text) {
    return text.isEmpty() ? "(none)" : text;
  }

  private static String json(
      Comparison comparison, List<HeaderChanges.Change> changes, boolean simulated, Verdict verdict)
      throws java.io.IOException {
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
      one.put("margin_um", c.marginMicrons());
      conditions.add(one);
    }
    List<Map<String, Object>> changed = new ArrayList<>();
    for (HeaderChanges.Change change : changes) {
      changed.add(
          Map.of("what", change.what(), "before", change.before(), "after", change.after()));
    }
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("verdict", verdict.name());
    all.put("simulated", simulated);
    all.put("conditions", conditions);
    all.put("only_before", comparison.onlyBefore());
    all.put("only_after", comparison.onlyAfter());
    all.put("changes", changed);
    return Json.text(all);
  }
}
