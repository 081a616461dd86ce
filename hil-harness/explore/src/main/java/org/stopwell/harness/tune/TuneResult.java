package org.stopwell.harness.tune;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.trial.Verdict;

/**
 * The answer of a tuning.
 *
 * @param space the space with its target
 * @param build the build that ran the trials
 * @param keys the tuned keys
 * @param planned points that the search could try
 * @param tried the points that it tried, the present settings first
 * @param chosen the best of them on the tuning canals
 * @param judged settings on fresh canals, the old ones first; empty where the work was stopped
 * @param limits what the fresh canals say about each limit for the tuned settings
 * @param verdict PASS where they confirm every limit, FAIL where they refute one
 * @param complete whether search and judgement are finished
 * @param findings what the numbers say, a sentence each
 */
public record TuneResult(
    Space space,
    String build,
    List<String> keys,
    long planned,
    List<Tried> tried,
    Tried chosen,
    List<Judged> judged,
    List<Decided> limits,
    Verdict verdict,
    boolean complete,
    List<String> findings) {

  private static final double TWO_SIDED = 0.95;

  /** What settings are in a judgement. */
  public enum Role {
    /** The settings before the search. */
    OLD,
    /** The settings that the search chose. */
    TUNED,
    /** The tuned settings with one value moved by a tenth of its range. */
    NEIGHBOUR;

    /**
     * Its word for people and files.
     *
     * @return lower case
     */
    public String key() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /**
   * Settings on fresh canals.
   *
   * @param role what they are; OLD where the search did not find better ones
   * @param settings base units
   * @param texts as people write them
   * @param measured what they gave
   * @param paired the differences from the old settings, canal by canal; none for the old ones
   */
  public record Judged(
      Role role, List<Long> settings, List<String> texts, Measured measured, List<Paired> paired) {
    /** Copies the lists. */
    public Judged {
      settings = List.copyOf(settings);
      texts = List.copyOf(texts);
      paired = List.copyOf(paired);
    }
  }

  /**
   * What the fresh canals say about a limit.
   *
   * @param limit the limit
   * @param value the measured value of the tuned settings
   * @param low with 95 % confidence the true value is not below it
   * @param high with 95 % confidence the true value is not above it
   * @param verdict PASS: confirmed; FAIL: refuted; UNDECIDED
   */
  public record Decided(
      TuneTarget.Limit limit, double value, double low, double high, Verdict verdict) {}

  /** Copies the lists. */
  public TuneResult {
    keys = List.copyOf(keys);
    tried = List.copyOf(tried);
    judged = List.copyOf(judged);
    limits = List.copyOf(limits);
    findings = List.copyOf(findings);
  }

  static TuneResult of(
      Tuning tuning,
      List<Tried> tried,
      boolean searched,
      List<long[]> settings,
      Optional<CanalSums> sums) {
    List<String> keys = tuning.tuned().stream().map(Factor::key).toList();
    if (tried.isEmpty()) {
      tried = List.of(nothing(tuning));
    }
    Tried chosen = TuneSearch.best(tried);
    List<Judged> judged = new ArrayList<>();
    sums.ifPresent(
        s -> {
          for (int i = 0; i < settings.size(); i++) {
            judged.add(judged(tuning, settings.get(i), i, chosen, s));
          }
        });
    List<Decided> limits =
        judged.isEmpty() ? List.of() : decide(tuning.target(), tuned(judged).measured());
    Verdict verdict =
        limits.stream().anyMatch(d -> d.verdict == Verdict.FAIL)
            ? Verdict.FAIL
            : !limits.isEmpty() && limits.stream().allMatch(d -> d.verdict == Verdict.PASS)
                ? Verdict.PASS
                : Verdict.UNDECIDED;
    TuneResult plain =
        new TuneResult(
            tuning.space(),
            tuning.build(),
            keys,
            tuning.points(),
            tried,
            chosen,
            judged,
            limits,
            verdict,
            searched && sums.isPresent(),
            List.of());
    return new TuneResult(
        plain.space,
        plain.build,
        keys,
        plain.planned,
        tried,
        chosen,
        judged,
        limits,
        verdict,
        plain.complete,
        new TuneFindings(plain, tuning, searched).sentences());
  }

  /** The present settings before their first trial. */
  private static Tried nothing(Tuning tuning) {
    return new Tried(
        1,
        Tried.Phase.OLD,
        TuneRun.list(tuning.start()),
        tuning.texts(tuning.start()),
        Measured.of(new CanalSums(1), 0),
        Double.POSITIVE_INFINITY,
        Double.NaN,
        Double.NaN);
  }

  private static Judged judged(Tuning tuning, long[] of, int i, Tried chosen, CanalSums sums) {
    List<Long> settings = TuneRun.list(of);
    Role role =
        i == 0 ? Role.OLD : settings.equals(chosen.settings()) ? Role.TUNED : Role.NEIGHBOUR;
    List<Paired> paired = new ArrayList<>();
    for (TuneTarget.Measure measure : TuneTarget.Measure.values()) {
      if (i > 0 && measure != TuneTarget.Measure.STOP_ERROR_SPREAD) {
        paired.add(Paired.of(sums, i, measure));
      }
    }
    return new Judged(role, settings, tuning.texts(of), Measured.of(sums, i), paired);
  }

  private static Judged tuned(List<Judged> judged) {
    return judged.stream().filter(j -> j.role == Role.TUNED).findFirst().orElse(judged.get(0));
  }

  /** Every limit has its own one-sided bound: all must hold, so none needs a correction. */
  static List<Decided> decide(TuneTarget target, Measured fresh) {
    List<Decided> decided = new ArrayList<>();
    double refuting = 1 - (1 - Aim.CONFIDENCE) / target.limits().size();
    for (TuneTarget.Limit limit : target.limits()) {
      Optional<Interval> wide = fresh.interval(limit.measure(), 2 * refuting - 1);
      Optional<Interval> near = fresh.interval(limit.measure(), 2 * Aim.CONFIDENCE - 1);
      double low = wide.map(Interval::low).orElse(Double.NaN);
      double high = near.map(Interval::high).orElse(Double.NaN);
      decided.add(
          new Decided(
              limit,
              fresh.value(limit.measure()),
              low,
              high,
              high <= limit.atMost()
                  ? Verdict.PASS
                  : low > limit.atMost() ? Verdict.FAIL : Verdict.UNDECIDED));
    }
    return decided;
  }

  /**
   * The tuned settings on fresh canals.
   *
   * @return the old ones where the search did not find better ones; empty without a judgement
   */
  public Optional<Judged> tuned() {
    return judged.isEmpty() ? Optional.empty() : Optional.of(tuned(judged));
  }

  /**
   * Whether the search found other settings.
   *
   * @return false where the old ones stay
   */
  public boolean isChanged() {
    return chosen.phase() != Tried.Phase.OLD;
  }

  /**
   * The measures that a person wants to see: all of them, in order.
   *
   * @return the measures
   */
  public static List<TuneTarget.Measure> measures() {
    return List.of(TuneTarget.Measure.values());
  }

  /**
   * The answer for programs.
   *
   * @return nested maps, lists, numbers and text
   */
  public Map<String, Object> values() {
    TuneTarget target = space.target().orElseThrow();
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("space", space.head().name());
    all.put("plan", space.plan().head().name());
    all.put("condition", space.condition().name());
    all.put("simulated", true);
    all.put("build", build);
    all.put("seed", space.head().seed());
    all.put("complete", complete);
    all.put("verdict", verdict.name());
    all.put("minimise", target.minimise().key());
    all.put("tuning_canals", space.head().repeats());
    all.put("fresh_canals", target.freshCanals());
    all.put("points_tried", tried.size());
    all.put("points_planned", planned);
    List<Object> list = new ArrayList<>();
    for (TuneTarget.Limit limit : target.limits()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("measure", limit.measure().key());
      one.put("at_most", limit.atMost());
      if (limit.measure().isShare()) {
        one.put("search_aims_at", Aim.share(limit.atMost(), target.freshCanals()));
      }
      limits.stream()
          .filter(d -> d.limit.measure() == limit.measure())
          .forEach(
              d -> {
                put(one, "value", d.value);
                put(one, "not_below_95", d.low);
                put(one, "not_above_95", d.high);
                one.put("verdict", d.verdict.name());
              });
      list.add(one);
    }
    all.put("limits", list);
    Map<String, Object> tuning = new LinkedHashMap<>();
    tuning.put("point", chosen.number());
    tuning.put("meets_on_tuning_canals", chosen.meets());
    put(tuning, chosen.texts(), chosen.measured());
    all.put("chosen", tuning);
    List<Object> fresh = new ArrayList<>();
    for (Judged j : judged) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("role", j.role.key());
      put(one, j.texts, j.measured);
      for (Paired p : j.paired) {
        Map<String, Object> pair = new LinkedHashMap<>();
        put(pair, "difference", p.difference());
        p.interval()
            .ifPresent(
                i -> {
                  put(pair, "low_95", i.low());
                  put(pair, "high_95", i.high());
                });
        if (p.measure().isShare()) {
          pair.put("only_old", p.onlyOld());
          pair.put("only_here", p.onlyHere());
        }
        one.put(p.measure().key() + "_from_old", pair);
      }
      fresh.add(one);
    }
    all.put("judged", fresh);
    all.put("findings", findings);
    return all;
  }

  private void put(Map<String, Object> into, List<String> texts, Measured measured) {
    Map<String, Object> settings = new LinkedHashMap<>();
    for (int i = 0; i < keys.size(); i++) {
      settings.put(keys.get(i), texts.get(i));
    }
    into.put("settings", settings);
    into.put("trials", measured.trials());
    into.put("impossible", measured.impossible());
    into.put("stopped", measured.stopped());
    for (TuneTarget.Measure measure : TuneTarget.Measure.values()) {
      Map<String, Object> one = new LinkedHashMap<>();
      put(one, "value", measured.value(measure));
      measured
          .interval(measure, TWO_SIDED)
          .ifPresent(
              i -> {
                put(one, "low_95", i.low());
                put(one, "high_95", i.high());
              });
      if (measure.isShare()) {
        one.put("count", measured.share(measure).count());
      }
      into.put(measure.key(), one);
    }
  }

  /** A number that JSON has a word for. */
  private static void put(Map<String, Object> into, String key, double value) {
    if (Double.isFinite(value)) {
      into.put(key, value);
    }
  }
}
