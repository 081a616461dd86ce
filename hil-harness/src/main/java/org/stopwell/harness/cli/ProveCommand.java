package org.stopwell.harness.cli;

import java.io.Console;
import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.proof.BenchProof;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.proof.Operator;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Spec;

/** Proves a bench before a campaign relies on it. */
@Command(
    name = "prove",
    description = {
      "Proves a bench by what it does: the motor rests when it must, turns as told, and loses its"
          + " power to a safe stop, to a silent host and to the emergency stop. The motor turns at"
          + " 300 rpm meanwhile: keep the file in the air.",
      "",
      "Exit code 0 when everything is proven, 3 when a check failed, 5 when one was not done."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell rig prove --bench emulated",
      "  stopwell rig prove --bench serial --port /dev/ttyUSB0"
    },
    mixinStandardHelpOptions = true)
final class ProveCommand implements Callable<Integer> {
  @Mixin BenchOptions benches = new BenchOptions();

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter out = Objects.requireNonNull(spec).commandLine().getOut();
    try (Bench bench = benches.maker().open()) {
      BenchDescription board = bench.describe();
      out.println(
          board.kind()
              + ", "
              + board.serialNumber()
              + ", "
              + board.firmware()
              + (board.simulated() ? ", simulated" : ""));
      List<Finding> findings = BenchProof.of(bench, operator());
      findings.forEach(finding -> print(out, finding));
      return verdict(findings).exitCode();
    }
  }

  private static void print(PrintWriter out, Finding finding) {
    out.println(
        String.format(
                Locale.ROOT,
                "%-8s  %-14s  %s%s",
                finding.outcome().name().replace('_', ' '),
                finding.check(),
                finding.measured(),
                finding.limit().isEmpty() ? "" : " (allowed: " + finding.limit() + ")")
            .stripTrailing());
    out.println("          " + finding.text());
  }

  private static Verdict verdict(List<Finding> findings) {
    if (findings.stream().anyMatch(f -> f.outcome() == Outcome.FAIL)) {
      return Verdict.RIG_FAULT;
    }
    return findings.stream().anyMatch(f -> f.outcome() == Outcome.NOT_DONE)
        ? Verdict.UNDECIDED
        : Verdict.PASS;
  }

  @SuppressWarnings("SystemConsoleNull") // from JDK 22 on nobody answers, which is the same
  private static Operator operator() {
    Console console = System.console();
    return console == null
        ? Operator.NOBODY
        : request -> "y".equalsIgnoreCase(console.readLine("%s Done? [y/N] ", request));
  }
}
