package org.stopwell.harness.external;

/**
 * A change of speed, found by least squares: the speed is even, then changes from one time to
 * another, then is even again. It changes by a power of the time that is left: evenly with 1, as a
 * motor that coasts; fast at first with more, as a motor that brakes. So one late or noisy sample
 * moves neither time.
 *
 * @param beginNs when the speed begins to change, ns
 * @param endNs when it has changed, ns
 * @param beginDegrees angle at the beginning, °
 * @param endDegrees angle at the end, °
 * @param beforeDegreesPerS speed before, °/s
 * @param afterDegreesPerS speed after, °/s
 * @param power the power
 */
record SpeedChange(
    long beginNs,
    long endNs,
    double beginDegrees,
    double endDegrees,
    double beforeDegreesPerS,
    double afterDegreesPerS,
    double power) {

  /** Shortest change that is tried, ms: below a sample. */
  private static final double SHORTEST_MS = 0.25;

  private static final int STEPS = 12;
  private static final int ROUNDS = 5;
  private static final double[] POWERS = {1, 1.5, 2, 3};

  /** When the speed passes zero, ns: the end where the file stands after it. */
  long stillNs() {
    return afterDegreesPerS * beforeDegreesPerS < 0
        ? beginNs + Math.round(turning() * (endNs - beginNs))
        : endNs;
  }

  /** Angle where the speed passes zero, °. */
  double stillDegrees() {
    if (!(afterDegreesPerS * beforeDegreesPerS < 0)) {
      return endDegrees;
    }
    double share = turning();
    double seconds = (endNs - beginNs) * 1e-9;
    double fading = (1 - Math.pow(1 - share, power + 1)) / (power + 1);
    return beginDegrees
        + seconds * (beforeDegreesPerS * fading + afterDegreesPerS * (share - fading));
  }

  /** Share of the change after which the speed is zero. */
  private double turning() {
    return 1 - Math.pow(afterDegreesPerS / (afterDegreesPerS - beforeDegreesPerS), 1 / power);
  }

  /**
   * Finds the change within a window.
   *
   * @param track the samples
   * @param from first sample
   * @param to sample after the last
   * @param rests whether the file stands after the change
   */
  static SpeedChange find(WatchedTrack track, int from, int to, boolean rests) {
    Fit fit = new Fit(track, from, to, rests);
    double best = Double.POSITIVE_INFINITY;
    double begin = 0;
    double end = fit.length;
    double power = 1;
    for (double tried : POWERS) {
      fit.power = tried;
      double[] found = search(fit);
      if (found[2] < best) {
        best = found[2];
        begin = found[0];
        end = found[1];
        power = tried;
      }
    }
    fit.power = power;
    return fit.at(begin, end);
  }

  /** Begin and end with what they leave, on a grid that closes in on the best. */
  private static double[] search(Fit fit) {
    double[] best = {0, fit.length, Double.POSITIVE_INFINITY};
    double lowBegin = 0;
    double highBegin = fit.length;
    double lowEnd = 0;
    double highEnd = fit.length;
    for (int round = 0; round < ROUNDS; round++) {
      double stepBegin = (highBegin - lowBegin) / STEPS;
      double stepEnd = (highEnd - lowEnd) / STEPS;
      for (int i = 0; i <= STEPS; i++) {
        for (int j = 0; j <= STEPS; j++) {
          double begin = lowBegin + i * stepBegin;
          double end = lowEnd + j * stepEnd;
          double left = end - begin >= SHORTEST_MS ? fit.left(begin, end) : best[2];
          if (left < best[2]) {
            best = new double[] {begin, end, left};
          }
        }
      }
      lowBegin = Math.max(0, best[0] - 1.5 * stepBegin);
      highBegin = Math.min(fit.length, best[0] + 1.5 * stepBegin);
      lowEnd = Math.max(0, best[1] - 1.5 * stepEnd);
      highEnd = Math.min(fit.length, best[1] + 1.5 * stepEnd);
    }
    return best;
  }

  /** Least squares for given times; the angle is linear in the rest. */
  private static final class Fit {
    private final int n;
    private final double[] ms;
    private final double[] degrees;
    private final long zeroNs;
    private final double zeroDegrees;
    private final boolean rests;
    final double length;
    private final double[] solved = new double[3];
    double power = 1;

    Fit(WatchedTrack track, int from, int to, boolean rests) {
      int used = 0;
      // No more than this many samples are needed for a time to a tenth of a ms.
      int stride = Math.max(1, (to - from) / 600);
      ms = new double[(to - from) / stride + 1];
      degrees = new double[ms.length];
      zeroNs = track.ns(from);
      zeroDegrees = track.degrees(from);
      for (int i = from; i < to; i += stride) {
        ms[used] = (track.ns(i) - zeroNs) * 1e-6;
        degrees[used] = track.degrees(i) - zeroDegrees;
        used++;
      }
      n = used;
      length = ms[n - 1];
      this.rests = rests;
    }

    /** Way at a speed of 1 before the change, and at a speed of 1 after it. */
    private double before(double t, double b, double e) {
      return t <= b ? t : b + fading(t, b, e);
    }

    private double after(double t, double b, double e) {
      return t <= b ? 0 : t - b - fading(t, b, e);
    }

    /** Way at a speed that fades from 1 to 0. */
    private double fading(double t, double b, double e) {
      double left = t >= e ? 0 : (e - t) / (e - b);
      double rest =
          power == 1
              ? left * left
              : power == 2
                  ? left * left * left
                  : power == 3 ? left * left * left * left : left * left * Math.sqrt(left);
      return (e - b) * (1 - rest) / (power + 1);
    }

    double left(double b, double e) {
      int k = rests ? 2 : 3;
      double s0 = 0, s1 = 0, s2 = 0, s11 = 0, s12 = 0, s22 = 0, y0 = 0, y1 = 0, y2 = 0, yy = 0;
      for (int i = 0; i < n; i++) {
        double p = before(ms[i], b, e);
        double q = rests ? 0 : after(ms[i], b, e);
        double y = degrees[i];
        s0++;
        s1 += p;
        s2 += q;
        s11 += p * p;
        s12 += p * q;
        s22 += q * q;
        y0 += y;
        y1 += p * y;
        y2 += q * y;
        yy += y * y;
      }
      double[][] m = {{s0, s1, s2, y0}, {s1, s11, s12, y1}, {s2, s12, s22, y2}};
      for (int c = 0; c < k; c++) {
        int pivot = c;
        for (int r = c + 1; r < k; r++) {
          if (Math.abs(m[r][c]) > Math.abs(m[pivot][c])) {
            pivot = r;
          }
        }
        double[] swap = m[c];
        m[c] = m[pivot];
        m[pivot] = swap;
        if (Math.abs(m[c][c]) < 1e-12) {
          return Double.POSITIVE_INFINITY;
        }
        for (int r = c + 1; r < k; r++) {
          double f = m[r][c] / m[c][c];
          for (int x = c; x < 3; x++) {
            m[r][x] -= f * m[c][x];
          }
          m[r][3] -= f * m[c][3];
        }
      }
      solved[2] = 0;
      for (int c = k - 1; c >= 0; c--) {
        double v = m[c][3];
        for (int x = c + 1; x < k; x++) {
          v -= m[c][x] * solved[x];
        }
        solved[c] = v / m[c][c];
      }
      return yy - solved[0] * y0 - solved[1] * y1 - solved[2] * y2;
    }

    SpeedChange at(double b, double e) {
      left(b, e);
      double zero = zeroDegrees + solved[0];
      return new SpeedChange(
          zeroNs + Math.round(b * 1e6),
          zeroNs + Math.round(e * 1e6),
          zero + solved[1] * before(b, b, e),
          zero + solved[1] * before(e, b, e) + solved[2] * after(e, b, e),
          1e3 * solved[1],
          1e3 * solved[2],
          power);
    }
  }
}
