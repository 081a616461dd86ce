package org.stopwell.rig.proof;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.device.Watched;

/** What the samples of a device board show together: lines, evenness of their times, sound. */
public final class WatchedRun {
  private WatchedRun() {}

  /** Time from the first sample to the last, ns. */
  static long span(List<Watched> samples) {
    return samples.get(samples.size() - 1).timeNs() - samples.get(0).timeNs();
  }

  /**
   * The share of samples in which the second witness heard a motor.
   *
   * @param samples the samples
   * @return 0 to 1; 0 without samples
   */
  public static double heard(List<Watched> samples) {
    long heard = samples.stream().filter(Watched::witnessed).count();
    return samples.isEmpty() ? 0 : (double) heard / samples.size();
  }

  /**
   * Greatest distance of a time stamp from even steps. A gap of whole steps changes nothing.
   *
   * @param samples three or more samples, in order
   * @return ns
   */
  public static double worstStampNs(List<Watched> samples) {
    int n = samples.size();
    List<Long> gaps = new ArrayList<>();
    for (int i = 1; i < n; i++) {
      gaps.add(samples.get(i).timeNs() - samples.get(i - 1).timeNs());
    }
    gaps.sort(null);
    double each = Math.max(1, gaps.get(gaps.size() / 2));
    double[] step = new double[n];
    double[] time = new double[n];
    for (int i = 1; i < n; i++) {
      time[i] = samples.get(i).timeNs() - samples.get(0).timeNs();
      step[i] = step[i - 1] + Elementary.rint((time[i] - time[i - 1]) / each);
    }
    return Line.of(step, time).worst();
  }

  /** The least angle that the file turned forward over some samples, m°. */
  static double least(List<Watched> samples, int apart) {
    double least = Double.MAX_VALUE;
    for (int i = apart; i < samples.size(); i++) {
      least = Math.min(least, turned(samples, i, apart));
    }
    return samples.size() > apart ? least : 0;
  }

  /** The greatest angle that the file turned either way over some samples, m°. */
  static double greatest(List<Watched> samples, int apart) {
    double most = 0;
    for (int i = apart; i < samples.size(); i++) {
      most = Math.max(most, Math.abs(turned(samples, i, apart)));
    }
    return samples.size() > apart ? most : Double.MAX_VALUE;
  }

  private static double turned(List<Watched> samples, int to, int apart) {
    return (double)
        (samples.get(to).angleMilliDegrees() - samples.get(to - apart).angleMilliDegrees());
  }

  /** One value of a sample. */
  interface Value {
    /** The value. */
    double of(Watched sample);
  }

  /** The straight line of least squares, and the greatest distance from it. */
  record Line(double slope, double worst) {
    double perSecond() {
      return slope;
    }

    static Line of(List<Watched> samples, Value value) {
      double[] x = samples.stream().mapToDouble(w -> w.timeNs() / 1e9).toArray();
      double[] y = samples.stream().mapToDouble(value::of).toArray();
      return of(x, y);
    }

    static Line of(double[] x, double[] y) {
      double meanX = Arrays.stream(x).average().orElse(0);
      double meanY = Arrays.stream(y).average().orElse(0);
      double xx = 0;
      double xy = 0;
      for (int i = 0; i < x.length; i++) {
        xx += (x[i] - meanX) * (x[i] - meanX);
        xy += (x[i] - meanX) * (y[i] - meanY);
      }
      double slope = xx > 0 ? xy / xx : 0;
      double worst = 0;
      for (int i = 0; i < x.length; i++) {
        worst = Math.max(worst, Math.abs(y[i] - meanY - slope * (x[i] - meanX)));
      }
      return new Line(slope, worst);
    }
  }
}
