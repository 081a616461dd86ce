package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.detect.DefectKind;
import org.stopwell.harness.detect.Detection;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Finds the smallest defect that a plan detects. */
@Command(
    name = "detect",
    description = {
      "Puts defects into the controller and finds the smallest defect of each kind that"
          + " this plan reliably detects: a wrong sign or unit, a signal that is late or held, a"
          + " stop decided too early, a wrong standoff (set distance short of the foramen), a"
          + " lost debounce.",
      "",
      "Runs whole campaigns on the virtual bench, each with its own seed. A campaign"
          + " detects a defect if its verdict is not PASS. Reliably means: in all campaigns; the"
          + " output gives the exact 95 %% bound. Larger defects are assumed to be easier to"
          + " detect. For a missed defect the output states its effect on the same trials:"
          + " harmless under this plan, or the plan is too weak.",
      "detect judges verdicts only. A paired replay of the same trials shows any" + " difference."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell detect docs/plans/build.yaml",
      "  stopwell detect PLAN --kind late --campaigns 59      59 of 59 show at least 95 %%"
    },
    mixinStandardHelpOptions = true)
final class DetectCommand implements Callable<Integer> {
  @Mixin PlanOptions plans = new PlanOptions();

  @Option(
      names = "--campaigns",
      paramLabel = "N",
      description =
          "Campaigns for each size. Default: ${DEFAULT-VALUE}; 14 of 14 show at least 80 %%.",
      defaultValue = "14")
  int campaigns = 14;

  @Option(
      names = "--kind",
      paramLabel = "KIND",
      description = "Only this kind of defect: ${COMPLETION-CANDIDATES}. Can be repeated.")
  List<DefectKind> kinds = new ArrayList<>();

  @Option(
      names = "--jobs",
      paramLabel = "N",
      description = "Trials that run at the same time. Default: the number of processors.")
  @Nullable Integer jobs;

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    if (!(campaigns >= 1 && campaigns <= 10_000)) {
      throw new UsageException("--campaigns " + campaigns + " is outside 1 to 10000");
    }
    Plan plan = plans.read();
    List<DefectKind> wanted = kinds.isEmpty() ? List.of(DefectKind.values()) : kinds;
    int atOnce = new BenchOptions().jobs(jobs);
    int most = campaigns * (1 + 4 * wanted.size());
    Proportion alarms;
    List<Detection.Finding> findings = new ArrayList<>();
    try (Progress progress = Progress.of(most, 0);
        Detection detection =
            new Detection(plan, campaigns, atOnce, BenchOptions.PERIOD_NS, progress::add)) {
      alarms = detection.falseAlarms();
      if (alarms.count() < alarms.trials()) {
        wanted.forEach(kind -> findings.add(detection.search(kind)));
      }
    }
    if (json) {
      out.println(json(plan, alarms, findings));
    } else {
      print(out, plan, alarms, findings);
    }
    return alarms.count() == 0 ? 0 : Verdict.UNDECIDED.exitCode();
  }

  private void print(
      PrintWriter out, Plan plan, Proportion alarms, List<Detection.Finding> findings) {
    out.println(
        plan.head().name()
            + ": "
            + campaigns
            + " campaigns of "
            + plan.trials()
            + " trials for each size, simulated");
    out.println(
        "A sound controller raises an alarm in "
            + alarms.count()
            + " of "
            + alarms.trials()
            + " (with 95 % confidence at most "
            + Numbers.upperPercent(alarms.upperBound(0.95))
            + ").");
    if (alarms.count() == alarms.trials()) {
      out.println("A sound controller never passes this plan, so the plan detects nothing.");
      return;
    }
    for (Detection.Finding f : findings) {
      out.println("  " + f.kind().text() + ": " + sentence(f));
    }
  }

  private static String sentence(Detection.Finding f) {
    String missed =
        f.missed()
            .map(
                t ->
                    (f.kind().sizes().size() == 1
                            ? ""
                            : "missed at " + f.kind().size(t.size()) + ", ")
                        + "detected in "
                        + t.noticed().count()
                        + " of "
                        + t.noticed().trials()
                        + " campaigns")
            .orElse("");
    Optional<Detection.Tried> smallest = f.smallest();
    if (smallest.isEmpty()) {
      return "NOT DETECTED ("
          + missed
          + ")"
          + f.missed()
              .flatMap(Detection.Tried::effect)
              .map(e -> "\n" + why(f.kind(), e))
              .orElse("");
    }
    Detection.Tried t = smallest.get();
    String size = f.kind().size(t.size());
    return (size.isEmpty() ? "detected" : "detected from " + size + " on")
        + ", "
        + t.noticed().count()
        + " of "
        + t.noticed().trials()
        + ", at least "
        + Numbers.lowerPercent(t.noticed().lowerBound(0.95))
        + (missed.isEmpty() ? "" : "; " + missed);
  }

  /** The effect of a missed defect on the trials, to show what a plan would have to detect. */
  private static String why(DefectKind kind, Detection.Effect effect) {
    boolean still = effect.worstMicrons() == 0;
    String moved =
        still
            ? "no stop moved"
            : "stops moved by up to " + Numbers.plainMillimetres(effect.worstMicrons());
    boolean judged = effect.verdicts() > 0;
    return "    "
        + (judged
            ? "Tolerated by the claims of this plan"
            : still ? "Harmless under this plan" : "Within the tolerance of this plan")
        + ": in the campaign that missed it, "
        + moved
        + "\n    and "
        + (judged
            ? "verdict or cause changed in " + effect.verdicts() + " of "
            : "no verdict or cause changed in ")
        + effect.trials()
        + " trials. To detect it, a plan needs\n    "
        + kind.needs()
        + (judged ? ", or more trials." : ".");
  }

  private String json(Plan plan, Proportion alarms, List<Detection.Finding> findings)
      throws java.io.IOException {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", plan.head().name());
    all.put("simulated", true);
    all.put("campaigns", campaigns);
    all.put("trials", plan.trials());
    all.put("false_alarms", alarms.count());
    all.put("false_alarms_upper_95", alarms.upperBound(0.95).orElse(1));
    List<Map<String, Object>> kinds = new ArrayList<>();
    for (Detection.Finding f : findings) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("kind", f.kind().name());
      one.put("meaning", f.kind().text());
      f.smallest()
          .ifPresent(
              t -> {
                one.put("noticed_from", t.size());
                one.put("noticed", t.noticed().count());
                one.put("of", t.noticed().trials());
                one.put("lower_95", t.noticed().lowerBound(0.95).orElse(0));
              });
      f.missed()
          .ifPresent(
              t -> {
                one.put("missed", t.size());
                t.effect()
                    .ifPresent(
                        e -> {
                          one.put("missed_trials", e.trials());
                          one.put("missed_verdicts_changed", e.verdicts());
                          one.put("missed_largest_shift_um", e.worstMicrons());
                        });
              });
      kinds.add(one);
    }
    all.put("kinds", kinds);
    return Json.text(all);
  }
}
