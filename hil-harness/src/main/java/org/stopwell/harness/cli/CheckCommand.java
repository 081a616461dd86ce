package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Station;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** Validates plans and settings. */
@Command(
    name = "check",
    description = {
      "Validates plans and settings and prints the torque margins to the file's strength.",
      "Nothing moves. Every mistake in every file is named with its line."
    },
    footer = {"", "Example:", "  stopwell check docs/plans/*.yaml docs/settings/*.yaml"},
    mixinStandardHelpOptions = true)
final class CheckCommand implements Callable<Integer> {
  @Parameters(arity = "1..*", paramLabel = "FILE", description = "Plans and settings, YAML files.")
  List<Path> files = new ArrayList<>();

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter out = java.util.Objects.requireNonNull(spec).commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    int code = 0;
    for (Path file : files) {
      try {
        Source source = Source.of(file);
        if (source.isPlan()) {
          Plan plan = Plan.read(source);
          out.println(
              file
                  + ": right; plan "
                  + plan.head().name()
                  + ", "
                  + plan.cells().size()
                  + " conditions, "
                  + plan.trials()
                  + " trials");
          TorqueMargin.print(plan.settings(), out);
        } else if (source.isStation()) {
          out.println(file + ": right; station " + Station.read(source).name());
        } else {
          Settings settings = Settings.read(source);
          out.println(file + ": right; settings " + settings.name());
          TorqueMargin.print(settings, out);
        }
      } catch (PlanException e) {
        e.mistakes().forEach(err::println);
        code = Main.WRONG_INPUT;
      }
    }
    return code;
  }
}
