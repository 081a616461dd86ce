package org.stopwell.harness.tune;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.plan.TunedSettings;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.trial.Verdict;

/** What the numbers of a tuning say, in sentences. */
final class TuneFindings {
  private final TuneResult result;
  private final Tuning tuning;
  private final boolean searched;
  private final TuneTarget target;
  private final List<String> sentences = new ArrayList<>();

  TuneFindings(TuneResult result, Tuning tuning, boolean searched) {
    this.result = result;
    this.tuning = tuning;
    this.searched = searched;
    this.target = tuning.target();
  }

  List<String> sentences() {
    if (!result.complete()) {
      long points = result.tried().stream().filter(t -> t.measured().trials() > 0).count();
      sentences.add(
          "The work was interrupted after "
              + points
              + " of "
              + result.planned()
              + " points"
              + (searched ? ", in the judgement" : "")
              + ". Nothing is judged; the best point so far is shown.");
    }
    result.limits().forEach(this::limit);
    if (result.tried().size() > 1) {
      choice();
    }
    result.tuned().ifPresent(this::price);
    result.tuned().ifPresent(this::optimism);
    result.tuned().ifPresent(this::neighbours);
    ends();
    standoff();
    plan();
    if (result.complete() && !tuning.hasNeighbours()) {
      sentences.add("More than four factors are tuned: neighbours are not judged.");
    }
    return sentences;
  }

  private void limit(TuneResult.Decided d) {
    TuneTarget.Measure m = d.limit().measure();
    String limit = "; the limit is " + TuneWords.value(m, d.limit().atMost()) + ".";
    sentences.add(
        switch (d.verdict()) {
          case PASS ->
              "Target reached: "
                  + m.words()
                  + " at most "
                  + TuneWords.value(m, d.high())
                  + " with 95 % confidence"
                  + limit;
          case FAIL ->
              "Target not reached: "
                  + m.words()
                  + " at least "
                  + TuneWords.value(m, d.low())
                  + " with 95 % confidence"
                  + limit;
          default ->
              Double.isNaN(d.value())
                  ? "Not decided: " + m.words() + " cannot be estimated" + limit
                  : "Not decided by "
                      + target.freshCanals()
                      + " canals: "
                      + m.words()
                      + " between "
                      + TuneWords.value(m, d.low())
                      + " and "
                      + TuneWords.value(m, d.high())
                      + limit
                      + " Raise fresh_canals.";
        });
  }

  private void choice() {
    Tried chosen = result.chosen();
    if (!chosen.meets()) {
      sentences.add(
          "No point tried keeps every limit with the margin that the judgement needs, on the tuning"
              + " canals. The nearest one is chosen.");
    }
    if (!result.isChanged()) {
      sentences.add("No point tried is better than the old settings. They stay.");
    }
  }

  private void price(TuneResult.Judged tuned) {
    if (tuned.role() == TuneResult.Role.OLD) {
      return;
    }
    for (Paired p : tuned.paired()) {
      boolean asked =
          p.measure() == target.minimise()
              || target.limits().stream().anyMatch(l -> l.measure() == p.measure());
      String change =
          p.measure().words() + " " + TuneWords.difference(p) + " against the old settings.";
      if (p.isMore()) {
        sentences.add("Price: " + change + (asked ? "" : " The target does not limit it."));
      } else if (p.isLess()) {
        sentences.add("Gain: " + change);
      } else if (p.measure() == target.minimise()) {
        sentences.add("No difference is shown: " + change);
      }
    }
  }

  /** A search on few canals can miss settings beside its own that keep the limits too. */
  private void neighbours(TuneResult.Judged tuned) {
    double goal =
        tuned
            .measured()
            .interval(target.minimise(), 0.95)
            .map(Interval::low)
            .orElse(Double.NEGATIVE_INFINITY);
    for (TuneResult.Judged j : result.judged()) {
      boolean better =
          j.measured().interval(target.minimise(), 0.95).map(i -> i.high() < goal).orElse(false);
      boolean keeps =
          TuneResult.decide(target, j.measured()).stream()
              .allMatch(d -> d.verdict() == Verdict.PASS);
      if (j.role() == TuneResult.Role.NEIGHBOUR && better && keeps) {
        sentences.add(
            "The search missed better settings: a neighbour ("
                + String.join(", ", j.texts())
                + ") keeps every limit on the fresh canals too, with "
                + target.minimise().words()
                + " "
                + TuneWords.withInterval(target.minimise(), j.measured())
                + ". Raise repeats and trials.");
      }
    }
  }

  /** The winner of a search looks better on the canals of the search than it is. */
  private void optimism(TuneResult.Judged tuned) {
    List<TuneTarget.Measure> asked = new ArrayList<>();
    target.limits().forEach(l -> asked.add(l.measure()));
    asked.add(target.minimise());
    for (TuneTarget.Measure measure : asked) {
      double before = result.chosen().measured().value(measure);
      boolean worse =
          tuned.measured().interval(measure, 0.95).map(i -> before < i.low()).orElse(false);
      if (worse) {
        sentences.add(
            "Overfitted: "
                + measure.words()
                + " "
                + TuneWords.value(measure, before)
                + " on the "
                + tuning.canals()
                + " tuning canals, "
                + TuneWords.withInterval(measure, tuned.measured())
                + " on fresh canals. More repeats make the search less optimistic.");
      }
    }
  }

  private void ends() {
    for (int i = 0; i < tuning.tuned().size(); i++) {
      Factor factor = tuning.tuned().get(i);
      long value = result.chosen().settings().get(i);
      if (factor.shape() != Factor.Shape.CHOICE
          && (value == factor.low() || value == factor.high())) {
        sentences.add(
            factor.key()
                + " is at the end of its range, "
                + factor.spread()
                + ": a wider range can be better.");
      }
    }
  }

  private void plan() {
    for (Factor factor : tuning.tuned()) {
      if (TunedSettings.isStatedByPlan(result.space(), factor)) {
        sentences.add(
            "Condition "
                + result.space().condition().name()
                + " of the plan states "
                + factor.key()
                + " itself, and a level of a plan replaces the value of a settings file. Change it"
                + " there too.");
      }
    }
  }

  private void standoff() {
    if (result.keys().stream().anyMatch(key -> key.endsWith(".standoff_mm"))) {
      sentences.add(
          "standoff_mm is tuned. Early stops and stop errors count from the standoff (set distance"
              + " short of the foramen), so they do not show that a file stops further from the"
              + " foramen.");
    }
  }

  /** The verdict in a few words. */
  static String verdict(Verdict verdict) {
    return switch (verdict) {
      case PASS -> "target reached";
      case FAIL -> "target not reached";
      default -> "not decided";
    };
  }
}
