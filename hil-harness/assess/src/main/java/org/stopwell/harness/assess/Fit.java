package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.rig.random.RandomStream;

/**
 * Fits a {@link FloatNetwork} to examples. Estimates are fitted by least squares; the logarithm of
 * each standard error by the likelihood of a Gaussian around the estimate as it stands (Nix and
 * Weigend, Proc IEEE ICNN 1994;1:55, from memory). The two do not pull on each other: a likelihood
 * of both learns least where it is worst (Seitzer et al., ICLR 2022, arXiv 2203.09168, from
 * memory). The optimiser is Adam (Kingma and Ba, arXiv 1412.6980). The order of the sums is fixed,
 * so the same examples give the same weights on any number of cores.
 *
 * <p>A second set of errors can take part: those of a fit that has not seen the kind of canal. Half
 * of the time the standard error follows these, so that it holds for canals of an unknown kind too.
 */
final class Fit {
  private static final int BATCH = 1024;
  private static final double FASTEST = 3e-3;
  private static final float SLOPE = FloatNetwork.SLOPE;
  private static final float MOST_PULL = 30;

  /**
   * Every input of an example is moved by up to this each time it is used, in standard deviations,
   * so that the estimate does not depend on small differences between tooth models (Bishop, Neural
   * Comput 1995;7:108, from memory). The root mean square is 0.05. The comparison of sizes is in
   * docs/research/depth-estimate.md.
   */
  private static final double SHAKE = 0.087;

  /** Weight of each other target against the first. */
  private static final float OTHERS = 0.05f;

  /** Weight of a logarithm of a standard error against its estimate. */
  private static final float ERRORS = 0.05f;

