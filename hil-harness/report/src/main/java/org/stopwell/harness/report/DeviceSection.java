package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.ToLongFunction;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.stopwell.harness.budget.ConstrictionBudget;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.ClusteredMean;
import org.stopwell.harness.stats.Equivalence;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.PrecisionLimits;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.TrialResult;

/**
 * Devices that this program does not control: results by device, unit, operator, setting and feed,
 * devices paired by tooth, repeatability and reproducibility, and settings against millimetres.
 */
final class DeviceSection {
  /** Levels of a factor with a row each at most; assumed: more is no factor. */
  private static final int MOST_LEVELS = 30;

  private static final double CONFIDENCE = 0.95;

  private final Report report;
  private final List<TrialResult> analysed;
  private final List<TrialResult> stops;

  private DeviceSection(Report report) {
    this.report = report;
    analysed =
        report.trials().stream()
            .filter(TrialResult::isOfDevice)
            .filter(t -> ConditionSummary.isAnalysed(t.verdict()))
            .toList();
    stops = analysed.stream().filter(TrialResult::stopped).toList();
  }

  static Optional<Content> of(Report report) {
    DeviceSection section = new DeviceSection(report);
    return section.analysed.isEmpty() ? Optional.empty() : section.section();
  }

  private Optional<Content> section() {
    List<Content> parts = new ArrayList<>();
    parts.add(Html.paragraph(rule()));
    parts.add(Html.table(factors()));
    pairs().ifPresent(table -> parts.add(Html.table(table)));
    parts.add(Html.table(limits()));
    parts.add(settingsFigure());
    parts.add(Html.table(settings()));
    overshoot().ifPresent(table -> parts.add(Html.table(table)));
    return Html.section("device-section", "Devices, units and operators", Html.all(parts));
  }

