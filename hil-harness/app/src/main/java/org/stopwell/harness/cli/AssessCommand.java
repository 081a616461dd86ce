package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.assess.Assessment;
import org.stopwell.harness.assess.AssessmentReport;
import org.stopwell.harness.assess.Bound;
import org.stopwell.harness.assess.Ceiling;
import org.stopwell.harness.assess.FrequencyStudy;
import org.stopwell.harness.assess.Training;
import org.stopwell.harness.assess.WeightsFile;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/** Tries the depth estimate on canals that it has not learned from. */
@Command(
    name = "assess",
    description = {
      "Tries the two-frequency ratio and the estimate from the whole approach on a population of"
          + " virtual canals, in closed loop with motor and hand, and prints what came of it with"
          + " exact bounds. Half of the canals are by two networks other than that of the training, by turns.",
      "Everything is simulated."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell assess --trials 2000 --out runs/assessment",
      "  stopwell assess --sense sure_error_mm=0.2 --json",
      "  stopwell assess --sense caution_errors=1",
      "  stopwell assess --side-canals --trials 600",
      "  stopwell assess --condition half-wet --condition flooded",
      "  stopwell assess --estimator approach --condition brimful --trials 30000",
      "  stopwell assess --frequencies 40",
      "  stopwell assess --bound 60 --moves 600",
      "  stopwell assess --bound 20 --row uneven-half-wet"
    },
    mixinStandardHelpOptions = true)
final class AssessCommand implements Callable<Integer> {
  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Trials per estimator and condition; ${DEFAULT-VALUE} unless told.")
  int trials = 1000;

  @Option(
      names = "--condition",
      paramLabel = "CONDITION",
      completionCandidates = Conditions.class,
      description = "Only this condition: ${COMPLETION-CANDIDATES}. May be given often.")
  List<String> conditions = new ArrayList<>();

  @Option(
      names = "--estimator",
      paramLabel = "ESTIMATOR",
      completionCandidates = Estimators.class,
      description = "Only this estimator: ${COMPLETION-CANDIDATES}. May be given often.")
  List<String> estimators = new ArrayList<>();

  @Option(names = "--seed", paramLabel = "N", description = "Seed of the population.")
  long seed = Assessment.SEED;

  @Option(
      names = "--sense",
      paramLabel = "KEY=VALUE",
      description = "A value of the section sense that differs from its default.")
  Map<String, String> sense = new LinkedHashMap<>();

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Writes page, table and pictures there.")
  @Nullable Path out;

  @Option(
      names = "--fit",
      paramLabel = "FILE",
      description =
          "Fits the weights anew and writes them as Java source; some 20 minutes on two cores, and 8 GB of memory"
              + " (STOPWELL_JAVA_OPTS=-Xmx8g). No trials.")
  @Nullable Path fit;

  @Option(
      names = "--ceiling",
      paramLabel = "N",
      description =
          "How well a regression does that learns N canals of the very network it is judged by, by"
              + " the readings alone and with a measured feed; some minutes. No trials.")
  int ceiling;

  @Option(
      names = "--bound",
      paramLabel = "N",
      description =
          "How often any estimator can name the distance within 0.5 mm at most, on the network of"
              + " the bench and on networks drawn by chance, from N canals per row; some ten to"
              + " twenty milliseconds per move, canal and row on one core. No trials.")
  int bound;

  @Option(
      names = "--row",
      paramLabel = "ROW",
      completionCandidates = BoundRows.class,
      description = "With --bound: only this row: ${COMPLETION-CANDIDATES}. May be given often.")
  List<String> rows = new ArrayList<>();

  @Option(
      names = "--frequencies",
      paramLabel = "N",
      description =
          "Which one to four of fifteen frequencies tell a depth best, in N canals; seconds. No"
              + " trials.")
  int frequencies;