  /** A batch is divided into this many shares; fixed, so that their sum is. */
  private static final int SHARES = 16;

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
   * @param examples what to learn from
   * @param rows which of them
   * @param sizes width of every layer; the last is twice the number of targets
   * @param corrected which input the first estimate is a correction of, {@link
   *     FloatNetwork#NOTHING} for none
   * @param rounds how often every example is used
   * @param random source of the first weights and of the order
   * @param progress receives a line after every round
   * @return the network
   */
  static FloatNetwork fit(
      Examples examples,
      int[] rows,
      int[] sizes,
      int corrected,
      int rounds,
      RandomStream random,
      Consumer<String> progress) {
    int width = sizes[0];
    float[] mean = new float[width];
    float[] scale = new float[width];
    float[] inputs = examples.inputs();
    IntStream.range(0, width)
        .parallel()
        .forEach(
            i -> {
              double sum = 0;
              double squares = 0;
              for (int row : rows) {
                double v = inputs[row * width + i];
                sum += v;
                squares += v * v;
              }
              double m = sum / rows.length;
              mean[i] = (float) m;
              scale[i] =
                  (float) (1 / StrictMath.sqrt(Math.max(1e-12, squares / rows.length - m * m)));
            });
    Fit fit = new Fit(sizes.clone(), corrected, mean, scale, random);
    fit.train(examples, rows.clone(), rounds, random, progress);
    return new FloatNetwork(fit.sizes, corrected, mean, scale, fit.weights);
  }

  private void train(
      Examples examples, int[] order, int rounds, RandomStream random, Consumer<String> progress) {
    int count = order.length;
    int batch = Math.min(BATCH, count / (SHARES * BLOCK) * SHARES * BLOCK);
    int total = rounds * (count / batch);
    for (int round = 0; round < rounds; round++) {
      for (int i = count - 1; i > 0; i--) {
        int j = (int) ((i + 1) * random.nextDouble());
        int swap = order[i];
        order[i] = order[j];
        order[j] = swap;
      }
      for (int from = 0; from + batch <= count; from += batch) {
        int start = from;
        int share = batch / SHARES;
        IntStream.range(0, SHARES)
            .parallel()
            .forEach(s -> shares[s].work(examples, order, start + s * share, share));
        step(FASTEST * 0.5 * (1 + StrictMath.cos(Math.PI * steps / total)) + 1e-5, batch);
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

    void work(Examples examples, int[] order, int from, int count) {
      for (float[][] table : gradient) {
        for (float[] row : table) {
          Arrays.fill(row, 0);
        }
      }
      float[] inputs = examples.inputs();
      for (int k = from; k < from + count; k += BLOCK) {
        for (int b = 0; b < BLOCK; b++) {
          forward(inputs, order[k + b] * sizes[0], b);
          judge(examples, order[k + b], b);
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
        from[i] = FloatNetwork.held(v);
      }
      for (int l = 0; l < weights.length; l++) {
        float[] to = values[l + 1][b];
        System.arraycopy(weights[l][from.length], 0, to, 0, to.length);
        FloatLayers.addRows(to, weights[l], from);
        if (l < weights.length - 1) {
          for (int j = 0; j < to.length; j++) {
            to[j] = Math.max(to[j], SLOPE * to[j]);
          }
        }
        from = to;
      }
    }

    /** The gradient of one example with respect to its estimates. */
    private void judge(Examples examples, int example, int b) {
      float[] out = values[weights.length][b];
      float[] pull = pulls[weights.length][b];
      out[0] += corrected < 0 ? 0 : examples.inputs()[example * sizes[0] + corrected];
      int n = out.length / 2;
      float foreign = examples.foreignError(example);
      boolean useForeign = !Float.isNaN(foreign) && shake.nextDouble() < 0.5;
      for (int j = 0; j < n; j++) {
        float log = FloatNetwork.heldLog(out[n + j]);
        float miss = out[j] - examples.targets()[example * n + j];
        float weight = j == 0 ? 1 : OTHERS;
        float felt = j == 0 && useForeign ? foreign : miss;
        pull[j] = weight * held(miss);
        pull[n + j] = weight * ERRORS * held(1 - felt * felt * (float) StrictMath.exp(-2 * log));
      }
    }

    private void backward(int l) {
      float[][] v = values[l];
      float[][] pull = pulls[l + 1];
      for (int i = 0; i < sizes[l]; i++) {
        FloatLayers.addFour(gradient[l][i], pull, 0, v[0][i], v[1][i], v[2][i], v[3][i]);
      }
      FloatLayers.addFour(gradient[l][sizes[l]], pull, 0, 1, 1, 1, 1);
      for (int b = 0; l > 0 && b < BLOCK; b++) {
        float[] before = pulls[l][b];
        Arrays.fill(before, 0);
        FloatLayers.addRows(before, across[l], pull[b]);
        for (int i = 0; i < before.length; i++) {
          before[i] = v[b][i] > 0 ? before[i] : SLOPE * before[i];
        }
      }
    }
  }

  private static float held(float pull) {
    return Math.max(-MOST_PULL, Math.min(MOST_PULL, pull));
  }

  private void step(double rate, int batch) {
    steps++;
    float a = (float) (rate / (1 - StrictMath.pow(0.9, steps)));
    float b = (float) (1 / (1 - StrictMath.pow(0.999, steps)));
    for (int l = 0; l < weights.length; l++) {
      for (int row = 0; row < weights[l].length; row++) {
        float[] pull = shares[0].gradient[l][row];
        for (int k = 1; k < SHARES; k++) {
          FloatLayers.addOne(pull, shares[k].gradient[l][row], 1);
        }
        adam(weights[l][row], first[l][row], second[l][row], pull, a, b, batch);
      }
      exchange(l);
    }
  }

  private static void adam(
      float[] w, float[] m, float[] v, float[] pulls, float a, float b, int batch) {
    for (int j = 0; j < w.length; j++) {
      float pull = pulls[j] / batch;
      m[j] = 0.9f * m[j] + 0.1f * pull;
      v[j] = 0.999f * v[j] + 0.001f * pull * pull;
      w[j] -= a * m[j] / ((float) Math.sqrt(v[j] * b) + 1e-8f);
    }
  }
}
