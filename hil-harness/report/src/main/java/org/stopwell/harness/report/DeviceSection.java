package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.Predicate;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.TrialResult;

/**
 * Devices that this program does not control: results by device, unit, operator, setting and feed,
 * devices paired by tooth, repeatability and reproducibility, and settings against millimetres.
 */
final class DeviceSection {
  /** Levels of a factor with a row each at most; assumed: more is no factor. */
  private static final int MOST_LEVELS = 30;

  private final DeviceTrials trials;

  private DeviceSection(DeviceTrials trials) {
    this.trials = trials;
  }

  static Optional<Content> of(Report report) {
    DeviceTrials trials = new DeviceTrials(report);
    return trials.analysed.isEmpty() ? Optional.empty() : new DeviceSection(trials).section();
  }

  private Optional<Content> section() {
    DeviceSettings settings = new DeviceSettings(trials);
    List<Content> parts = new ArrayList<>();
    parts.add(Html.paragraph(rule()));
    parts.add(Html.table(factors()));
    pairs().ifPresent(table -> parts.add(Html.table(table)));
    parts.add(Html.table(new DevicePrecision(trials).table()));
    parts.add(settings.figure());
    parts.add(Html.table(settings.table()));
    overshoot().ifPresent(table -> parts.add(Html.table(table)));
    return Html.section("device-section", "Devices, units and operators", Html.all(parts));
  }

  /** The decision rule that ISO/IEC 17025, 7.8.6 asks a report to state. */
  private String rule() {
    RunHeader header = trials.report.header();
    if (!header.origin().imported() && !header.bench().simulated()) {
      return "Decision rule (ISO/IEC 17025, 7.8.6): guarded acceptance and rejection (JCGM 106, 8.3)."
          + " The guard band is U95 of the uncertainty budget of this bench, on both sides of the"
          + " limit.";
    }
    int u = header.origin().uncertaintyMicrons();
    if (u == 0) {
      return "Decision rule (ISO/IEC 17025, 7.8.6): simple acceptance. No uncertainty of a distance is"
          + " stated, so a stop conforms when its measured error lies within the tolerance.";
    }
    long[] zones = BenchSection.zones(header, trials.report.trials(), u);
    return "Decision rule (ISO/IEC 17025, 7.8.6): guarded acceptance and rejection (JCGM 106, 8.3) with"
        + " a guard band of U95 = "
        + Numbers.plainMillimetres(u)
        + " on both sides of the limit. A stop conforms when its error is at most the tolerance less"
        + " U95, and does not when it is above the tolerance plus U95. Between them it is not decided and"
        + " is no hit for a claim. "
        + zones[0]
        + " stops conform, "
        + zones[1]
        + " are not decided, "
        + zones[2]
        + " do not conform.";
  }

  private Table factors() {
    Table table =
        new Table(
                "Table of factors",
                "Results by level of each factor"
                    + trials.report.label()
                    + ". Each tooth counts as one number in the 95 % interval of the mean and in the"
                    + " one-sided 95 % bounds. Within tolerance: of all valid trials. Past the"
                    + " foramen: of the driven ones."
                    + (trials.report.coded() ? " Units are hidden while devices go by codes." : ""))
            .columns(Table.LEFT, "Factor", "Level")
            .columns(
                Table.NUMBER,
                "Teeth",
                "Stops",
                "Mean error",
                "SD",
                "Within tolerance",
                "Past the foramen");
    trials
        .ways()
        .forEach(
            (factor, level) -> {
              List<String> levels = trials.levels(level);
              if (levels.size() > 1 && levels.size() <= MOST_LEVELS) {
                levels.forEach(name -> row(table, factor, name, t -> level.apply(t).equals(name)));
              }
            });
    row(table, "all", "", t -> true);
    return table;
  }

  private void row(Table table, String factor, String level, Predicate<TrialResult> is) {
    List<TrialResult> own = trials.analysed.stream().filter(is).toList();
    List<TrialResult> stopped = trials.stops.stream().filter(is).toList();
    Collection<Moments> byTooth =
        DeviceTrials.byTooth(stopped, TrialResult::stopErrorMicrons).values();
    Moments errors = byTooth.stream().reduce(Moments.NONE, Moments::plus);
    List<TrialResult> driven =
        own.stream().filter(t -> trials.report.condition(t).isAtRisk(t)).toList();
    Collection<Proportion> within =
        DeviceTrials.shares(
            own, t -> ConditionSummary.isWithin(t, trials.report.condition(t).toleranceMicrons()));
    Collection<Proportion> past =
        DeviceTrials.shares(driven, t -> trials.report.condition(t).isOverTravel(t));
    table.row(
        List.of(
            Table.Cell.of(factor),
            Table.Cell.of(level),
            Table.Cell.of(Long.toString(DeviceTrials.teeth(own))),
            Table.Cell.of(Integer.toString(stopped.size())),
            Table.Cell.of(
                Numbers.signedMillimetres(ClusteredMean.mean(byTooth)),
                Numbers.millimetres(ClusteredMean.interval(byTooth, DeviceTrials.CONFIDENCE))),
            Table.Cell.of(Headline.spread(errors)),
            Table.Cell.of(
                Headline.counted(Headline.sum(List.copyOf(within))),
                within.isEmpty()
                    ? ""
                    : "at least "
                        + Numbers.lowerPercent(
                            OptionalDouble.of(
                                BoundedMean.lower(
                                    BoundedMean.shares(within), DeviceTrials.CONFIDENCE)))),
            Table.Cell.of(
                Headline.counted(Headline.sum(List.copyOf(past))),
                past.isEmpty()
                    ? ""
                    : "at most "
                        + Numbers.upperPercent(
                            OptionalDouble.of(
                                BoundedMean.upper(
                                    BoundedMean.shares(past), DeviceTrials.CONFIDENCE))))));
  }

