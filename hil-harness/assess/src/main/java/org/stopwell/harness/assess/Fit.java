package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.rig.random.RandomStream;

/**
 * Fits a {@link FloatNetwork} to examples. Estimates are fitted by least squares, standard errors
 * to the mean square of what is left. This is the likelihood of a Gaussian with its own standard
 * error (Nix and Weigend, Proc IEEE ICNN 1994;1:55, from memory), with every example weighted by
 * the square of that standard error (Seitzer et al., ICLR 2022, arXiv 2203.09168, exponent 1, from
 * memory): without the weight the fit learns least where it is worst. The optimiser is Adam (Kingma
 * and Ba, arXiv 1412.6980). The order of the sums is fixed, so the same examples give the same
 * weights on any number of cores.
 */
final class Fit {
  private static final int BATCH = 256;
  private static final double FASTEST = 2e-3;
  private static final float SLOPE = 0.05f;
  private static final float REACH = 5;
  private static final float MOST_PULL = 10;

  /**
   * Every input of an example is moved by up to this each time it is used, in standard deviations,
   * so that the estimate does not depend on small differences between tooth models (Bishop, Neural
   * Comput 1995;7:108, from memory). The root mean square is 0.05. The comparison of sizes is in
   * docs/research/depth-estimate.md.
   */
  private static final double SHAKE = 0.087;

  /** Weight of each other target against the first. */
  private static final float OTHERS = 0.05f;

  /** A batch is divided into this many shares; fixed, so that their sum is. */
  private static final int SHARES = 2;

  /** Examples that are processed at once. */
  private static final int BLOCK = 4;

  private final int[] sizes;
  private final int corrected;
  private final float[] mean;
  private final float[] scale;

  // per layer: a row per input and a row of offsets. Every row is an array of its own, because the
  // compiler vectorises only where it can tell two rows apart
  private final float[][][] weights;
  private final float[][][] first;
  private final float[][][] second;

  /** The weights transposed, without the offsets. */
  private final float[][][] across;

  private final Share[] shares = new Share[SHARES];
  private int steps;

  private Fit(int[] sizes, int corrected, float[] mean, float[] scale, RandomStream random) {
    this.sizes = sizes;
    this.corrected = corrected;
    this.mean = mean;
    this.scale = scale;
    weights = tables();
    first = tables();
    second = tables();
    across = new float[weights.length][][];
    for (int l = 0; l < weights.length; l++) {
      across[l] = new float[sizes[l + 1]][sizes[l]];
      double spread = StrictMath.sqrt(1.5 / sizes[l]);
      for (int i = 0; i < sizes[l]; i++) {
        for (int j = 0; j < sizes[l + 1]; j++) {
          weights[l][i][j] = (float) (spread * random.nextGaussian());
        }
      }
      exchange(l);
    }
    Arrays.setAll(shares, s -> new Share(RandomStream.of(random.nextLong(), "shake")));
  }

  private float[][][] tables() {
    float[][][] tables = new float[sizes.length - 1][][];
    Arrays.setAll(tables, l -> new float[sizes[l] + 1][sizes[l + 1]]);
    return tables;
  }

  private void exchange(int l) {
    for (int i = 0; i < sizes[l]; i++) {
      for (int j = 0; j < sizes[l + 1]; j++) {
        across[l][j][i] = weights[l][i][j];
      }
    }
  }

  /**
   * Fits.
   *
   * @param inputs examples, one after the other
   * @param targets the truth of each example, one after the other
   * @param sizes width of every layer; the last is twice the number of targets
   * @param corrected which input the first estimate is a correction of, {@link
   *     FloatNetwork#NOTHING} for none
   * @param rounds how often every example is used
   * @param random source of the first weights and of the order
   * @param progress receives a line after every round
   * @return weights for a {@link FloatNetwork}
   */
  static double[] fit(
      float[] inputs,
      float[] targets,
      int[] sizes,
      int corrected,
      int rounds,
      RandomStream random,
      Consumer<String> progress) {
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
    fit.train(inputs, targets, rounds, random, progress);
    return fit.packed();
  }

