package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.tune.Paired;
import org.stopwell.harness.tune.TuneResult;
import org.stopwell.harness.tune.TuneWords;

/** The answer of a tuning for a terminal. */
public final class TuneLines {
  private TuneLines() {}

  /**
   * Prints the answer.
   *
   * @param result the answer
   * @param out receives the lines
   */
  public static void print(TuneResult result, Consumer<String> out) {
    out.accept(head(result));
    result.findings().forEach(out);
    out.accept("Settings:");
    table(settings(result), "l" + "r".repeat(result.judged().isEmpty() ? 2 : 3), out);
    out.accept("Tuned settings, the same on both kinds of canals [95 % interval]:");
    table(optimism(result), "lrr", out);
    if (result.judged().size() > 1) {
      out.accept("On fresh canals [95 % interval]:");
      table(judged(result), "lrrrr", out);
    }
  }

  private static void table(List<List<String>> rows, String alignment, Consumer<String> out) {
    TextTable table = new TextTable(alignment.substring(0, rows.get(0).size()));
    rows.forEach(row -> table.row(row.toArray(String[]::new)));
    table.print(out);
  }

  /** What was tuned, in one line. */
  static String head(TuneResult r) {
    TuneTarget target = r.space().target().orElseThrow();
    return r.space().head().name()
        + ": "
        + r.space().plan().head().name()
        + ", "
        + r.space().condition().name()
        + "; minimise "
        + target.minimise().words()
        + ", with "
        + String.join(
            ", ",
            target.limits().stream()
                .map(
                    l ->
                        l.measure().words()
                            + " at most "
                            + TuneWords.value(l.measure(), l.atMost()))
                .toList())
        + "; "
        + r.tried().size()
        + " points on "
        + r.space().head().repeats()
        + " canals, simulated";
  }

  /** Each tuned key with its old and its new value; the first row is the head. */
  static List<List<String>> settings(TuneResult r) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("key", "old", "tuned"));
    for (int i = 0; i < r.keys().size(); i++) {
      rows.add(
          List.of(r.keys().get(i), r.tried().get(0).texts().get(i), r.chosen().texts().get(i)));
    }
    return rows;
  }

  /** Each measure of the chosen settings on the tuning canals and on fresh ones. */
  static List<List<String>> optimism(TuneResult r) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(
        List.of(
            "measure",
            r.chosen().measured().trials() + " tuning canals",
            r.tuned().map(t -> t.measured().trials() + " fresh canals").orElse("not judged")));
    for (TuneTarget.Measure measure : TuneResult.measures()) {
      rows.add(
          List.of(
              measure.words(),
              TuneWords.value(measure, r.chosen().measured().value(measure)),
              r.tuned().map(t -> TuneWords.withInterval(measure, t.measured())).orElse("–")));
    }
    return rows;
  }

  /** Old, tuned and neighbouring settings on the same fresh canals. */
  static List<List<String>> judged(TuneResult r) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("settings", "past the foramen", "early stops", "refusals", "time, s"));
    for (TuneResult.Judged j : r.judged()) {
      rows.add(
          List.of(
              name(r, j),
              TuneWords.withInterval(TuneTarget.Measure.OVER_TRAVEL, j.measured()),
              TuneWords.withInterval(TuneTarget.Measure.EARLY_STOP, j.measured()),
              TuneWords.withInterval(TuneTarget.Measure.REFUSAL, j.measured()),
              TuneWords.value(
                  TuneTarget.Measure.TIME, j.measured().value(TuneTarget.Measure.TIME))));
    }
    return rows;
  }

  /** The tuned settings minus the old ones, canal by canal. */
  static List<List<String>> price(TuneResult r, TuneResult.Judged tuned) {
    List<List<String>> rows = new ArrayList<>();
    rows.add(List.of("measure", "tuned minus old", "only old", "only tuned"));
    for (Paired p : tuned.paired()) {
      boolean share = p.measure().isShare();
      rows.add(
          List.of(
              p.measure().words(),
              TuneWords.difference(p),
              share ? Long.toString(p.onlyOld()) : "–",
              share ? Long.toString(p.onlyHere()) : "–"));
    }
    return rows;
  }

  /** What distinguishes settings from the tuned ones. */
  private static String name(TuneResult r, TuneResult.Judged j) {
    if (j.role() != TuneResult.Role.NEIGHBOUR) {
      return j.role().key();
    }
    List<String> moved = new ArrayList<>();
    for (int i = 0; i < r.keys().size(); i++) {
      if (!j.texts().get(i).equals(r.chosen().texts().get(i))) {
        String key = r.keys().get(i);
        moved.add(key.substring(key.lastIndexOf('.') + 1) + " " + j.texts().get(i));
      }
    }
    return String.join(", ", moved);
  }
}
