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
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Prints the replay of a whole run, in pairs of trials. */
public final class RunReplay {
  private static final int SHOWN = 5;

  private final List<CampaignReplay.Pair> pairs;
  private final UnaryOperator<String> names;
  private final int recorded;
  private final Map<Integer, String> excluded;
  private final List<CampaignReplay.Pair> differing = new ArrayList<>();
  private Moments moved = Moments.NONE;
  private final List<TrialResult> newlyFailed = new ArrayList<>();
  private final List<TrialResult> newlyPassed = new ArrayList<>();

  /**
   * A replay.
   *
   * @param pairs every trial that could be replayed, then and now
   * @param recorded how many trials the run holds
   * @param excluded trials that the run's evidence leaves out, by index, each with its code
   * @param names from a condition to the name it is shown by
   */
  public RunReplay(
      List<CampaignReplay.Pair> pairs,
      int recorded,
      Map<Integer, String> excluded,
      UnaryOperator<String> names) {
    this.pairs = pairs;
    this.recorded = recorded;
    this.excluded = new TreeMap<>(excluded);
    this.names = names;
    for (CampaignReplay.Pair pair : pairs) {
      if (!pair.identical()) {
        differing.add(pair);
      }
      if (!excluded.containsKey(pair.recorded().index())) {
        pair.replayed().ifPresent(now -> count(pair.recorded(), now));
      }
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
   * Whether every trial came out as it was recorded.
   *
   * @return true when none differs
   */
  public boolean identical() {
    return differing.isEmpty();
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
    StringBuilder line =
        new StringBuilder("trial ")
            .append(then.index() + 1)
            .append(", ")
            .append(names.apply(then.condition()));
    Optional<StepComparison.Difference> first = pair.difference();
    line.append(
        first.isPresent()
            ? String.format(Locale.ROOT, ": differs from %.0f ms on", first.get().timeNs() / 1e6)
            : ": differs, time unknown (no trace, another build)");
    pair.replayed()
        .ifPresent(
            now ->
                line.append(
                    then.stopped() && now.stopped()
                        ? String.format(
                            Locale.ROOT,
                            "; rest position moved by %+d µm",
                            now.remainingMicrons() - then.remainingMicrons())
                        : "; was " + then.code() + ", is " + now.code()));
    return line.toString();
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
    return all;
  }
}