  /** Each two devices on the teeth where both stopped, at equal claimed distances. */
  private Optional<Table> pairs() {
    List<String> devices = trials.levels(trials::device);
    int pairs = devices.size() * (devices.size() - 1) / 2;
    if (pairs == 0 || devices.size() > 8) {
      return Optional.empty();
    }
    double confidence = 1 - (1 - DeviceTrials.CONFIDENCE) / pairs;
    Table table =
        new Table(
                "Table of devices in pairs",
                "Devices in pairs, by tooth"
                    + trials.report.label()
                    + ": mean stop error of the first less that of the second on teeth where both"
                    + " stopped at the same claimed distance. Student's interval of the teeth,"
                    + " "
                    + Numbers.plainPercent(DeviceTrials.CONFIDENCE)
                    + " for all pairs together (Bonferroni).")
            .columns(Table.LEFT, "Devices")
            .columns(Table.NUMBER, "Teeth", "Mean difference", "Interval", "SD of differences");
    for (int i = 0; i < devices.size(); i++) {
      for (int j = i + 1; j < devices.size(); j++) {
        double[] d = differences(devices.get(i), devices.get(j));
        double mean = java.util.Arrays.stream(d).average().orElse(Double.NaN);
        double sd =
            Math.sqrt(
                java.util.Arrays.stream(d).map(x -> (x - mean) * (x - mean)).sum()
                    / (d.length - 1.0));
        Optional<Interval> interval =
            d.length > 1 && sd > 0
                ? Optional.of(
                    new Equivalence(mean, sd / Math.sqrt(d.length), d.length - 1.0, 1)
                        .interval((1 - confidence) / 2))
                : Optional.empty();
        table.row(
            devices.get(i) + " less " + devices.get(j),
            Integer.toString(d.length),
            d.length == 0 ? Numbers.NOT_ESTIMABLE : Numbers.signedMillimetres(mean),
            Numbers.millimetres(interval),
            d.length > 1 ? Words.millimetres(sd) : Numbers.NOT_ESTIMABLE);
      }
    }
    return Optional.of(table);
  }

  private double[] differences(String one, String other) {
    Map<String, Map<Integer, Moments>> first = byToothAndDistance(one);
    Map<String, Map<Integer, Moments>> second = byToothAndDistance(other);
    List<Double> all = new ArrayList<>();
    first.forEach(
        (tooth, distances) -> {
          Map<Integer, Moments> beside = second.getOrDefault(tooth, Map.of());
          distances.entrySet().stream()
              .filter(e -> beside.containsKey(e.getKey()))
              .mapToDouble(
                  e ->
                      e.getValue().mean().orElseThrow()
                          - beside.getOrDefault(e.getKey(), Moments.NONE).mean().orElseThrow())
              .average()
              .ifPresent(all::add);
        });
    return all.stream().mapToDouble(Double::doubleValue).toArray();
  }

  private Map<String, Map<Integer, Moments>> byToothAndDistance(String device) {
    Map<String, Map<Integer, Moments>> all = new TreeMap<>();
    trials.stops.stream()
        .filter(t -> trials.device(t).equals(device))
        .forEach(
            t ->
                all.computeIfAbsent(t.device().tooth(), k -> new TreeMap<>())
                    .merge(
                        trials.report.condition(t).standoffMicrons(),
                        Moments.of(t.stopErrorMicrons(), 1),
                        Moments::plus));
    return all;
  }

  /** How far the file went on after the rotation had ended. */
  private Optional<Table> overshoot() {
    if (trials.report.coded() || trials.stops.isEmpty()) {
      return Optional.empty();
    }
    Table table =
        new Table(
                "Table of overshoot",
                "Overshoot"
                    + trials.report.label()
                    + ": from where the rotation ended to the deepest point, with the 95 % interval of"
                    + " the mean by teeth.")
            .columns(Table.LEFT, "Device", "Feed")
            .columns(Table.NUMBER, "Teeth", "Stops", "Mean overshoot", "Greatest");
    Function<TrialResult, String> feed =
        java.util.Objects.requireNonNull(trials.ways().get("feed"));
    for (String device : trials.levels(trials::device)) {
      TreeSet<String> feeds = new TreeSet<>();
      trials.stops.forEach(t -> feeds.add(feed.apply(t)));
      for (String each : feeds.size() > MOST_LEVELS ? List.<String>of() : List.copyOf(feeds)) {
        List<TrialResult> own =
            trials.stops.stream()
                .filter(t -> trials.device(t).equals(device) && feed.apply(t).equals(each))
                .toList();
        if (own.isEmpty()) {
          continue;
        }
        Collection<Moments> byTooth = DeviceTrials.byTooth(own, DeviceSection::overshoot).values();
        table.row(
            List.of(
                Table.Cell.of(device),
                Table.Cell.of(each.isEmpty() ? "not stated" : each),
                Table.Cell.of(Long.toString(DeviceTrials.teeth(own))),
                Table.Cell.of(Integer.toString(own.size())),
                Table.Cell.of(
                    Numbers.millimetres(ClusteredMean.mean(byTooth)),
                    Numbers.millimetres(ClusteredMean.interval(byTooth, DeviceTrials.CONFIDENCE))),
                Table.Cell.of(
                    Numbers.plainMillimetres(
                        own.stream().mapToInt(DeviceSection::overshoot).max().orElse(0)))));
      }
    }
    return table.rows().isEmpty() ? Optional.empty() : Optional.of(table);
  }

  private static int overshoot(TrialResult t) {
    return t.device().turnedUntilMicrons() - t.deepestMicrons();
  }
}
