package org.stopwell.harness.replay;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Prints the replay of a whole run, in pairs of trials. */
public final class RunReplay {
  private static final int SHOWN = 5;

  /** What no replay of a physical bench can show. */
  public static final String NOT_CHECKED =
      "not checked: whether the recorded signals and the recorded truth are what happened; a"
          + " physical bench cannot repeat a trial";

  private final List<CampaignReplay.Pair> pairs;
  private final UnaryOperator<String> names;
  private final int recorded;
  private final Map<Integer, String> excluded;
  private final List<CampaignReplay.Pair> differing = new ArrayList<>();
  private final List<CampaignReplay.Pair> falsified = new ArrayList<>();
  private final boolean simulates;
  private long compared;
  private long withoutVerdict;
  private Moments moved = Moments.NONE;
  private final List<TrialResult> newlyFailed = new ArrayList<>();
  private final List<TrialResult> newlyPassed = new ArrayList<>();

  /**
   * A replay.
   *
   * @param pairs every trial that could be replayed, then and now
   * @param recorded how many trials the run holds
   * @param simulates whether the trials were simulated again, to their end
   * @param excluded trials that the run's evidence leaves out, by index, each with its code
   * @param names from a condition to the name it is shown by
   */
  public RunReplay(
      List<CampaignReplay.Pair> pairs,
      int recorded,
      boolean simulates,
      Map<Integer, String> excluded,
      UnaryOperator<String> names) {
    this.pairs = pairs;
    this.recorded = recorded;
    this.simulates = simulates;
    this.excluded = new TreeMap<>(excluded);
    this.names = names;
    for (CampaignReplay.Pair pair : pairs) {
      if (!pair.identical()) {
        differing.add(pair);
      }
      pair.result().ifPresent(result -> count(pair, result));
      if (!excluded.containsKey(pair.recorded().index())) {
        pair.replayed().ifPresent(now -> count(pair.recorded(), now));
      }
    }
  }

  private void count(CampaignReplay.Pair pair, ResultCheck result) {
    compared++;
    withoutVerdict += result.verdict() ? 0 : 1;
    if (!result.differences().isEmpty()) {
      falsified.add(pair);
    }
  }

  private void count(TrialResult then, TrialResult now) {
    if (then.stopped() && now.stopped()) {
      moved = moved.plus(Moments.of((long) now.remainingMicrons() - then.remainingMicrons(), 1));
    }
    if (then.verdict() == Verdict.PASS && now.verdict() == Verdict.FAIL) {
      newlyFailed.add(now);
    }
    if (then.verdict() == Verdict.FAIL && now.verdict() == Verdict.PASS) {
      newlyPassed.add(now);
    }
  }

  /**
   * Whether every trial came out as it was recorded, and every recorded result is the one that is
   * computed again.
   *
   * @return true when none differs
   */
  public boolean identical() {
    return differing.isEmpty() && falsified.isEmpty();
  }

  /**
   * For people.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    out.accept(
        pairs.size()
            + " trials: "
            + (pairs.size() - differing.size())
            + " identical, every output and every state hash; "
            + differing.size()
            + " differ");
    if (pairs.size() < recorded) {
      out.accept((recorded - pairs.size()) + " not replayed: they did not start, or left no trace");
    }
    results(out);
    byCode()
        .forEach(
            (code, trials) ->
                out.accept("excluded as " + code + ", replayed all the same: trial " + trials));
    for (CampaignReplay.Pair pair : differing.subList(0, Math.min(SHOWN, differing.size()))) {
      out.accept("  " + sentence(pair));
    }
    if (differing.size() > SHOWN) {
      out.accept("  … and " + (differing.size() - SHOWN) + " more; --json lists them all");
    }
    if (moved.count() > 0 && !differing.isEmpty()) {
      out.accept(
          "stops in both: "
              + moved.count()
              + ", mean shift outwards "
              + Numbers.signedMillimetres(moved.mean())
              + ", SD "
              + Numbers.millimetres(moved.standardDeviation()));
      out.accept(
          "verdicts: "
              + newlyFailed.size()
              + " newly failed, "
              + newlyPassed.size()
              + " newly passed");
      for (TrialResult failed : newlyFailed.subList(0, Math.min(SHOWN, newlyFailed.size()))) {
        out.accept("  trial " + (failed.index() + 1) + " failed: " + failed.message());
      }
    }
  }

  /** What the recorded results are worth. */
  private void results(Consumer<String> out) {
    if (compared == 0) {
      return;
    }
    out.accept(
        "results: "
            + compared
            + (simulates ? " simulated again" : " judged again from the recorded truth")
            + ", "
            + (compared - falsified.size())
            + " equal, "
            + falsified.size()
            + " differ from the recorded results");
    for (CampaignReplay.Pair pair : falsified.subList(0, Math.min(SHOWN, falsified.size()))) {
      out.accept("  " + who(pair) + ": " + words(pair.result().orElseThrow()));
    }
    if (falsified.size() > SHOWN) {
      out.accept("  … and " + (falsified.size() - SHOWN) + " more; --json lists them all");
    }
    if (withoutVerdict > 0) {
      out.accept(
          "verdict and code of "
              + withoutVerdict
              + (withoutVerdict == 1 ? " trial" : " trials")
              + " cannot be judged again: faults on purpose, a late step, or a bench that"
              + " failed");
    }
    if (!simulates) {
      out.accept(NOT_CHECKED);
    }
  }

