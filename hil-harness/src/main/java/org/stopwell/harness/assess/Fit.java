package org.stopwell.harness.assess;

import java.util.Arrays;
import org.stopwell.core.sense.DepthNetwork;
import org.stopwell.rig.random.RandomStream;

/**
 * Fits a {@link DepthNetwork} to examples by the likelihood of a Gaussian with a standard error per
 * estimate (Nix and Weigend, Proc IEEE ICNN 1994;1:55, from memory), with the steps of Adam (Kingma
 * and Ba, arXiv 1412.6980). One thread, a fixed order: the same examples give the same weights.
 */
final class Fit {
  private static final int BATCH = 256;
  private static final double FASTEST = 2e-3;
  private static final float SLOPE = 0.05f;
  private static final float REACH = 5;
  private static final float MOST_PULL = 10;

  /** What the first target counts against each of the others. */
  private static final float OTHERS = 0.05f;

  private final int[] sizes;
  private final int corrected;
  private final float[][] weights;
  private final float[][] first;
  private final float[][] second;
  private final float[][] gradient;
  private final float[][] values;
  private final float[][] pulls;
  private final float[] mean;
  private final float[] scale;
  private int steps;

  private Fit(int[] sizes, int corrected, float[] mean, float[] scale, RandomStream random) {
    this.sizes = sizes;
    this.corrected = corrected;
    this.mean = mean;
    this.scale = scale;
    int layers = sizes.length - 1;
    weights = new float[layers][];
    first = new float[layers][];
    second = new float[layers][];
    gradient = new float[layers][];
    values = new float[sizes.length][];
    pulls = new float[sizes.length][];
    for (int l = 0; l < layers; l++) {
      int n = (sizes[l] + 1) * sizes[l + 1];
      weights[l] = new float[n];
      first[l] = new float[n];
      second[l] = new float[n];
      gradient[l] = new float[n];
      double spread = StrictMath.sqrt(1.5 / sizes[l]);
      for (int i = 0; i < sizes[l] * sizes[l + 1]; i++) {
        weights[l][i] = (float) (spread * random.nextGaussian());
      }
    }
    for (int l = 0; l < sizes.length; l++) {
      values[l] = new float[sizes[l]];
      pulls[l] = new float[sizes[l]];
    }
  }

  /**
   * Fits.
   *
   * @param inputs examples, one after the other
   * @param targets what is really so, one after the other
   * @param sizes width of every layer; the last is twice the number of targets
   * @param corrected which input the first estimate is a correction of, {@link
   *     DepthNetwork#NOTHING} for none
   * @param rounds how often every example is seen
   * @param random where the first weights and the order come from
   * @return weights for a {@link DepthNetwork}
   */
  static double[] fit(
      float[] inputs,
      float[] targets,
      int[] sizes,
      int corrected,
      int rounds,
      RandomStream random) {
    int width = sizes[0];
    int count = inputs.length / width;
    float[] mean = new float[width];
    float[] scale = new float[width];
    for (int i = 0; i < width; i++) {
      double sum = 0;
      double squares = 0;
      for (int k = 0; k < count; k++) {
        double v = inputs[k * width + i];
        sum += v;
        squares += v * v;
      }
      double m = sum / count;
      mean[i] = (float) m;
      scale[i] = (float) (1 / StrictMath.sqrt(Math.max(1e-12, squares / count - m * m)));
    }
    Fit fit = new Fit(sizes.clone(), corrected, mean, scale, random);
    fit.train(inputs, targets, rounds, random);
    return fit.packed();
  }

  private void train(float[] inputs, float[] targets, int rounds, RandomStream random) {
    int count = inputs.length / sizes[0];
    int[] order = new int[count];
    Arrays.setAll(order, i -> i);
    int total = rounds * (count / BATCH);
    for (int round = 0; round < rounds; round++) {
      for (int i = count - 1; i > 0; i--) {
        int j = (int) ((i + 1) * random.nextDouble());
        int swap = order[i];
        order[i] = order[j];
        order[j] = swap;
      }
      for (int from = 0; from + BATCH <= count; from += BATCH) {
        for (float[] g : gradient) {
          Arrays.fill(g, 0);
        }
        for (int k = from; k < from + BATCH; k++) {
          example(inputs, order[k] * sizes[0], targets, order[k] * sizes[sizes.length - 1] / 2);
        }
        step(FASTEST * 0.5 * (1 + StrictMath.cos(Math.PI * steps / total)) + 1e-5);
      }
    }
  }

