package org.stopwell.harness.assess;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;

/** Runs both estimators through all conditions and tells what came of it. */
public final class AssessmentReport {
  private static final String LABEL =
      "Simulated. Bench and research use only; not a medical device; not for use on a person.";

  private static final double BOUND_MM = 0.5;
  private static final double BOUND_TOP_MM = 4;
  private static final int BOUND_READINGS = 25;

  /** Noise of a reading, 0.3 %, averaged over 20. */
  private static final double BOUND_NOISE = 0.0007;

  private static final int BOUND_MEMBERS = 200;

  private final long seed;
  private final boolean sideCanals;
  private final int trials;
  private final Map<String, String> sense;
  private final List<Condition> conditions;
  private final List<Estimator> estimators;
  private final List<Scorecard> cards = new ArrayList<>();
  private final List<String> bounds = new ArrayList<>();
  private final List<Outcome> flooded = new ArrayList<>();

  /**
   * An assessment that has not run.
   *
   * @param seed seed of the population
   * @param sideCanals whether some of its canals have a side canal
   * @param trials trials per estimator and condition, half of them by networks other than that of
   *     the training
   * @param sense values of the section {@code sense} that differ from their defaults
   * @param conditions the words of {@link #conditions} to try; all of them where none is named
   * @param estimators the words of {@link #estimators} to try; all of them where none is named
   */
  public AssessmentReport(
      long seed,
      boolean sideCanals,
      int trials,
      Map<String, String> sense,
      List<String> conditions,
      List<String> estimators) {
    this.seed = seed;
    this.sideCanals = sideCanals;
    this.trials = trials;
    this.sense = Map.copyOf(sense);
    this.conditions =
        Arrays.stream(Condition.values())
            .filter(condition -> conditions.isEmpty() || conditions.contains(condition.key()))
            .toList();
    this.estimators =
        Arrays.stream(Estimator.values())
            .filter(estimator -> estimators.isEmpty() || estimators.contains(estimator.words()))
            .toList();
  }

  /**
   * The words for the conditions.
   *
   * @return one for each
   */
  public static List<String> conditions() {
    return Arrays.stream(Condition.values()).map(Condition::key).toList();
  }

  /**
   * The words for the estimators.
   *
   * @return one for each
   */
  public static List<String> estimators() {
    return Arrays.stream(Estimator.values()).map(Estimator::words).toList();
  }

  /**
   * How many trials that are.
   *
   * @return trials of all estimators and conditions
   */
  public int allTrials() {
    int runs = 0;
    for (Condition condition : conditions) {
      for (Estimator estimator : estimators) {
        runs += estimator.tries(condition) ? 1 : 0;
      }
    }
    return Math.multiplyExact(runs, trials);
  }

  /**
   * Looks whether there are controllers with these values, before any trial.
   *
   * @throws SettingsException names the value that is wrong
   */
  public void check() throws SettingsException {
    Estimator.APPROACH.settings(firstScene(), sense);
  }

  /**
   * Runs all trials.
   *
   * @param progress told of every condition that begins
   * @param done told after every trial, by whichever thread ran it
   * @throws SettingsException never with this population
   */
  public void run(Consumer<String> progress, Runnable done) throws SettingsException {
    Assessment assessment = new Assessment(seed, sideCanals, trials, sense);
    for (Condition condition : conditions) {
      for (Estimator estimator : estimators) {
        if (!estimator.tries(condition)) {
          continue;
        }
        progress.accept(estimator.words() + ", " + condition.words);
        List<Outcome> outcomes = assessment.run(estimator, condition, done);
        for (Network network : Network.values()) {
          cards.add(Scorecard.of(estimator, condition, network, network.of(outcomes)));
        }
        if (estimator == Estimator.APPROACH && !condition.learned) {
          flooded.addAll(Network.TRAINING.of(outcomes));
        }
      }
    }
    InformationBound bound =
        new InformationBound(seed, BOUND_MM, BOUND_TOP_MM, BOUND_READINGS, BOUND_NOISE);
    for (Population.Fill fill :
        List.of(Population.Fill.HALF_WET, Population.Fill.BRIMFUL, Population.Fill.FLOODED)) {
      bounds.add(
          String.format(
              java.util.Locale.ROOT,
              "%s %.2f mm",
              fill.name().toLowerCase(java.util.Locale.ROOT).replace('_', '-'),
              bound.rms(BOUND_MEMBERS, fill)));
    }
  }