  /**
   * What differs in one result, as people read it.
   *
   * @param result the result
   * @return the values, recorded and recomputed
   */
  public static String words(ResultCheck result) {
    return result.differences().stream()
        .map(ResultCheck.Difference::words)
        .collect(Collectors.joining("; "));
  }

  private String who(CampaignReplay.Pair pair) {
    return "trial "
        + (pair.recorded().index() + 1)
        + ", "
        + names.apply(pair.recorded().condition());
  }

  /** The excluded trials that were replayed, as the report numbers them. */
  private Map<String, String> byCode() {
    Map<String, String> all = new TreeMap<>();
    for (CampaignReplay.Pair pair : pairs) {
      int index = pair.recorded().index();
      if (excluded.containsKey(index)) {
        all.merge(excluded.get(index), String.valueOf(index + 1), (a, b) -> a + ", " + b);
      }
    }
    return all;
  }

  private String sentence(CampaignReplay.Pair pair) {
    TrialResult then = pair.recorded();
    StringBuilder line = new StringBuilder(who(pair));
    Optional<StepComparison.Difference> first = pair.difference();
    line.append(
        first.isPresent()
            ? String.format(Locale.ROOT, ": differs from %.0f ms on", first.get().timeNs() / 1e6)
            : ": differs, time unknown (no trace, another build)");
    pair.replayed().ifPresent(now -> line.append(change(then, now)));
    return line.toString();
  }

  private static String change(TrialResult then, TrialResult now) {
    boolean stops = then.stopped() && now.stopped();
    String moved =
        stops
            ? String.format(
                Locale.ROOT,
                "; rest position moved by %+d µm",
                now.remainingMicrons() - then.remainingMicrons())
            : "";
    return stops && then.code().equals(now.code())
        ? moved
        : moved + "; was " + then.code() + ", is " + now.code();
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("trials", pairs.size());
    all.put("identical", pairs.size() - differing.size());
    all.put("not_replayed", recorded - pairs.size());
    List<Map<String, Object>> left = new ArrayList<>();
    excluded.forEach((index, code) -> left.add(Map.of("trial", index + 1, "code", code)));
    all.put("excluded", left);
    all.put("newly_failed", newlyFailed.size());
    all.put("newly_passed", newlyPassed.size());
    List<Map<String, Object>> list = new ArrayList<>();
    for (CampaignReplay.Pair pair : differing) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("trial", pair.recorded().index() + 1);
      one.put("condition", names.apply(pair.recorded().condition()));
      pair.difference().ifPresent(d -> one.put("differs_from_ns", d.timeNs()));
      one.put("was", pair.recorded().code());
      one.put("was_remaining_um", pair.recorded().remainingMicrons());
      pair.replayed()
          .ifPresent(
              now -> {
                one.put("is", now.code());
                one.put("is_remaining_um", now.remainingMicrons());
              });
      list.add(one);
    }
    all.put("differing", list);
    List<Map<String, Object>> results = new ArrayList<>();
    for (CampaignReplay.Pair pair : falsified) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("trial", pair.recorded().index() + 1);
      one.put("condition", names.apply(pair.recorded().condition()));
      one.put("values", pair.result().orElseThrow().values());
      results.add(one);
    }
    all.put("results_compared", compared);
    all.put("results_without_verdict", withoutVerdict);
    all.put("results_differing", results);
    return all;
  }
}
