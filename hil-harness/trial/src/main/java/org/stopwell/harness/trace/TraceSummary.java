package org.stopwell.harness.trace;

import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.TreeSet;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/**
 * The scores of some traces, counted. Intervals count teeth: several traces of one tooth are not
 * independent, so each tooth is one share.
 *
 * @param name the fluid of the traces, or that they are all
 * @param traces how many
 * @param teeth of how many teeth
 * @param shares the counts by what they mean
 */
public record TraceSummary(String name, int traces, int teeth, Map<Measure, Share> shares) {
  /** Confidence of the intervals, two-sided. */
  public static final double CONFIDENCE = 0.95;

  /** Name of the summary of all fluids. */
  public static final String ALL = "all";

  /** What is counted. */
  public enum Measure {
    /** Stopped, of all. */
    STOPPED,
    /** Within the tolerance of the standoff, of the stopped. */
    WITHIN,
    /** Past the foramen, of the driven. */
    PAST,
    /** Refused, of all. */
    REFUSED,
    /** Driven on to the end of the trace, of all. */
    NO_STOP,
    /** Sure at the stop, of the stopped. */
    SURE,
    /** Outside of the tolerance, of the sure. */
    SURE_AND_WRONG,
    /** Outside of twice the tolerance, of the sure. */
    SURE_AND_FAR_WRONG,
    /** Error of the reading within its stated bound, of the stops with one. */
    COVERED;

    /** Whether a trace is one of those that are counted among. */
    boolean isOf(TraceScore score) {
      return switch (this) {
        case STOPPED, REFUSED, NO_STOP -> true;
        case PAST -> score.driven();
        case WITHIN, SURE -> score.stopped();
        case SURE_AND_WRONG, SURE_AND_FAR_WRONG -> score.sure();
        case COVERED -> score.bounded();
      };
    }

    /** Whether such a trace counts. */
    boolean counts(TraceScore score) {
      return switch (this) {
        case STOPPED -> score.stopped();
        case REFUSED -> score.outcome() == TraceScore.Outcome.REFUSED;
        case NO_STOP -> score.outcome() == TraceScore.Outcome.NO_STOP;
        case PAST -> score.past();
        case WITHIN -> score.within(1);
        case SURE -> score.sure();
        case SURE_AND_WRONG -> !score.within(1);
        case SURE_AND_FAR_WRONG -> !score.within(2);
        case COVERED -> score.covered();
      };
    }
  }

  /**
   * A share with its exact interval.
   *
   * @param counted how many out of how many traces
   * @param interval of the mean share of a tooth; none without traces
   */
  public record Share(Proportion counted, Optional<Interval> interval) {}

  /** Copies the shares. */
  public TraceSummary {
    shares = Collections.unmodifiableMap(new LinkedHashMap<>(shares));
  }

  /**
   * A share.
   *
   * @param measure what is counted
   * @return its counts
   */
  public Share share(Measure measure) {
    Share share = shares.get(measure);
    if (share == null) {
      throw new IllegalArgumentException("no " + measure);
    }
    return share;
  }

  /**
   * Counts by fluid.
   *
   * @param scores the scores
   * @return one summary for each fluid, by name, and that of all last where there are several
   */
  public static List<TraceSummary> byFluid(List<TraceScore> scores) {
    List<TraceSummary> all = new ArrayList<>();
    TreeSet<String> fluids = new TreeSet<>();
    scores.forEach(s -> fluids.add(s.approach().fluid()));
    for (String fluid : fluids) {
      all.add(of(fluid, scores.stream().filter(s -> s.approach().fluid().equals(fluid)).toList()));
    }
    if (fluids.size() > 1) {
      all.add(of(ALL, scores));
    }
    return all;
  }

  private static TraceSummary of(String name, List<TraceScore> scores) {
    Map<Measure, Share> shares = new LinkedHashMap<>();
    for (Measure measure : Measure.values()) {
      shares.put(measure, share(scores, measure));
    }
    long teeth = scores.stream().map(s -> s.approach().tooth()).distinct().count();
    return new TraceSummary(name, scores.size(), (int) teeth, shares);
  }

  private static Share share(List<TraceScore> scores, Measure measure) {
    TreeMap<String, Proportion> teeth = new TreeMap<>();
    for (TraceScore score : scores) {
      if (measure.isOf(score)) {
        teeth.merge(
            score.approach().tooth(),
            new Proportion(measure.counts(score) ? 1 : 0, 1),
            TraceSummary::sum);
      }
    }
    Proportion counted = teeth.values().stream().reduce(new Proportion(0, 0), TraceSummary::sum);
    return new Share(counted, interval(teeth.values(), counted));
  }

  /** One tooth has no spread: its traces are taken as independent. */
  private static Optional<Interval> interval(Collection<Proportion> teeth, Proportion counted) {
    if (teeth.size() < 2) {
      return counted.clopperPearson(CONFIDENCE);
    }
    double[] shares = BoundedMean.shares(teeth);
    double each = (1 + CONFIDENCE) / 2;
    return Optional.of(
        new Interval(BoundedMean.lower(shares, each), BoundedMean.upper(shares, each)));
  }

  private static Proportion sum(Proportion a, Proportion b) {
    return new Proportion(a.count() + b.count(), a.trials() + b.trials());
  }
}