  private void example(float[] inputs, int in, float[] targets, int target) {
    for (int i = 0; i < sizes[0]; i++) {
      float v = (inputs[in + i] - mean[i]) * scale[i];
      values[0][i] = Math.max(-REACH, Math.min(REACH, v));
    }
    int last = sizes.length - 1;
    for (int l = 0; l < last; l++) {
      forward(weights[l], values[l], values[l + 1], l < last - 1);
    }
    float[] out = values[last];
    out[0] += corrected == DepthNetwork.NOTHING ? 0 : inputs[in + corrected];
    int n = out.length / 2;
    for (int j = 0; j < n; j++) {
      float log = Math.max(-3, Math.min(3, out[n + j]));
      float precision = (float) StrictMath.exp(-2 * log);
      float miss = out[j] - targets[target + j];
      float weight = j == 0 ? 1 : OTHERS;
      pulls[last][j] = weight * held(miss * precision);
      pulls[last][n + j] = weight * held(1 - miss * miss * precision);
    }
    for (int l = last - 1; l >= 0; l--) {
      backward(weights[l], gradient[l], values[l], pulls[l], pulls[l + 1], l > 0);
    }
  }

  private static float held(float pull) {
    return Math.max(-MOST_PULL, Math.min(MOST_PULL, pull));
  }

  private static void forward(float[] w, float[] from, float[] to, boolean bend) {
    int n = to.length;
    System.arraycopy(w, from.length * n, to, 0, n);
    for (int i = 0; i < from.length; i++) {
      float v = from[i];
      int row = i * n;
      for (int j = 0; j < n; j++) {
        to[j] += v * w[row + j];
      }
    }
    if (bend) {
      for (int j = 0; j < n; j++) {
        to[j] = Math.max(to[j], SLOPE * to[j]);
      }
    }
  }

  private static void backward(
      float[] w, float[] g, float[] from, float[] pullFrom, float[] pullTo, boolean bent) {
    int n = pullTo.length;
    for (int i = 0; i < from.length; i++) {
      float v = from[i];
      int row = i * n;
      for (int j = 0; j < n; j++) {
        g[row + j] += v * pullTo[j];
      }
      if (bent) {
        float sum = 0;
        for (int j = 0; j < n; j++) {
          sum += w[row + j] * pullTo[j];
        }
        pullFrom[i] = v > 0 ? sum : SLOPE * sum;
      }
    }
    int row = from.length * n;
    for (int j = 0; j < n; j++) {
      g[row + j] += pullTo[j];
    }
  }

  private void step(double rate) {
    steps++;
    float a = (float) (rate / (1 - StrictMath.pow(0.9, steps)));
    float b = (float) (1 / (1 - StrictMath.pow(0.999, steps)));
    for (int l = 0; l < weights.length; l++) {
      float[] w = weights[l];
      float[] g = gradient[l];
      float[] m = first[l];
      float[] v = second[l];
      for (int i = 0; i < w.length; i++) {
        float pull = g[i] / BATCH;
        m[i] = 0.9f * m[i] + 0.1f * pull;
        v[i] = 0.999f * v[i] + 0.001f * pull * pull;
        w[i] -= a * m[i] / ((float) Math.sqrt(v[i] * b) + 1e-8f);
      }
    }
  }

  private double[] packed() {
    double[] all = new double[DepthNetwork.weightCount(sizes)];
    int n = 0;
    for (int i = 0; i < sizes[0]; i++) {
      all[n++] = mean[i];
      all[n++] = scale[i];
    }
    for (float[] layer : weights) {
      for (float w : layer) {
        all[n++] = w;
      }
    }
    return all;
  }
}
