package org.stopwell.harness.assess;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.stopwell.rig.population.Population.Fill;

/**
 * What the estimate is worth on a family of teeth that it has not seen: trained on the others,
 * tried on this one, for each family in turn. Readings of approaches, without motor and controller.
 */
public final class LeftOut {
  private static final double TOLERANCE_MM = 0.5;

  /** A row of the table. */
  private record Row(Family family, Fill fill, List<ApproachDecision> all) {
    private List<ApproachDecision> decided() {
      return all.stream().filter(ApproachDecision::decided).toList();
    }

    private List<ApproachDecision> sure() {
      return decided().stream().filter(d -> d.standardError() <= TOLERANCE_MM).toList();
    }

    private static double share(List<ApproachDecision> of, Predicate<ApproachDecision> that) {
      return of.isEmpty() ? Double.NaN : (double) of.stream().filter(that).count() / of.size();
    }

    private Map<String, Double> numbers() {
      Map<String, Double> all = new LinkedHashMap<>();
      List<ApproachDecision> decided = decided();
      List<ApproachDecision> sure = sure();
      all.put("decided", share(this.all, ApproachDecision::decided));
      all.put("within_0.5_mm", share(decided, d -> d.within(TOLERANCE_MM)));
      all.put("past", share(decided, d -> d.truth() < 0));
      all.put("covered", share(decided, d -> d.within(d.standardError())));
      all.put("sure", share(decided, sure::contains));
      all.put("sure_off_0.5_mm", share(sure, d -> !d.within(TOLERANCE_MM)));
      all.put("sure_off_1_mm", share(sure, d -> !d.within(2 * TOLERANCE_MM)));
      return all;
    }
  }

  private final List<Row> rows = new ArrayList<>();

  /**
   * Runs it.
   *
   * @param canals training canals of a family that costs little
   * @param progress receives a line for each step
   */
  public LeftOut(int canals, Consumer<String> progress) {
    new Training(canals, progress)
        .leaveOneOut()
        .forEach(
            (family, decisions) -> {
              for (Fill fill : List.of(Fill.HALF_WET, Fill.BRIMFUL, Fill.FLOODED)) {
                rows.add(
                    new Row(
                        family, fill, decisions.stream().filter(d -> d.fill() == fill).toList()));
              }
            });
  }

  /**
   * The table as text, in percent.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder(AssessmentResult.LABEL).append('\n');
    out.append("Trained without a family and tried on it; shares of approaches, in percent.\n\n");
    out.append(
        String.format(
            "%-8s %-9s %8s %8s %7s %6s %8s %6s %9s %7s%n",
            "family",
            "fluid",
            "canals",
            "decided",
            "within",
            "past",
            "covered",
            "sure",
            "of these",
            "of these"));
    out.append(
        String.format(
            "%-8s %-9s %8s %8s %7s %6s %8s %6s %9s %7s%n",
            "", "", "", "", "0.5 mm", "", "", "", "> 0.5 mm", "> 1 mm"));
    for (Row row : rows) {
      List<Double> all = List.copyOf(row.numbers().values());
      out.append(
          String.format(
              Locale.ROOT,
              "%-8s %-9s %8d %8.1f %7.1f %6.1f %8.1f %6.1f %9.1f %7.1f%n",
              row.family().word(),
              row.fill().name().toLowerCase(Locale.ROOT).replace('_', '-'),
              row.all().size(),
              100 * all.get(0),
              100 * all.get(1),
              100 * all.get(2),
              100 * all.get(3),
              100 * all.get(4),
              100 * all.get(5),
              100 * all.get(6)));
    }
    return out.toString();
  }
}