  private void train(
      float[] inputs, float[] targets, int rounds, RandomStream random, Consumer<String> progress) {
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
      for (int batch = 0; batch + BATCH <= count; batch += BATCH) {
        int from = batch;
        IntStream.range(0, SHARES)
            .parallel()
            .forEach(s -> shares[s].work(inputs, targets, order, from + s * BATCH / SHARES));
        step(FASTEST * 0.5 * (1 + StrictMath.cos(Math.PI * steps / total)) + 1e-5);
      }
      progress.accept("round " + (round + 1) + " of " + rounds);
    }
  }

  /** The gradient of a fixed share of every batch. */
  private final class Share {
    private final float[][][] values = new float[sizes.length][][];
    private final float[][][] pulls = new float[sizes.length][][];
    private final float[][][] gradient = tables();
    private final RandomStream shake;

    Share(RandomStream shake) {
      this.shake = shake;
      Arrays.setAll(values, l -> new float[BLOCK][sizes[l]]);
      Arrays.setAll(pulls, l -> new float[BLOCK][sizes[l]]);
    }

    void work(float[] inputs, float[] targets, int[] order, int from) {
      for (float[][] table : gradient) {
        for (float[] row : table) {
          Arrays.fill(row, 0);
        }
      }
      for (int k = from; k < from + BATCH / SHARES; k += BLOCK) {
        for (int b = 0; b < BLOCK; b++) {
          forward(inputs, order[k + b] * sizes[0], b);
          judge(inputs, order[k + b] * sizes[0], targets, order[k + b], b);
        }
        for (int l = gradient.length - 1; l >= 0; l--) {
          backward(l);
        }
      }
    }

    private void forward(float[] inputs, int in, int b) {
      float[] from = values[0][b];
      for (int i = 0; i < from.length; i++) {
        float v = (inputs[in + i] - mean[i]) * scale[i];
        v += (float) shake.nextBetween(-SHAKE, SHAKE);
        from[i] = Math.max(-REACH, Math.min(REACH, v));
      }
      for (int l = 0; l < weights.length; l++) {
        float[] to = values[l + 1][b];
        System.arraycopy(weights[l][from.length], 0, to, 0, to.length);
        addRows(to, weights[l], from);
        if (l < weights.length - 1) {
          for (int j = 0; j < to.length; j++) {
            to[j] = Math.max(to[j], SLOPE * to[j]);
          }
        }
        from = to;
      }
    }

    /** The gradient of one example with respect to its estimates. */
    private void judge(float[] inputs, int in, float[] targets, int example, int b) {
      float[] out = values[weights.length][b];
      float[] pull = pulls[weights.length][b];
      out[0] += corrected == FloatNetwork.NOTHING ? 0 : inputs[in + corrected];
      int n = out.length / 2;
      for (int j = 0; j < n; j++) {
        float log = Math.max(-3, Math.min(3, out[n + j]));
        float miss = out[j] - targets[example * n + j];
        float weight = j == 0 ? 1 : OTHERS;
        pull[j] = weight * held(miss);
        pull[n + j] = weight * held((float) StrictMath.exp(2 * log) - miss * miss);
      }
    }

    private void backward(int l) {
      float[][] v = values[l];
      float[][] pull = pulls[l + 1];
      for (int i = 0; i < sizes[l]; i++) {
        addFour(gradient[l][i], pull, 0, v[0][i], v[1][i], v[2][i], v[3][i]);
      }
      addFour(gradient[l][sizes[l]], pull, 0, 1, 1, 1, 1);
      for (int b = 0; l > 0 && b < BLOCK; b++) {
        float[] before = pulls[l][b];
        Arrays.fill(before, 0);
        addRows(before, across[l], pull[b]);
        for (int i = 0; i < before.length; i++) {
          before[i] = v[b][i] > 0 ? before[i] : SLOPE * before[i];
        }
      }
    }
  }

  private static float held(float pull) {
    return Math.max(-MOST_PULL, Math.min(MOST_PULL, pull));
  }

  /** Adds the rows of a table, each multiplied by its factor. */
  private static void addRows(float[] to, float[][] rows, float[] times) {
    int r = 0;
    for (; r + BLOCK <= times.length; r += BLOCK) {
      addFour(to, rows, r, times[r], times[r + 1], times[r + 2], times[r + 3]);
    }
    for (; r < times.length; r++) {
      addOne(to, rows[r], times[r]);
    }
  }

  /** Adds four rows at once: one by one the speed is limited by memory. */
  private static void addFour(
      float[] to, float[][] rows, int at, float a, float b, float c, float d) {
    float[] one = rows[at];
    float[] two = rows[at + 1];
    float[] three = rows[at + 2];
    float[] four = rows[at + 3];
    for (int j = 0; j < to.length; j++) {
      to[j] += a * one[j] + b * two[j] + c * three[j] + d * four[j];
    }
  }

  private static void addOne(float[] to, float[] row, float times) {
    for (int j = 0; j < to.length; j++) {
      to[j] += times * row[j];
    }
  }

  private void step(double rate) {
    steps++;
    float a = (float) (rate / (1 - StrictMath.pow(0.9, steps)));
    float b = (float) (1 / (1 - StrictMath.pow(0.999, steps)));
    for (int l = 0; l < weights.length; l++) {
      for (int row = 0; row < weights[l].length; row++) {
        float[] pull = shares[0].gradient[l][row];
        for (int k = 1; k < SHARES; k++) {
          addOne(pull, shares[k].gradient[l][row], 1);
        }
        adam(weights[l][row], first[l][row], second[l][row], pull, a, b);
      }
      exchange(l);
    }
  }

  private static void adam(float[] w, float[] m, float[] v, float[] pulls, float a, float b) {
    for (int j = 0; j < w.length; j++) {
      float pull = pulls[j] / BATCH;
      m[j] = 0.9f * m[j] + 0.1f * pull;
      v[j] = 0.999f * v[j] + 0.001f * pull * pull;
      w[j] -= a * m[j] / ((float) Math.sqrt(v[j] * b) + 1e-8f);
    }
  }

  private double[] packed() {
    double[] all = new double[FloatNetwork.weightCount(sizes)];
    int n = 0;
    for (int i = 0; i < sizes[0]; i++) {
      all[n++] = mean[i];
      all[n++] = scale[i];
    }
    for (float[][] layer : weights) {
      for (float[] row : layer) {
        for (float w : row) {
          all[n++] = w;
        }
      }
    }
    return all;
  }
}
