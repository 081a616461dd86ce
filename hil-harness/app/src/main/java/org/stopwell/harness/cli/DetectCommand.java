package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.detect.DefectKind;
import org.stopwell.harness.detect.Detection;
import org.stopwell.harness.detect.DetectionSummary;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.report.DetectionPage;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

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
      "  stopwell detect docs/plans/build.yaml --page detected.html",
      "  stopwell detect PLAN --kind late --campaigns 59      59 of 59 show at least 95 %%"
    },
    mixinStandardHelpOptions = true)
final class DetectCommand extends StopwellCommand {
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
      names = "--page",
      paramLabel = "HTML",
      description = "Write a page with a picture: which sizes of each defect the plan detects.")
  @Nullable Path page;

  @Mixin JobsOption jobs = new JobsOption();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    Range.check("--campaigns", campaigns, 1, 10_000);
    Plan plan = plans.read();
    PlanOptions.ownController(plan, "detect");
    List<DefectKind> wanted = kinds.isEmpty() ? List.of(DefectKind.values()) : kinds;
    int atOnce = new BenchOptions().jobs(jobs.asked);
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
    DetectionSummary summary =
        new DetectionSummary(plan.head().name(), plan.trials(), campaigns, alarms, findings);
    if (page != null) {
      String html =
          DetectionPage.html(
              summary.plan(),
              summary.trials(),
              campaigns,
              alarms,
              findings.stream().map(DetectCommand::kind).toList());
      TextFile.write("--page", page, writer -> writer.write(html));
    }
    json.print(out(), summary.values(), summary::print);
    return alarms.count() == 0 ? 0 : Verdict.UNDECIDED.exitCode();
  }

  private static DetectionPage.Kind kind(Detection.Finding f) {
    List<Integer> sizes = f.kind().sizes();
    return new DetectionPage.Kind(
        f.kind().text(),
        sizes.size() == 1 ? List.of("present") : sizes.stream().map(f.kind()::size).toList(),
        f.smallest().map(t -> sizes.indexOf(t.size())).orElse(sizes.size()),
        f.missed().map(t -> List.of(sizes.indexOf(t.size()))).orElse(List.of()),
        DetectionSummary.sentence(f));
  }
}
