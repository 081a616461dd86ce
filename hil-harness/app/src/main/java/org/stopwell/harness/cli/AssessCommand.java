package org.stopwell.harness.cli;

import static java.util.stream.Collectors.joining;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.harness.assess.Assessment;
import org.stopwell.harness.assess.AssessmentChoice;
import org.stopwell.harness.assess.AssessmentResult;
import org.stopwell.harness.assess.CanalCondition;
import org.stopwell.harness.assess.Estimator;
import org.stopwell.harness.assess.LeftOut;
import org.stopwell.harness.assess.SurveyTraces;
import org.stopwell.harness.assess.Training;
import org.stopwell.harness.input.InputFile;
import org.stopwell.harness.report.AssessmentPage;
import picocli.CommandLine.Command;
import picocli.CommandLine.ITypeConverter;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.TypeConversionException;

/** Assesses the depth estimate on canals that it was not trained on. */
@Command(
    name = "assess",
    description = {
      "Compares two ways to sense the depth on a population of virtual canals, in closed loop with"
          + " motor and hand: the ratio of two frequencies, and the estimate from the whole"
          + " approach. Prints shares with exact 95 %% intervals.",
      "The canals take the families of simulated teeth in turn, each with a result of its own."
          + " The shipped weights know these families; --families tells how an estimate does on one that"
          + " it does not know.",
      "All results are simulated."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell assess --trials 2000 --out runs/assessment",
      "  stopwell assess --estimator approach --condition brimful --trials 30000",
      "  stopwell assess --condition half-wet --condition flooded",
      "  stopwell assess --traces teeth --teeth 50 --canal lumped --seed 7",
      "  stopwell assess --sense caution_errors=1 --json",
      "  stopwell assess --families"
    },
    mixinStandardHelpOptions = true)
final class AssessCommand extends StopwellCommand {
  @Option(
      names = "--trials",
      paramLabel = "N",
      description = "Trials per estimator and condition. Default: ${DEFAULT-VALUE}.")
  int trials = 1000;

  @Option(
      names = "--condition",
      paramLabel = "CONDITION",
      converter = ConditionWord.class,
      description = "Only this condition: ${COMPLETION-CANDIDATES}. Repeat for more.")
  List<CanalCondition> conditions = new ArrayList<>();

  @Option(
      names = "--estimator",
      paramLabel = "ESTIMATOR",
      converter = EstimatorWord.class,
      description = "Only this estimator: ${COMPLETION-CANDIDATES}. Repeat for more.")
  List<Estimator> estimators = new ArrayList<>();

  @Option(
      names = "--seed",
      paramLabel = "N",
      description = "Seed of the population. Default: ${DEFAULT-VALUE}.")
  long seed = AssessmentChoice.SEED;

  @Option(
      names = "--sense",
      paramLabel = "KEY=VALUE",
      description = "A value of the settings section sense that differs from its default.")
  Map<String, String> sense = new LinkedHashMap<>();

  @Option(
      names = "--out",
      paramLabel = "DIR",
      description = "Directory for assessment.html (tables and pictures) and assessment.json.")
  @Nullable Path out;

  @Option(
      names = "--fit",
      paramLabel = "FILE",
      description =
          "Trains the weights of the depth estimate and writes a weights file, without trials."
              + " Takes an hour and a half or more on two cores and 8 GB of memory"
              + " (STOPWELL_JAVA_OPTS=-Xmx8g).")
  @Nullable Path fit;

  @Option(
      names = "--traces",
      paramLabel = "DIR",
      description =
          "Writes a survey of simulated teeth in place of trials: CSV traces with the truth and"
              + " manifest.csv, as learn and replay read them.")
  @Nullable Path traces;

  @Option(
      names = "--teeth",
      paramLabel = "N",
      description = "Teeth of --traces. Default: ${DEFAULT-VALUE}.")
  int teeth = 20;

  @Option(
      names = "--canal",
      paramLabel = "KIND",
      description =
          "Model of the teeth of --traces: tooth, lumped, meshed or field. Default:"
              + " ${DEFAULT-VALUE}.")
  String canal = "tooth";

