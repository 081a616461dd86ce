package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.cli.Main;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** The whole program in a directory with a small plan, as its user would call it. */
final class Program {
  final Path plan;
  final Path run;
  private final Path directory;
  private final StringWriter err = new StringWriter();

  Program(Path directory) throws Exception {
    this(directory, 2);
  }

  Program(Path directory, int trials) throws Exception {
    this.directory = directory;
    plan = directory.resolve("plan.yaml");
    run = directory.resolve("run");
    Files.writeString(plan, TestPlans.quick(trials).source().text());
    Files.writeString(
        directory.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
  }

  /** Runs the plan into the directory. */
  int run(String... options) {
    List<String> words =
        new ArrayList<>(
            List.of(
                "run",
                "" + plan,
                "--out",
                "" + run,
                "--records",
                "" + directory.resolve("records")));
    words.addAll(List.of(options));
    return call(words.toArray(String[]::new));
  }

  int call(String... words) {
    err.getBuffer().setLength(0);
    return Main.run(words, new PrintWriter(new StringWriter()), new PrintWriter(err));
  }

  /** What the last call said of mistakes, without the directory. */
  String said() {
    return err.toString().replace(directory + "/", "");
  }

  /** The cause code that the last call ended with: {@code stopwell: CODE: …}. */
  String code() {
    String said = said();
    assertEquals("stopwell", said.substring(0, said.indexOf(':')), said);
    return said.split(": ", 3)[1];
  }

  /** The verdict that an exit code stands for: docs/command-line.md. */
  static String verdict(int code) {
    return switch (code) {
      case 0 -> Verdict.PASS.name();
      case 1 -> Verdict.FAIL.name();
      case 2 -> "refused";
      case 3 -> Verdict.RIG_FAULT.name();
      case 4 -> Verdict.SAFETY_STOP.name();
      case 5 -> Verdict.UNDECIDED.name();
      default -> "exit code " + code;
    };
  }

  List<TrialResult> results() throws Exception {
    return results(run);
  }

  static List<TrialResult> results(Path run) throws Exception {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }
}
