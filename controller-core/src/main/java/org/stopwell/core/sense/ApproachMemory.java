package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.trace.StateHash;

/**
 * What a file has seen on its way down the canal, in bounded memory.
 *
 * <p>The way itself is not measured, so the memory is ordered by the reading: the logarithm of the
 * admittance at the highest frequency, which grows all the way to the foramen. Every narrow step of
 * it keeps the mean of what the other channels said there: the ratios of the magnitudes and the
 * phases. A hand that pauses or goes back and forth writes the same places again. The features are
 * the reading now and how it differed at fixed steps back, so they depend neither on the feed nor
 * on the time.
 */
public final class ApproachMemory {
  /** How many frequencies a sample must hold. */
  public static final int FREQUENCIES = 4;

  private static final int CHANNELS = 2 * FREQUENCIES - 1;

  /** Steps back in the logarithm of the admittance. */
  private static final double[] BACK = {0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1.0, 1.4};

  /** How many numbers the features are. */
  public static final int FEATURES = 1 + CHANNELS + BACK.length * (CHANNELS + 1);

  /** Width of a step of the memory, in the logarithm. */
  private static final double STEP = 0.04;

  /** Logarithm of the least admittance remembered, 1 MΩ; the memory reaches to about 50 Ω. */
  private static final double LEAST = -13.8;

  private static final int STEPS = 248;

  /** A low-frequency phase below this is a tip that touches no fluid yet, rad; assumed. */
  private static final double DRY_PHASE = -1.2;

  /** Share of a new sample in the smoothed reading, where one comes every 5 ms; assumed. */
  public static final double SMOOTHING = 0.12;

  /** The rest of that share in time, ns: slow sampling adds no delay. */
  private static final double REST_NS = (1 - SMOOTHING) * 5e6;

  /** Samples without a time count as this far apart, ns: the virtual bench. */
  private static final long UNTIMED_NS = 5_000_000;

  /** From this low-frequency phase on the metal no longer hides the canal, rad; assumed. */
  private static final double SETTLED_PHASE = -0.5;

  /** A step back counts in full when the memory reaches this much further; assumed. */
  private static final double FADE = 0.25;

  /** A reading further from the smoothed one than this restarts the approach; assumed. */
  private static final double LOST = 0.7;

  /** Readings after which the mean of a step forgets; assumed. */
  private static final int MEMORY = 20;

  private final double[] mean = new double[STEPS * (CHANNELS + 1)];
  private final int[] readings = new int[STEPS];
  private final double[] now = new double[CHANNELS + 1];
  private final double[] sample = new double[CHANNELS + 1];
  private long sampleTimeNs;
  private double lagNs;
  private boolean begun;
  private boolean wet;
  private int lowest;
  private int current;

  /** A memory of nothing. */
  public ApproachMemory() {}

  /** Forgets the approach. */
  public void forget() {
    begun = false;
    wet = false;
    for (int i = 0; i < STEPS; i++) {
      readings[i] = 0;
    }
  }

  /**
   * Takes in one sample of {@value #FREQUENCIES} frequencies.
   *
   * @param in the sample
   * @return whether the tip is in fluid, so that there are features
   */
  public boolean add(ControllerInput in) {
    double log = 0;
    for (int i = FREQUENCIES - 1; i >= 0; i--) {
      double re = in.zRealMilliOhms[i];
      double im = in.zImagMilliOhms[i];
      double size = Elementary.log(1e-6 * Math.max(1, re * re + im * im)) / 2;
      double phase = Elementary.atan2(im, re);
      if (i == FREQUENCIES - 1) {
        log = size;
        sample[CHANNELS] = -size;
      } else {
        sample[i] = size - log;
      }
      sample[FREQUENCIES - 1 + i] = phase;
    }
    if (sample[FREQUENCIES - 1] < DRY_PHASE) {
      forget();
      return false;
    }
    if (begun && Math.abs(sample[CHANNELS] - now[CHANNELS]) > LOST) {
      forget();
    }
    long apartNs = in.sampleTimeNs - sampleTimeNs;
    double share = begun ? share(apartNs > 0 ? apartNs : UNTIMED_NS) : 1;
    lagNs = (1 - share) * (lagNs + apartNs);
    sampleTimeNs = in.sampleTimeNs;
    begun = true;
    for (int c = 0; c <= CHANNELS; c++) {
      now[c] += share * (sample[c] - now[c]);
    }
    if (wet || now[FREQUENCIES - 1] > SETTLED_PHASE) {
      remember();
    } else {
      lowest = STEPS;
    }
    return true;
  }

  /** Share of a new sample in the smoothed reading. */
  static double share(long apartNs) {
    double counts = SMOOTHING * apartNs;
    return counts / (counts + REST_NS);
  }

  private void remember() {
    current = Math.max(0, Math.min(STEPS - 1, (int) ((now[CHANNELS] - LEAST) / STEP)));
    lowest = wet ? Math.min(lowest, current) : current;
    wet = true;
    readings[current] = Math.min(MEMORY, readings[current] + 1);
    int at = current * (CHANNELS + 1);
    double share = 1.0 / readings[current];
    for (int c = 0; c <= CHANNELS; c++) {
      mean[at + c] =
          readings[current] == 1 ? now[c] : mean[at + c] + share * (now[c] - mean[at + c]);
    }
  }

  /**
   * How old the smoothed reading is: the mean age of its samples, each as it counts.
   *
   * @return ns before the newest sample
   */
  public double lagNs() {
    return lagNs;
  }

  /**
   * Writes the features of the approach so far.
   *
   * @param out receives {@link #FEATURES} numbers
   */
  public void features(double[] out) {
    int n = 0;
    out[n++] = now[CHANNELS] + 9;
    for (int c = 0; c < CHANNELS; c++) {
      out[n++] = now[c];
    }
    for (double back : BACK) {
      double wanted = now[CHANNELS] - back;
      int below = stepBelow(wanted);
      if (below < 0) {
        for (int c = 0; c <= CHANNELS; c++) {
          out[n++] = 0;
        }
        continue;
      }
      int above = stepAbove(below);
      int a = below * (CHANNELS + 1);
      int b = above * (CHANNELS + 1);
      double span = mean[b + CHANNELS] - mean[a + CHANNELS];
      double share = span > 0 ? Math.min(1, (wanted - mean[a + CHANNELS]) / span) : 0;
      double first = mean[lowest * (CHANNELS + 1) + CHANNELS];
      double weight = Math.min(1, (wanted - first) / FADE);
      for (int c = 0; c < CHANNELS; c++) {
        double then = mean[a + c] + share * (mean[b + c] - mean[a + c]);
        out[n++] = weight * (then - now[c]);
      }
      out[n++] = weight;
    }
  }

  /** The nearest step that was read and whose mean is not above a value; -1 is none. */
  private int stepBelow(double wanted) {
    int i = Math.min(current, Math.max(-1, (int) Math.floor((wanted - LEAST) / STEP)));
    while (i >= lowest && (readings[i] == 0 || mean[i * (CHANNELS + 1) + CHANNELS] > wanted)) {
      i--;
    }
    return i >= lowest ? i : -1;
  }

  /** The next step above one that was read, up to the present one. */
  private int stepAbove(int below) {
    int i = below + 1;
    while (i < current && readings[i] == 0) {
      i++;
    }
    return Math.min(i, current);
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(StateHash.mix(hash, begun), wet);
    if (begun) {
      h = StateHash.mix(h, ((long) lowest << 32) | current);
      h = StateHash.mix(h, lagNs);
      for (double value : now) {
        h = StateHash.mix(h, value);
      }
    }
    return h;
  }
}