  /** What is possible at best, in a sentence. */
  private String bound() {
    return "Least standard error that any estimator can have "
        + BOUND_MM
        + " mm from the foramen on the network of the training (Bayesian Cramer-Rao, linearised,"
        + " root mean square of "
        + BOUND_MEMBERS
        + " canals): "
        + String.join(", ", bounds)
        + ".";
  }

  /** What was tried, in a sentence. */
  private String head() {
    return "Population seed "
        + seed
        + ", members 0 to "
        + (trials - 1)
        + ", even ones by the network of the training (training seed "
        + Training.SEED
        + ", "
        + Training.CANALS
        + " canals, half of them by networks drawn by chance), odd ones by turns by another and by a third network. "
        + (sideCanals
            ? "Some canals have a side canal, which no training canal by that network has. "
            : "")
        + "Exact 95 % bounds (Clopper and Pearson).";
  }

  /**
   * The table for a screen.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder(LABEL + "\n" + head() + "\n");
    for (Scorecard card : cards) {
      out.append('\n').append(card.estimator()).append(", ").append(card.where()).append('\n');
      List<String> cells = card.cells();
      for (int i = 0; i < cells.size(); i++) {
        out.append(String.format("  %-18s %s%n", Scorecard.HEADINGS.get(i), cells.get(i)));
      }
    }
    return out.append('\n').append(bound()).append('\n').toString();
  }

  /**
   * The table for a machine.
   *
   * @return one JSON object
   */
  public String json() {
    return "{\"simulated\": true, \"seed\": "
        + seed
        + ", \"side_canals\": "
        + sideCanals
        + ", \"trials\": "
        + trials
        + ", \"results\": [\n  "
        + cards.stream().map(Scorecard::json).collect(Collectors.joining(",\n  "))
        + "]}\n";
  }

  /**
   * Writes page, table and pictures.
   *
   * @param directory where to; made when it is not there
   * @throws IOException when they cannot be written
   * @throws SettingsException never with this population
   */
  public void write(Path directory) throws IOException, SettingsException {
    Files.createDirectories(directory);
    Pictures pictures = new Pictures(seed);
    ParameterValues limits = Estimator.APPROACH.settings(firstScene(), sense).section("sense");
    String leaks = "";
    // the ratio alone, or learned canals alone, leave nothing to draw
    if (!flooded.isEmpty()) {
      leaks =
          Pictures.leaks(
              flooded,
              limits.get(SenseParameters.SURE_ERROR) * 1e-3,
              limits.get(SenseParameters.REFUSE_ERROR) * 1e-3);
      write(directory.resolve("error-by-leak.svg"), leaks);
    }
    write(directory.resolve("impedance-by-fluid.svg"), pictures.fluids());
    write(directory.resolve("readings-and-leak.svg"), pictures.manifold());
    write(directory.resolve("assessment.json"), json());
    write(
        directory.resolve("assessment.html"),
        page(pictures.fluids() + pictures.manifold() + leaks));
  }

  private Scene firstScene() throws SettingsException {
    return new Population(seed).member(0, Population.Fill.HALF_WET, Training.FREQUENCIES);
  }

  private String page(String drawings) {
    StringBuilder rows = new StringBuilder();
    for (Scorecard card : cards) {
      rows.append("<tr><td>")
          .append(card.estimator().words())
          .append("</td><td>")
          .append(card.where())
          .append("</td><td>")
          .append(String.join("</td><td>", card.cells()))
          .append("</td></tr>\n");
    }
    return "<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\">"
        + "<title>Depth estimate assessed (simulated)</title><style>body{font-family:sans-serif;"
        + "margin:2em;max-width:90em}table{border-collapse:collapse;font-size:85%}"
        + "td,th{border:1px solid #bbb;padding:.3em .5em;text-align:left}svg{max-width:44em;"
        + "display:block}</style></head><body><h1>Depth estimate assessed (simulated)</h1><p>"
        + LABEL
        + "</p><p>"
        + head()
        + "</p><table><tr><th>estimator</th><th>condition</th><th>"
        + String.join("</th><th>", Scorecard.HEADINGS)
        + "</th></tr>\n"
        + rows
        + "</table>\n<p>"
        + bound()
        + "</p>\n"
        + drawings
        + "</body></html>\n";
  }

  private static void write(Path file, String text) throws IOException {
    Files.writeString(file, text, StandardCharsets.UTF_8);
  }
}