  @Option(
      names = "--sample-ms",
      paramLabel = "MS",
      description = "Time between two samples of --traces. Default: ${DEFAULT-VALUE}.")
  int sampleMs = 20;

  @Option(
      names = "--families",
      description =
          "Trains once for each family of teeth without it, and tries the result on it. No file is"
              + " written.")
  boolean families;

  @Option(
      names = "--canals",
      paramLabel = "N",
      description =
          "With --fit and --families: training canals of each family that is quick to solve. Default:"
              + " ${DEFAULT-VALUE}.")
  int canals = Training.CANALS;

  @Mixin JsonOption json = new JsonOption();

  /** A condition by its word. */
  static final class ConditionWord implements ITypeConverter<CanalCondition> {
    @Override
    public CanalCondition convert(String word) {
      return named(word, CanalCondition.values());
    }
  }

  /** An estimator by its word. */
  static final class EstimatorWord implements ITypeConverter<Estimator> {
    @Override
    public Estimator convert(String word) {
      return named(word, Estimator.values());
    }
  }

  private static <E> E named(String word, E[] all) {
    return Arrays.stream(all)
        .filter(one -> one.toString().equals(word))
        .findFirst()
        .orElseThrow(
            () -> {
              String known = Arrays.stream(all).map(Object::toString).collect(joining(", "));
              return new TypeConversionException(word + " is not one of " + known);
            });
  }

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    PrintWriter err = err();
    Range.check("--canals", canals, 1, 1_000_000);
    if (fit != null) {
      Training training = new Training(canals, err::println);
      Files.writeString(fit, DepthWeightsText.encode(training.weights(Build.version())));
      return 0;
    }
    if (traces != null) {
      return survey(traces, screen);
    }
    if (families) {
      screen.print(new LeftOut(canals, err::println).text());
      return 0;
    }
    Range.check("--trials", trials, 2, 1_000_000);
    if (seed == Training.SEED) {
      throw new UsageException("--seed " + seed + " is the seed of the training; use another");
    }
    AssessmentChoice choice = new AssessmentChoice(seed, trials, sense, conditions, estimators);
    if (choice.allTrials() == 0) {
      throw new UsageException(
          "nothing to try: the ratio learns nothing about a canal, so --condition "
              + conditions.get(0)
              + " needs --estimator approach");
    }
    AssessmentResult result = run(choice, err);
    if (out != null) {
      AssessmentPage.write(result, out);
    }
    screen.print(json.wanted ? result.json() : result.text());
    return 0;
  }

  /** Writes traces: one for each tooth and condition. */
  private int survey(Path directory, PrintWriter screen) throws Exception {
    Range.check("--teeth", teeth, 1, SurveyTraces.MOST_TEETH);
    Range.check("--sample-ms", sampleMs, 1, 500);
    if (!SurveyTraces.KINDS.contains(canal)) {
      throw new UsageException(
          "--canal " + canal + " is not one of " + String.join(", ", SurveyTraces.KINDS));
    }
    List<CanalCondition> fluids = conditions.isEmpty() ? SurveyTraces.FLUIDS : conditions;
    if (!SurveyTraces.FLUIDS.containsAll(fluids)) {
      throw new UsageException(
          "--condition of --traces: "
              + SurveyTraces.FLUIDS.stream().map(CanalCondition::toString).collect(joining(", ")));
    }
    SurveyTraces survey = new SurveyTraces(seed, canal, sampleMs);
    int written;
    try (Progress progress = Progress.of("traces", (long) teeth * fluids.size(), 0)) {
      written = survey.write(directory, teeth, fluids, () -> progress.add(1));
    } catch (IOException e) {
      throw new UsageException(
          "--traces " + directory + ": cannot be written: " + InputFile.reason(e));
    }
    screen.println(
        written + " simulated traces of " + teeth + " teeth and manifest.csv in " + directory);
    return 0;
  }

  private static AssessmentResult run(AssessmentChoice choice, PrintWriter err)
      throws UsageException {
    try (Progress progress = Progress.of(choice.allTrials(), 0)) {
      return new Assessment(choice)
          .run(condition -> progress.say(condition, err), () -> progress.add(1));
    } catch (SettingsException e) {
      throw new UsageException("--sense " + e.getMessage());
    }
  }
}