  /** The decision rule that ISO/IEC 17025, 7.8.6 asks a report to state. */
  private String rule() {
    RunHeader header = report.header();
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
    long[] zones = BenchSection.zones(header, report.trials(), u);
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

  private String device(TrialResult t) {
    Device stated = report.header().design().devices().get(t.condition());
    return stated != null ? stated.model() : report.choice().level(t.condition(), "device");
  }

  private String setting(TrialResult t) {
    Device stated = report.header().design().devices().get(t.condition());
    return stated != null ? stated.setting() : report.choice().level(t.condition(), "setting");
  }

  private Map<String, Function<TrialResult, String>> ways() {
    Map<String, Function<TrialResult, String>> ways = new LinkedHashMap<>();
    ways.put("device", this::device);
    ways.put("unit", t -> t.device().unit());
    ways.put("operator", t -> t.device().operator());
    ways.put("setting", this::setting);
    ways.put(
        "feed",
        t ->
            t.device().feedMicronsPerSecond() == 0
                ? ""
                : Words.decimals(2, t.device().feedMicronsPerSecond() / 1e3) + " mm/s");
    return ways;
  }

  private Table factors() {
    Table table =
        new Table(
                "Table of factors",
                "Results by level of each factor"
                    + report.label()
                    + ". Each tooth counts as one number in the 95 % interval of the mean and in the"
                    + " one-sided 95 % bounds. Within tolerance: of all valid trials. Past the"
                    + " foramen: of the driven ones."
                    + (report.coded() ? " Units are hidden while devices go by codes." : ""))
            .columns(Table.LEFT, "Factor", "Level")
            .columns(
                Table.NUMBER,
                "Teeth",
                "Stops",
                "Mean error",
                "SD",
                "Within tolerance",
                "Past the foramen");
    ways()
        .forEach(
            (factor, level) -> {
              List<String> levels = levels(level);
              if (levels.size() > 1 && levels.size() <= MOST_LEVELS) {
                levels.forEach(name -> row(table, factor, name, t -> level.apply(t).equals(name)));
              }
            });
    row(table, "all", "", t -> true);
    return table;
  }

  private List<String> levels(Function<TrialResult, String> level) {
    TreeSet<String> levels = new TreeSet<>();
    analysed.forEach(t -> levels.add(level.apply(t)));
    levels.remove("");
    return List.copyOf(levels);
  }

  private void row(Table table, String factor, String level, Predicate<TrialResult> is) {
    List<TrialResult> own = analysed.stream().filter(is).toList();
    List<TrialResult> stopped = stops.stream().filter(is).toList();
    Collection<Moments> byTooth = byTooth(stopped, TrialResult::stopErrorMicrons).values();
    Moments errors = byTooth.stream().reduce(Moments.NONE, Moments::plus);
    List<TrialResult> driven = own.stream().filter(t -> report.condition(t).isAtRisk(t)).toList();
    Collection<Proportion> within =
        shares(own, t -> ConditionSummary.isWithin(t, report.condition(t).toleranceMicrons()));
    Collection<Proportion> past = shares(driven, t -> report.condition(t).isOverTravel(t));
    table.row(
        List.of(
            Table.Cell.of(factor),
            Table.Cell.of(level),
            Table.Cell.of(Long.toString(teeth(own))),
            Table.Cell.of(Integer.toString(stopped.size())),
            Table.Cell.of(
                Numbers.signedMillimetres(ClusteredMean.mean(byTooth)),
                Numbers.millimetres(ClusteredMean.interval(byTooth, CONFIDENCE))),
            Table.Cell.of(Headline.spread(errors)),
            Table.Cell.of(
                Headline.counted(Headline.sum(List.copyOf(within))),
                within.isEmpty()
                    ? ""
                    : "at least "
                        + Numbers.lowerPercent(
                            OptionalDouble.of(
                                BoundedMean.lower(BoundedMean.shares(within), CONFIDENCE)))),
            Table.Cell.of(
                Headline.counted(Headline.sum(List.copyOf(past))),
                past.isEmpty()
                    ? ""
                    : "at most "
                        + Numbers.upperPercent(
                            OptionalDouble.of(
                                BoundedMean.upper(BoundedMean.shares(past), CONFIDENCE))))));
  }

  private static long teeth(List<TrialResult> trials) {
    return trials.stream().map(t -> t.device().tooth()).distinct().count();
  }

  private static Map<String, Moments> byTooth(
      List<TrialResult> trials, ToLongFunction<TrialResult> microns) {
    Map<String, Moments> all = new TreeMap<>();
    trials.forEach(
        t -> all.merge(t.device().tooth(), Moments.of(microns.applyAsLong(t), 1), Moments::plus));
    return all;
  }

  private static Collection<Proportion> shares(
      List<TrialResult> trials, Predicate<TrialResult> hit) {
    Map<String, Proportion> all = new TreeMap<>();
    trials.forEach(
        t ->
            all.merge(
                t.device().tooth(),
                new Proportion(hit.test(t) ? 1 : 0, 1),
                (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials())));
    return all.values();
  }

  /** Each two devices on the teeth where both stopped, at equal claimed distances. */
  private Optional<Table> pairs() {
    List<String> devices = levels(this::device);
    int pairs = devices.size() * (devices.size() - 1) / 2;
    if (pairs == 0 || devices.size() > 8) {
      return Optional.empty();
    }
    double confidence = 1 - (1 - CONFIDENCE) / pairs;
    Table table =
        new Table(
                "Table of devices in pairs",
                "Devices in pairs, by tooth"
                    + report.label()
                    + ": mean stop error of the first less that of the second on teeth where both"
                    + " stopped at the same claimed distance. Student's interval of the teeth,"
                    + " "
                    + Numbers.plainPercent(CONFIDENCE)
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
    stops.stream()
        .filter(t -> device(t).equals(device))
        .forEach(
            t ->
                all.computeIfAbsent(t.device().tooth(), k -> new TreeMap<>())
                    .merge(
                        report.condition(t).standoffMicrons(),
                        Moments.of(t.stopErrorMicrons(), 1),
                        Moments::plus));
    return all;
  }

  private Table limits() {
    Table table =
        new Table(
                "Table of precision",
                "Repeatability and reproducibility of the stops"
                    + report.label()
                    + " (ISO 5725-2). s_r: repeats on one tooth under equal conditions. s_R: another"
                    + " level of the factor on the same tooth. The limits r and R are "
                    + PrecisionLimits.FACTOR
                    + " times as large: two stops differ by more in 5 % of cases. Where no tooth was"
                    + " tried with two levels, each tooth is one number, and both include differences"
                    + " between teeth.")
            .columns(Table.LEFT, "Factor", "Compared on")
            .columns(Table.NUMBER, "s_r", "r", "s_R", "R", "Degrees of freedom");
    ways()
        .forEach(
            (factor, level) -> {
              if (List.of("device", "unit", "operator").contains(factor)
                  && levels(level).size() > 1) {
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
        t -> Integer.toString(report.condition(t).standoffMicrons());
    if (report.header().origin().imported()) {
      return factor.equals("device") ? claimed : TrialResult::condition;
    }
    Set<Integer> free = places(level);
    return t ->
        String.join(
            " ",
            claimed.apply(t),
            without(t.condition(), free),
            factor.equals("device") ? "" : device(t),
            factor.equals("operator") ? t.device().unit() : "");
  }

  /** The factors of the plan whose levels differ in this: places in the name of a condition. */
  private Set<Integer> places(Function<TrialResult, String> level) {
    Map<String, String> values = new TreeMap<>();
    stops.forEach(t -> values.put(t.condition(), level.apply(t)));
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
    stops.forEach(
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
    Map<String, Moments> byTooth = byTooth(trials, TrialResult::stopErrorMicrons);
    return byTooth.values().stream()
        .map(m -> teeth ? Moments.of(Math.round(m.mean().orElseThrow()), 1) : m)
        .reduce(Moments.NONE, Moments::plus);
  }

  /** One device at one setting. */
  private record Setting(
      String device,
      String setting,
      int claimedMicrons,
      List<TrialResult> stops,
      OptionalDouble meanMicrons,
      Optional<Interval> interval) {}

  private List<Setting> all() {
    Map<List<Object>, List<TrialResult>> groups = new LinkedHashMap<>();
    for (Condition c : report.header().conditions()) {
      stops.stream()
          .filter(t -> t.condition().equals(c.name()))
          .forEach(
              t ->
                  groups
                      .computeIfAbsent(
                          List.of(device(t), setting(t), c.standoffMicrons()),
                          k -> new ArrayList<>())
                      .add(t));
    }
    List<Setting> all = new ArrayList<>();
    for (List<TrialResult> own : groups.values()) {
      Collection<Moments> byTooth = byTooth(own, TrialResult::remainingMicrons).values();
      all.add(
          new Setting(
              device(own.get(0)),
              setting(own.get(0)),
              report.condition(own.get(0)).standoffMicrons(),
              own,
              ClusteredMean.mean(byTooth),
              ClusteredMean.interval(byTooth, CONFIDENCE)));
    }
    return all;
  }

  private Content settingsFigure() {
    return Html.figure(
        new Figure(
            "",
            List.of(
                SettingChart.draw(
                    all().stream()
                        .map(
                            s ->
                                new SettingChart.Mark(
                                    s.device() + " " + s.setting(),
                                    s.claimedMicrons() / 1e3,
                                    s.meanMicrons().orElse(0) / 1e3,
                                    s.interval()))
                        .toList(),
                    report.label())),
            SettingChart.LEGEND,
            report.nextFigure(),
            "Measured distance at rest of each device at each setting, beside the distance that the"
                + " setting claims. Below the claim the file rests deeper than claimed."));
  }

  private Table settings() {
    boolean known = stops.stream().anyMatch(t -> t.device().constrictionMicrons() > 0);
    Table table =
        new Table(
                "Table of settings",
                "Setting against measured distance at rest, with the 95 % interval of the mean by"
                    + " teeth"
                    + report.label()
                    + ". Two targets: the foramen, and the constriction where the table states its"
                    + " distance; below 0 the file rests between constriction and foramen."
                    + (known ? constriction() : ""))
            .columns(Table.LEFT, "Device", "Setting")
            .columns(Table.NUMBER, "Claimed", "Measured to the foramen", "Difference", "Teeth");
    if (known) {
      table.columns(Table.NUMBER, "Measured to the constriction", "Teeth with constriction");
    }
    for (Setting s : all()) {
      List<Table.Cell> cells = new ArrayList<>();
      cells.add(Table.Cell.of(s.device()));
      cells.add(Table.Cell.of(s.setting()));
      cells.add(Table.Cell.of(Numbers.plainMillimetres(s.claimedMicrons())));
      cells.add(
          Table.Cell.of(Numbers.millimetres(s.meanMicrons()), Numbers.millimetres(s.interval())));
      cells.add(
          Table.Cell.of(Numbers.signedMillimetres(s.meanMicrons().orElse(0) - s.claimedMicrons())));
      cells.add(Table.Cell.of(Long.toString(teeth(s.stops()))));
      if (known) {
        List<TrialResult> own =
            s.stops().stream().filter(t -> t.device().constrictionMicrons() > 0).toList();
        Collection<Moments> byTooth =
            byTooth(own, t -> t.remainingMicrons() - t.device().constrictionMicrons()).values();
        cells.add(
            own.isEmpty()
                ? Table.Cell.of("–")
                : Table.Cell.of(
                    Numbers.signedMillimetres(ClusteredMean.mean(byTooth)),
                    Numbers.millimetres(ClusteredMean.interval(byTooth, CONFIDENCE))));
        cells.add(Table.Cell.of(Long.toString(teeth(own))));
      }
      table.row(cells);
    }
    return table;
  }

  /** How well one distance to the constriction is known. */
  private String constriction() {
    int u = report.header().origin().uncertaintyMicrons();
    return " U95 of one distance to the constriction: "
        + Numbers.plainMillimetres(ConstrictionBudget.expandedMicrons(u))
        + ", from "
        + Numbers.plainMillimetres(ConstrictionBudget.U95_MICRONS)
        + " of its place (assumed) and "
        + (u == 0
            ? "no stated uncertainty of the distance to the foramen."
            : Numbers.plainMillimetres(u) + " of the distance to the foramen.");
  }

  /** How far the file went on after the rotation had ended. */
  private Optional<Table> overshoot() {
    if (report.coded() || stops.isEmpty()) {
      return Optional.empty();
    }
    Table table =
        new Table(
                "Table of overshoot",
                "Overshoot"
                    + report.label()
                    + ": from where the rotation ended to the deepest point, with the 95 % interval of"
                    + " the mean by teeth.")
            .columns(Table.LEFT, "Device", "Feed")
            .columns(Table.NUMBER, "Teeth", "Stops", "Mean overshoot", "Greatest");
    Function<TrialResult, String> feed = java.util.Objects.requireNonNull(ways().get("feed"));
    for (String device : levels(this::device)) {
      TreeSet<String> feeds = new TreeSet<>();
      stops.forEach(t -> feeds.add(feed.apply(t)));
      for (String each : feeds.size() > MOST_LEVELS ? List.<String>of() : List.copyOf(feeds)) {
        List<TrialResult> own =
            stops.stream()
                .filter(t -> device(t).equals(device) && feed.apply(t).equals(each))
                .toList();
        if (own.isEmpty()) {
          continue;
        }
        Collection<Moments> byTooth = byTooth(own, DeviceSection::overshoot).values();
        table.row(
            List.of(
                Table.Cell.of(device),
                Table.Cell.of(each.isEmpty() ? "not stated" : each),
                Table.Cell.of(Long.toString(teeth(own))),
                Table.Cell.of(Integer.toString(own.size())),
                Table.Cell.of(
                    Numbers.millimetres(ClusteredMean.mean(byTooth)),
                    Numbers.millimetres(ClusteredMean.interval(byTooth, CONFIDENCE))),
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
