package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.PrecisionLimits;
import org.stopwell.harness.trial.TrialResult;

/** Repeatability and reproducibility of the stops of devices (ISO 5725-2). */
final class DevicePrecision {
  private final DeviceTrials trials;

  DevicePrecision(DeviceTrials trials) {
    this.trials = trials;
  }

  /** The limits by factor. */
  Table table() {
    Table table =
        new Table(
                "Table of precision",
                "Repeatability and reproducibility of the stops"
                    + trials.report.label()
                    + " (ISO 5725-2). s_r: repeats on one tooth under equal conditions. s_R: another"
                    + " level of the factor on the same tooth. The limits r and R are "
                    + PrecisionLimits.FACTOR
                    + " times as large: two stops differ by more in 5 % of cases. Where no tooth was"
                    + " tried with two levels, each tooth is one number, and both include differences"
                    + " between teeth.")
            .columns(Table.LEFT, "Factor", "Compared on")
            .columns(Table.NUMBER, "s_r", "r", "s_R", "R", "Degrees of freedom");
    trials
        .ways()
        .forEach(
            (factor, level) -> {
              if (List.of("device", "unit", "operator").contains(factor)
                  && trials.levels(level).size() > 1) {
                limits(table, factor, level);
              }
            });
    if (table.rows().isEmpty()) {
      table.row("–", "one device, unit and operator", "–", "–", "–", "–", "–");
    }
    return table;
  }

  private void limits(Table table, String factor, Function<TrialResult, String> level) {
    Function<TrialResult, String> equal = equal(factor, level);
    Optional<PrecisionLimits> onTeeth =
        PrecisionLimits.of(blocks(t -> equal.apply(t) + " " + t.device().tooth(), level, false));
    Optional<PrecisionLimits> found =
        onTeeth.or(() -> PrecisionLimits.of(blocks(equal, level, true)));
    if (found.isEmpty()) {
      table.row(factor, Numbers.NOT_ESTIMABLE, "–", "–", "–", "–", "–");
      return;
    }
    PrecisionLimits p = found.get();
    double sr = p.repeatability().orElse(Double.NaN);
    double sR = p.reproducibility();
    table.row(
        factor,
        onTeeth.isPresent()
            ? Words.count(p.blocks(), "tooth at one setting", "teeth at one setting")
            : "other teeth for each level",
        Words.millimetres(sr),
        Words.millimetres(PrecisionLimits.FACTOR * sr),
        Words.millimetres(sR),
        Words.millimetres(PrecisionLimits.FACTOR * sR),
        p.withinFreedom() + " within, " + p.betweenFreedom() + " between");
  }

  /** What trials have in common that differ in one factor alone. */
  private Function<TrialResult, String> equal(String factor, Function<TrialResult, String> level) {
    Function<TrialResult, String> claimed =
        t -> Integer.toString(trials.report.condition(t).standoffMicrons());
    if (trials.report.header().origin().imported()) {
      return factor.equals("device") ? claimed : TrialResult::condition;
    }
    Set<Integer> free = places(level);
    return t ->
        String.join(
            " ",
            claimed.apply(t),
            without(t.condition(), free),
            factor.equals("device") ? "" : trials.device(t),
            factor.equals("operator") ? t.device().unit() : "");
  }

  /** The factors of the plan whose levels differ in this: places in the name of a condition. */
  private Set<Integer> places(Function<TrialResult, String> level) {
    Map<String, String> values = new TreeMap<>();
    trials.stops.forEach(t -> values.put(t.condition(), level.apply(t)));
    Set<Integer> places = new TreeSet<>();
    values.forEach(
        (one, first) ->
            values.forEach(
                (other, second) -> {
                  List<Integer> differ = differing(one.split("/", -1), other.split("/", -1));
                  if (!first.equals(second) && differ.size() == 1) {
                    places.add(differ.get(0));
                  }
                }));
    return places;
  }

  private static List<Integer> differing(String[] one, String[] other) {
    return IntStream.range(0, Math.min(one.length, other.length))
        .filter(i -> !one[i].equals(other[i]))
        .boxed()
        .toList();
  }

  private static String without(String condition, Set<Integer> places) {
    String[] levels = condition.split("/", -1);
    return IntStream.range(0, levels.length)
        .mapToObj(i -> places.contains(i) ? "" : levels[i])
        .collect(Collectors.joining("/"));
  }

  private List<List<Moments>> blocks(
      Function<TrialResult, String> block, Function<TrialResult, String> level, boolean teeth) {
    Map<String, Map<String, List<TrialResult>>> all = new TreeMap<>();
    trials.stops.forEach(
        t ->
            all.computeIfAbsent(block.apply(t), k -> new TreeMap<>())
                .computeIfAbsent(level.apply(t), k -> new ArrayList<>())
                .add(t));
    return all.values().stream()
        .map(cells -> cells.values().stream().map(c -> cell(c, teeth)).toList())
        .toList();
  }

  /** The stop errors of a cell; where teeth are the repeats, the mean of each tooth. */
  private static Moments cell(List<TrialResult> trials, boolean teeth) {
    Map<String, Moments> byTooth = DeviceTrials.byTooth(trials, TrialResult::stopErrorMicrons);
    return byTooth.values().stream()
        .map(m -> teeth ? Moments.of(Math.round(m.mean().orElseThrow()), 1) : m)
        .reduce(Moments.NONE, Moments::plus);
  }
}
