package org.stopwell.harness.tune;

import java.util.Optional;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Moments;
import org.stopwell.harness.stats.Proportion;

/**
 * The difference between some settings and the old ones, canal by canal.
 *
 * @param measure what is compared
 * @param onlyOld canals in which it happened with the old settings alone; 0 for a time
 * @param onlyHere canals in which it happened with these settings alone; 0 for a time
 * @param canals canals in which both ran
 * @param difference these minus the old: a share or s
 * @param interval 95 % interval of the difference
 */
public record Paired(
    TuneTarget.Measure measure,
    long onlyOld,
    long onlyHere,
    long canals,
    double difference,
    Optional<Interval> interval) {

  private static final double CONFIDENCE = 0.95;

  static Paired of(CanalSums sums, int of, TuneTarget.Measure measure) {
    long canals = sums.count(of, CanalSums.Sum.PAIRS);
    return switch (measure) {
      case OVER_TRAVEL ->
          share(
              measure,
              sums.count(of, CanalSums.Sum.OVER_TRAVEL_ONLY_FIRST),
              sums.count(of, CanalSums.Sum.OVER_TRAVEL_ONLY_HERE),
              canals);
      case EARLY_STOP ->
          share(
              measure,
              sums.count(of, CanalSums.Sum.EARLY_ONLY_FIRST),
              sums.count(of, CanalSums.Sum.EARLY_ONLY_HERE),
              canals);
      case REFUSAL ->
          share(
              measure,
              sums.count(of, CanalSums.Sum.REFUSED_ONLY_FIRST),
              sums.count(of, CanalSums.Sum.REFUSED_ONLY_HERE),
              canals);
      case TIME -> {
        Moments more =
            new Moments(
                canals,
                sums.get(of, CanalSums.Sum.MILLIS_MORE),
                sums.get(of, CanalSums.Sum.MILLIS_MORE_2));
        yield new Paired(
            measure,
            0,
            0,
            canals,
            more.mean().orElse(Double.NaN) / 1e3,
            more.meanInterval(CONFIDENCE).map(i -> new Interval(i.low() / 1e3, i.high() / 1e3)));
      }
      case STOP_ERROR_SPREAD -> throw new IllegalArgumentException("the spread has no pairs");
    };
  }

  /**
   * The difference of two shares of the same canals. Both discordant shares have exact intervals at
   * 97.5 %, so that their difference has at least 95 % (Bonferroni).
   */
  static Paired share(TuneTarget.Measure measure, long onlyOld, long onlyHere, long canals) {
    double each = (1 + CONFIDENCE) / 2;
    Optional<Interval> interval =
        new Proportion(onlyOld, canals)
            .clopperPearson(each)
            .flatMap(
                old ->
                    new Proportion(onlyHere, canals)
                        .clopperPearson(each)
                        .map(
                            here ->
                                new Interval(here.low() - old.high(), here.high() - old.low())));
    return new Paired(
        measure,
        onlyOld,
        onlyHere,
        canals,
        canals == 0 ? Double.NaN : (onlyHere - onlyOld) / (double) canals,
        interval);
  }

  /**
   * Whether these settings have more of it, beyond chance.
   *
   * @return true when the whole interval is above 0
   */
  public boolean isMore() {
    return interval.map(i -> i.low() > 0).orElse(false);
  }

  /**
   * Whether these settings have less of it, beyond chance.
   *
   * @return true when the whole interval is below 0
   */
  public boolean isLess() {
    return interval.map(i -> i.high() < 0).orElse(false);
  }
}
