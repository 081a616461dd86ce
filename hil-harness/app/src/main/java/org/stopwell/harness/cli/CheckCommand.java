package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.advice.PlanAdvice;
import org.stopwell.harness.plan.CalibrationFile;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.ProofFile;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Station;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.time.Utc;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** Validates plans and settings. */
@Command(
    name = "check",
    description = {
      "Validates plans and settings. Prints torque margins to the strength of the file."
          + " Warns of strokes that are too fast, and of hands that are too fast for the"
          + " standoff, the set distance short of the foramen. States for every stage or"
          + " condition whether the fluid level permits a valid reading.",
      "Nothing moves. Lists every mistake in every file with its line."
    },
    footer = {"", "Example:", "  stopwell check docs/plans/*.yaml docs/settings/*.yaml"},
    mixinStandardHelpOptions = true)
final class CheckCommand extends StopwellCommand {
  @Parameters(arity = "1..*", paramLabel = "FILE", description = "Plans and settings, YAML files.")
  List<Path> files = new ArrayList<>();

  @Override
  public Integer call() {
    Policies policies = extensions().policies();
    PrintWriter out = out();
    PrintWriter err = err();
    int code = 0;
    for (Path file : files) {
      try {
        Source source = Source.of(file);
        if (source.isPlan()) {
          Plan plan = Plan.read(source, policies);
          out.println(
              file
                  + ": valid; plan "
                  + plan.head().name()
                  + ", "
                  + plan.plannedConditions().size()
                  + (plan.plannedConditions().size() == 1 ? " condition, " : " conditions, ")
                  + plan.trials()
                  + " trials"
                  + plan.protocol()
                      .sentinels()
                      .map(
                          s ->
                              ", "
                                  + (plan.trials()
                                      - plan.plannedConditions().size() * plan.head().trials())
                                  + " of them sentinels")
                      .orElse(""));
          PlanAdvice.of(plan, out::println);
        } else if (source.isStopPlan()) {
          StopPlan stops = StopPlan.read(source);
          out.println(
              file
                  + ": valid; plan "
                  + stops.name()
                  + " of stops measured elsewhere, settings: "
                  + String.join(", ", stops.standoffMicrons().keySet()));
        } else if (source.isStation()) {
          out.println(file + ": valid; station " + Station.read(source).name());
        } else if (source.isCalibrations()) {
          Calibrations read = CalibrationFile.read(source);
          out.println(
              file
                  + ": valid; calibrations of bench "
                  + read.bench()
                  + ", "
                  + read.records().size()
                  + " records"
                  + list(", never done: ", read.missing(read.group()))
                  + list(", overdue: ", read.overdue(read.group(), Utc.today()))
                  + list(", outside their limit: ", read.beyond()));
        } else if (source.isProof()) {
          ProofRecord proof = ProofFile.read(source);
          out.println(
              file
                  + ": valid; proof of bench "
                  + proof.bench().serialNumber()
                  + ", "
                  + (proof.failed() ? "failed" : proof.complete() ? "complete" : "incomplete")
                  + ", good until the end of "
                  + proof.due());
        } else {
          Settings settings = Settings.read(source, policies);
          out.println(file + ": valid; settings " + settings.name());
          PlanAdvice.of(settings, out::println);
        }
      } catch (PlanException e) {
        e.mistakes().forEach(err::println);
        code = Main.WRONG_INPUT;
      }
    }
    return code;
  }

  private static String list(String before, List<Quantity> quantities) {
    return quantities.isEmpty()
        ? ""
        : before + quantities.stream().map(Quantity::key).collect(Collectors.joining(", "));
  }
}
