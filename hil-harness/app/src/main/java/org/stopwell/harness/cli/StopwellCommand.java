package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.calibration.Attendant;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** A command: writes results to one writer and messages to another, and returns an exit code. */
abstract class StopwellCommand implements Callable<Integer> {
  @Spec private @Nullable CommandSpec spec;

  /** Own policies and benches. */
  Extensions extensions() {
    return Main.extensions(Objects.requireNonNull(spec));
  }

  /** The words of the command line after the name of the command. */
  List<String> words() {
    return Objects.requireNonNull(spec).commandLine().getParseResult().originalArgs();
  }

  /** Who answers the questions of a bench. */
  Attendant attendant() {
    return Main.attendant(Objects.requireNonNull(spec));
  }

  /** For results. */
  PrintWriter out() {
    return Objects.requireNonNull(spec).commandLine().getOut();
  }

  /** For progress and messages. */
  PrintWriter err() {
    return Objects.requireNonNull(spec).commandLine().getErr();
  }
}
