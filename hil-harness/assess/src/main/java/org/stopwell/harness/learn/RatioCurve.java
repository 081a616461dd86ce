package org.stopwell.harness.learn;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.stopwell.harness.stats.Conformal;

/**
 * The curve of policy {@code ratio} and its spread, from the same traces. The curve is the median
 * over teeth at each distance. The bound is the conformal quantile over teeth of the distance that
 * a curve without the tooth gives, less the measured one.
 *
 * @param points from past the foramen upwards
 */
public record RatioCurve(List<Point> points) {
  /** Index of the lower frequency. */
  static final int LOW = 0;

  /** Index of the upper frequency. */
  static final int HIGH = 2;

  /** Distances of the points, mm. */
  private static final double[] PLACES_MM = {
    -0.5, -0.25, 0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5,
    4
  };

  /** Readings within this of a place count there, mm. */
  private static final double BESIDE_MM = 0.06;

  /** Least growth of the ratio from point to point: what a file can tell apart. */
  private static final double LEAST_RISE = 2e-6;

  private static final int FOLDS = 5;

  /**
   * One point.
   *
   * @param ratio magnitude at the upper frequency over that at the lower
   * @param lowOhms magnitude at the lower frequency, Ω
   * @param remainingMm distance to the foramen, mm
   * @param boundMm 95 in 100 are within it, mm; empty with fewer than 19 teeth
   */
  public record Point(double ratio, double lowOhms, double remainingMm, OptionalDouble boundMm) {}

  /** Copies the points. */
  public RatioCurve {
    points = List.copyOf(points);
  }

  /** Measures the curve; without points where too few approaches come past the foramen. */
  static RatioCurve of(List<List<TaughtApproach>> teeth) {
    List<Integer> used = new ArrayList<>();
    for (int p = 0; p < PLACES_MM.length; p++) {
      int place = p;
      long there = teeth.stream().filter(t -> !at(t, place).isEmpty()).count();
      if (2 * there >= teeth.size()) {
        used.add(p);
      }
    }
    if (used.size() < 2) {
      return new RatioCurve(List.of());
    }
    double[] whole = ratios(teeth, used);
    List<List<double[]>> misses = misses(teeth, used);
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < used.size(); i++) {
      int place = used.get(i);
      double[] lows =
          teeth.stream()
              .flatMap(t -> at(t, place).stream())
              .mapToDouble(v -> v[1])
              .sorted()
              .toArray();
      points.add(
          new Point(
              whole[i],
              lows[lows.length / 2],
              PLACES_MM[place],
              Conformal.ofNewGroup(misses.get(i), Promise.SHARE)));
    }
    return new RatioCurve(points);
  }

  /** Mean ratio and magnitude of each approach of a tooth beside a place. */
  private static List<double[]> at(List<TaughtApproach> tooth, int place) {
    List<double[]> found = new ArrayList<>();
    for (TaughtApproach approach : tooth) {
      double ratio = 0;
      double low = 0;
      int count = 0;
      for (int k = 0; k < approach.readings(); k++) {
        if (Math.abs(approach.truth(k) - PLACES_MM[place]) <= BESIDE_MM) {
          ratio += approach.ratio(k);
          low += approach.lowOhms(k);
          count++;
        }
      }
      if (count > 0) {
        found.add(new double[] {ratio / count, low / count});
      }
    }
    return found;
  }

  /** Median ratio over teeth at each place, made to rise. */
  private static double[] ratios(List<List<TaughtApproach>> teeth, List<Integer> used) {
    double[] curve = new double[used.size()];
    for (int i = 0; i < curve.length; i++) {
      int place = used.get(i);
      double[] means =
          teeth.stream()
              .map(t -> at(t, place))
              .filter(v -> !v.isEmpty())
              .mapToDouble(v -> v.stream().mapToDouble(a -> a[0]).average().orElseThrow())
              .sorted()
              .toArray();
      curve[i] = means[means.length / 2];
      curve[i] = i == 0 ? curve[i] : Math.max(curve[i], curve[i - 1] + LEAST_RISE);
    }
    return curve;
  }

  /** By place and tooth: the miss of every approach by a curve without the tooth. */
  private static List<List<double[]>> misses(List<List<TaughtApproach>> teeth, List<Integer> used) {
    List<List<double[]>> misses = new ArrayList<>();
    used.forEach(p -> misses.add(new ArrayList<>()));
    for (int fold = 0; fold < FOLDS; fold++) {
      List<List<TaughtApproach>> others = new ArrayList<>();
      for (int i = 0; i < teeth.size(); i++) {
        if (i % FOLDS != fold) {
          others.add(teeth.get(i));
        }
      }
      double[] curve = ratios(others, used);
      for (int i = fold; i < teeth.size(); i += FOLDS) {
        for (int p = 0; p < used.size(); p++) {
          int place = used.get(p);
          List<TaughtApproach> tooth = teeth.get(i);
          double length = tooth.get(0).lengthErrorMm;
          misses
              .get(p)
              .add(
                  at(tooth, place).stream()
                      .mapToDouble(v -> read(v[0], curve, used) - PLACES_MM[place])
                      .map(e -> Math.sqrt(e * e + length * length))
                      .toArray());
        }
      }
    }
    return misses;
  }

  /** The distance that a curve gives for a ratio, mm; held at its ends. */
  private static double read(double ratio, double[] curve, List<Integer> used) {
    int next = 0;
    while (next < curve.length && curve[next] <= ratio) {
      next++;
    }
    if (next == 0 || next == curve.length) {
      return PLACES_MM[used.get(next == 0 ? 0 : curve.length - 1)];
    }
    double share = (ratio - curve[next - 1]) / (curve[next] - curve[next - 1]);
    double from = PLACES_MM[used.get(next - 1)];
    return from + share * (PLACES_MM[used.get(next)] - from);
  }

  /**
   * The curve as a part of a settings file.
   *
   * @param hertz the four frequencies
   * @return YAML
   */
  public String yaml(List<Integer> hertz) {
    StringBuilder out = new StringBuilder();
    out.append("# For sense: {policy: ratio, low_hz: ").append(hertz.get(LOW));
    out.append(", high_hz: ").append(hertz.get(HIGH)).append("}\ncalibration:\n");
    for (Point p : points) {
      out.append(
          String.format(
              Locale.ROOT,
              "  - {ratio: %.6f, low_ohm: %.0f, remaining_mm: %s%s}%n",
              p.ratio,
              p.lowOhms,
              Double.toString(p.remainingMm),
              p.boundMm.isPresent()
                  ? String.format(
                      Locale.ROOT, ", bound_mm: %.3f", Math.max(0.001, p.boundMm.getAsDouble()))
                  : ""));
    }
    return out.toString();
  }
}
