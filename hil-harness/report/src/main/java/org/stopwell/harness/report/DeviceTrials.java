package org.stopwell.harness.report;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.function.ToLongFunction;
import org.stopwell.harness.claim.ConditionSummary;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.TrialResult;

/** The analysed trials of devices in a run, and the factors they differ in. */
final class DeviceTrials {
  static final double CONFIDENCE = 0.95;

  final Report report;
  final List<TrialResult> analysed;
  final List<TrialResult> stops;

  DeviceTrials(Report report) {
    this.report = report;
    analysed =
        report.trials().stream()
            .filter(TrialResult::isOfDevice)
            .filter(t -> ConditionSummary.isAnalysed(t.verdict()))
            .toList();
    stops = analysed.stream().filter(TrialResult::stopped).toList();
  }

  /** The model of the device. */
  String device(TrialResult t) {
    Device stated = report.header().design().devices().get(t.condition());
    return stated != null ? stated.model() : report.choice().level(t.condition(), "device");
  }

  /** Its setting. */
  String setting(TrialResult t) {
    Device stated = report.header().design().devices().get(t.condition());
    return stated != null ? stated.setting() : report.choice().level(t.condition(), "setting");
  }

  /** The factors, and the level of each in a trial; an empty level is not stated. */
  Map<String, Function<TrialResult, String>> ways() {
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

  /** The stated levels of a factor, sorted. */
  List<String> levels(Function<TrialResult, String> level) {
    TreeSet<String> levels = new TreeSet<>();
    analysed.forEach(t -> levels.add(level.apply(t)));
    levels.remove("");
    return List.copyOf(levels);
  }

  /** How many teeth these trials are of. */
  static long teeth(List<TrialResult> trials) {
    return trials.stream().map(t -> t.device().tooth()).distinct().count();
  }

  /** Moments of a length by tooth. */
  static Map<String, Moments> byTooth(
      List<TrialResult> trials, ToLongFunction<TrialResult> microns) {
    Map<String, Moments> all = new TreeMap<>();
    trials.forEach(
        t -> all.merge(t.device().tooth(), Moments.of(microns.applyAsLong(t), 1), Moments::plus));
    return all;
  }

  /** The share of hits by tooth. */
  static Collection<Proportion> shares(List<TrialResult> trials, Predicate<TrialResult> hit) {
    Map<String, Proportion> all = new TreeMap<>();
    trials.forEach(
        t ->
            all.merge(
                t.device().tooth(),
                new Proportion(hit.test(t) ? 1 : 0, 1),
                (a, b) -> new Proportion(a.count() + b.count(), a.trials() + b.trials())));
    return all.values();
  }
}
