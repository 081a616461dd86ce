package org.stopwell.harness.assess;

import static java.util.stream.Collectors.joining;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.stats.Proportion;
import tools.jackson.jr.ob.JSON;

/** The result of an assessment as numbers, text and JSON. */
public final class AssessmentResult {
  /** The label of every view. */
  public static final String LABEL =
      "Simulated. Bench and research use only; not a medical device; not for use on a person.";

  private final AssessmentChoice choice;
  private final ParameterValues limits;
  private final List<Scorecard> cards;
  private final List<VisitOutcome> leaks;

  AssessmentResult(
      AssessmentChoice choice,
      ParameterValues limits,
      List<Scorecard> cards,
      List<VisitOutcome> leaks) {
    this.choice = choice;
    this.limits = limits;
    this.cards = List.copyOf(cards);
    this.leaks = List.copyOf(leaks);
  }

  /**
   * What the numbers are of.
   *
   * @return one sentence per line
   */
  public List<String> head() {
    return List.of(
        "Population seed " + choice.seed() + ", members 0 to " + (choice.trials() - 1) + ".",
        "The members take the families of teeth in turn: "
            + Family.ON_THE_BENCH.stream().map(Family::word).collect(joining(", "))
            + ".",
        "A stop is judged by its distance from the standoff, which is the set distance short of the"
            + " foramen (0.5 mm).",
        "Brackets: exact 95 % interval (Clopper and Pearson).",
        "The decision is the moment at which the controller decides to stop. A stated bound holds"
            + " where reading and truth differ by no more than it.",
        Scorecard.SURE_AND_WRONG + ".");
  }

  /**
   * The tables for a screen.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder(LABEL).append('\n');
    head().forEach(line -> out.append(line).append('\n'));
    for (Scorecard card : cards) {
      out.append('\n').append(card.tried()).append(", ").append(card.where()).append('\n');
      List<String> cells = card.cells();
      for (int i = 0; i < cells.size(); i++) {
        out.append(String.format("  %-32s %s%n", Scorecard.HEADINGS.get(i), cells.get(i)));
      }
    }
    return out.toString();
  }

  /**
   * The tables for a machine.
   *
   * @return one JSON object
   * @throws IOException never
   */
  public String json() throws IOException {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("simulated", true);
    all.put("seed", choice.seed());
    all.put("trials", choice.trials());
    all.put("results", cards.stream().map(Scorecard::json).toList());
    return JSON.std.asString(all) + "\n";
  }

  /**
   * The numbers of one estimator in one condition.
   *
   * @param title estimator and condition
   * @param models the families, one column each
   * @param rows each with its heading and a cell for every family
   */
  public record Group(String title, List<String> models, List<List<String>> rows) {}

  /**
   * The tables, one for each estimator and condition.
   *
   * @return in the order of the assessment
   */
  public List<Group> groups() {
    List<Group> groups = new ArrayList<>();
    int models = Family.ON_THE_BENCH.size();
    for (int at = 0; at < cards.size(); at += models) {
      List<Scorecard> own = cards.subList(at, at + models);
      List<List<String>> rows = new ArrayList<>();
      for (int row = 0; row < Scorecard.HEADINGS.size(); row++) {
        List<String> cells = new ArrayList<>(List.of(Scorecard.HEADINGS.get(row)));
        for (Scorecard card : own) {
          cells.add(card.cells().get(row));
        }
        rows.add(cells);
      }
      groups.add(new Group(own.get(0).tried(), own.stream().map(Scorecard::where).toList(), rows));
    }
    return groups;
  }

  /**
   * The hits of one estimator in one condition and family.
   *
   * @param tried estimator and condition
   * @param family the family of teeth
   * @param within stops at rest within 0.5 mm of the standoff, of all stops
   * @param past trials past the foramen, of those that were driven
   */
  public record Hits(String tried, String family, Proportion within, Proportion past) {}

  /**
   * The hits of everything that was tried.
   *
   * @return in the order of the assessment
   */
  public List<Hits> hits() {
    return cards.stream()
        .map(
            c ->
                new Hits(
                    c.tried(),
                    c.where(),
                    new Proportion(c.withinHalf(), c.stopped()),
                    new Proportion(c.past(), c.driven())))
        .toList();
  }

  /**
   * One trial with the estimate of an unknown canal.
   *
   * @param stopped whether the file was stopped at the standoff
   * @param leakMicroSiemens conductance around the canal at the end, µS
   * @param errorMicrons position at rest relative to the standoff, µm
   * @param boundMicrons stated 95 % bound of the reading at the decision, µm
   */
  public record Stop(
      boolean stopped, double leakMicroSiemens, int errorMicrons, int boundMicrons) {}

  /**
   * The trials with the estimate of an unknown canal on the family of the bench.
   *
   * @return empty when no such estimate was tried
   */
  public List<Stop> stops() {
    return leaks.stream()
        .map(o -> new Stop(o.stopped(), o.leakMicroSiemens(), o.errorMicrons(), o.boundMicrons()))
        .toList();
  }

  /**
   * Bound up to which a reading is {@code SURE}.
   *
   * @return mm
   */
  public double sureMm() {
    return StageParameters.TOLERANCE.defaultValue() * 1e-3;
  }

  /**
   * Bound above which a reading near the foramen is refused.
   *
   * @return mm
   */
  public double refuseMm() {
    return limits.get(SenseParameters.REFUSE_BOUND) * 1e-3;
  }
}