  @Option(
      names = "--moves",
      paramLabel = "N",
      description =
          "With --bound: how long the chain of each canal is; longer takes longer and makes the"
              + " bound tighter. ${DEFAULT-VALUE} unless told.")
  int moves = Bound.MOVES;

  @Option(names = "--side-canals", description = "About a quarter of the canals have a side canal.")
  boolean sideCanals;

  @Option(names = "--json", description = "Print the result as JSON.")
  boolean json;

  /** The conditions, for the help. */
  private static final class Conditions implements Iterable<String> {
    @Override
    public Iterator<String> iterator() {
      return AssessmentReport.conditions().iterator();
    }
  }

  /** The estimators, for the help. */
  private static final class Estimators implements Iterable<String> {
    @Override
    public Iterator<String> iterator() {
      return AssessmentReport.estimators().iterator();
    }
  }

  /** The rows of the bound, for the help. */
  private static final class BoundRows implements Iterable<String> {
    @Override
    public Iterator<String> iterator() {
      return Bound.rows().iterator();
    }
  }

  @Spec CommandLine.Model.@Nullable CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = java.util.Objects.requireNonNull(spec).commandLine().getOut();
    PrintWriter err = spec.commandLine().getErr();
    if (fit != null) {
      Training training = new Training(Training.CANALS, err::println);
      double[] alone = training.alone();
      Files.writeString(fit, WeightsFile.java(alone, training.learned(alone)));
      return 0;
    }
    if (ceiling != 0) {
      if (!(ceiling >= 100 && ceiling <= 1_000_000)) {
        throw new UsageException("--ceiling " + ceiling + " is outside 100 to 1000000");
      }
      screen.print(new Ceiling(ceiling, err::println).text());
      return 0;
    }
    if (!rows.isEmpty() && bound == 0) {
      throw new UsageException("--row " + rows.get(0) + " needs --bound");
    }
    if (bound != 0) {
      if (!(bound >= 2 && bound <= 1_000_000)) {
        throw new UsageException("--bound " + bound + " is outside 2 to 1000000");
      }
      if (!(moves >= 10 && moves <= 1_000_000)) {
        throw new UsageException("--moves " + moves + " is outside 10 to 1000000");
      }
      onlyOf("--row", rows, Bound.rows());
      screen.print(new Bound(bound, moves, err::println).text(rows));
      return 0;
    }
    if (frequencies != 0) {
      if (!(frequencies >= 4 && frequencies <= 10_000)) {
        throw new UsageException("--frequencies " + frequencies + " is outside 4 to 10000");
      }
      screen.print(new FrequencyStudy(frequencies).text());
      return 0;
    }
    if (!(trials >= 2 && trials <= 1_000_000)) {
      throw new UsageException("--trials " + trials + " is outside 2 to 1000000");
    }
    if (seed == Training.SEED) {
      throw new UsageException("--seed " + seed + " is that of the training");
    }
    onlyOf("--condition", conditions, AssessmentReport.conditions());
    onlyOf("--estimator", estimators, AssessmentReport.estimators());
    AssessmentReport report =
        new AssessmentReport(seed, sideCanals, trials, sense, conditions, estimators);
    if (report.allTrials() == 0) {
      throw new UsageException(
          "nothing to try: the ratio learns nothing of a canal, so --condition "
              + conditions.get(0)
              + " needs --estimator approach");
    }
    try {
      report.check();
    } catch (SettingsException e) {
      throw new UsageException("--sense " + e.getMessage());
    }
    try (Progress progress = Progress.of(report.allTrials(), 0)) {
      report.run(condition -> progress.say(condition, err), () -> progress.add(1));
    }
    if (out != null) {
      report.write(out);
    }
    screen.print(json ? report.json() : report.text());
    return 0;
  }

  private static void onlyOf(String option, List<String> words, List<String> known)
      throws UsageException {
    for (String word : words) {
      if (!known.contains(word)) {
        throw new UsageException(option + " " + word + " is none of " + String.join(", ", known));
      }
    }
  }
}
