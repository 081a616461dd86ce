package org.stopwell.harness.learn;

import static org.stopwell.core.sense.DepthEstimate.REMAINING;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.assess.FloatLayers;
import org.stopwell.rig.random.RandomStream;

/**
 * Moves a network from the shipped weights towards the measured teeth, step by step, and keeps what
 * it is after given numbers of steps. The distance is fitted by least squares, its standard error
 * to the mean square of what is left; all other outputs are held where the shipped weights have
 * them. The optimiser is Adam (Kingma and Ba, arXiv 1412.6980); what is kept is the running mean of
 * its weights (Polyak and Juditsky, SIAM J Control Optim 1992;30:838, from memory), so that every
 * number of steps is a result of its own. One fit is one thread: the same teeth give the same
 * weights on any number of cores.
 */
final class FineTuning {
  private static final int BATCH = 256;
  private static final int BLOCK = 4;

  /** Step of the optimiser. 3e-4 and 1e-3 gave the same within chance. */
  private static final double RATE = 5e-4;

  /** The first steps are shorter. */
  private static final int WARM_UP = 20;

  /** Share of the running mean that stays in a step. */
  private static final double STAYS = 0.995;

  /**
   * Every input is moved by up to this, in standard deviations of the shipped training: the fit
   * sees few teeth and must not follow their differences (Bishop, Neural Comput 1995;7:108, from
   * memory). Of 0.05, 0.1, 0.2 and 0.5 with 50 simulated teeth it read teeth left out best.
   */
  private static final double SHAKE = 0.1;

  /**
   * The logarithm of the admittance is moved by up to this: gain error of the front end and fluid
   * of another conductivity.
   */
  private static final double GAIN = 0.1;

  /** Readings nearer than this count more, mm. */
  private static final float NEAR_MM = 1.6f;

  /** Of 3, 8 and 20 with 50 simulated teeth: 20 gained no more in other teeth. */
  private static final float NEAR_WEIGHT = 8;

  /** Weight of the outputs that have no measured truth. */
  private static final float OTHERS = 0.05f;

  private static final float MOST_PULL = 10;

  private final FloatLayers now;
  private final FloatLayers mean;
  private final List<List<TaughtApproach>> teeth;
  private final RandomStream random;
  private final float gain;
  private final int[] sizes;
  private final float[][][] gradient;
  private final float[][][] first;
  private final float[][][] second;
  private final float[][][] across;
  private final float[][][] values;
  private final float[][][] pulls;
  private int steps;

  /**
   * A fit.
   *
   * @param start weights to start from
   * @param teeth approaches by tooth
   * @param gainScale what normalises the logarithm of the admittance
   * @param random source of the examples
   */
  FineTuning(
      FloatLayers start, List<List<TaughtApproach>> teeth, float gainScale, RandomStream random) {
    now = start.copy();
    mean = start.copy();
    this.teeth = teeth;
    this.random = random;
    gain = (float) GAIN * gainScale;
    sizes = start.sizes();
    gradient = tables();
    first = tables();
    second = tables();
    across = new float[gradient.length][][];
    Arrays.setAll(across, l -> new float[sizes[l + 1]][sizes[l]]);
    for (int l = 0; l < across.length; l++) {
      exchange(l);
    }
    values = new float[sizes.length][][];
    pulls = new float[sizes.length][][];
    Arrays.setAll(values, l -> new float[BLOCK][sizes[l]]);
    Arrays.setAll(pulls, l -> new float[BLOCK][sizes[l]]);
  }

  private float[][][] tables() {
    float[][][] tables = new float[sizes.length - 1][][];
    Arrays.setAll(tables, l -> new float[sizes[l] + 1][sizes[l + 1]]);
    return tables;
  }

  private void exchange(int l) {
    for (int i = 0; i < sizes[l]; i++) {
      float[] row = now.rows()[l][i];
      for (int j = 0; j < row.length; j++) {
        across[l][j][i] = row[j];
      }
    }
  }

  /**
   * Fits.
   *
   * @param marks numbers of steps, ascending, 0 for the start
   * @return the network after each
   */
  List<FloatLayers> run(int[] marks) {
    List<FloatLayers> kept = new ArrayList<>();
    for (int mark : marks) {
      while (steps < mark) {
        step();
      }
      kept.add(mean.copy());
    }
    return kept;
  }

  private void step() {
    steps++;
    for (float[][] table : gradient) {
      for (float[] row : table) {
        Arrays.fill(row, 0);
      }
    }
    for (int k = 0; k < BATCH; k += BLOCK) {
      for (int b = 0; b < BLOCK; b++) {
        example(b);
      }
      for (int l = gradient.length - 1; l >= 0; l--) {
        backward(l);
      }
    }
    double rate = RATE * Math.min(1, steps / (double) WARM_UP);
    float a = (float) (rate / (1 - StrictMath.pow(0.9, steps)));
    float b = (float) (1 / (1 - StrictMath.pow(0.999, steps)));
    float keep = (float) Math.min(STAYS, steps / (steps + 10.0));
    for (int l = 0; l < gradient.length; l++) {
      for (int i = 0; i < gradient[l].length; i++) {
        float[] w = now.rows()[l][i];
        adam(w, first[l][i], second[l][i], gradient[l][i], a, b);
        float[] m = mean.rows()[l][i];
        for (int j = 0; j < w.length; j++) {
          m[j] += (1 - keep) * (w[j] - m[j]);
        }
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

  /** Draws a tooth, one of its approaches, and one of its readings: every tooth counts the same. */
  private void example(int b) {
    List<TaughtApproach> tooth = teeth.get((int) (teeth.size() * random.nextDouble()));
    TaughtApproach approach = tooth.get((int) (tooth.size() * random.nextDouble()));
    int reading = approach.draw(random.nextDouble(), random.nextDouble());
    float[] in = values[0][b];
    approach.inputs(reading, in);
    for (int i = 0; i < in.length; i++) {
      in[i] += (float) random.nextBetween(-SHAKE, SHAKE);
    }
    in[0] += (float) random.nextBetween(-gain, gain);
    approach.blank(in);
    for (int l = 0; l < gradient.length; l++) {
      float[] from = values[l][b];
      float[] to = values[l + 1][b];
      System.arraycopy(now.rows()[l][from.length], 0, to, 0, to.length);
      FloatLayers.addRows(to, now.rows()[l], from);
      if (l < gradient.length - 1) {
        for (int j = 0; j < to.length; j++) {
          to[j] = Math.max(to[j], now.slope() * to[j]);
        }
      }
    }
    judge(approach, reading, values[gradient.length][b], pulls[gradient.length][b]);
  }

  private static void judge(TaughtApproach approach, int reading, float[] out, float[] pull) {
    int n = DepthWeights.TARGETS;
    for (int j = 0; j < n; j++) {
      boolean depth = j == REMAINING;
      float truth = depth ? approach.target(reading) : approach.start(reading, j);
      float weight = !depth ? OTHERS : truth < NEAR_MM ? NEAR_WEIGHT : 1;
      float miss = out[j] - truth;
      pull[j] = weight * held(miss);
      float log = Math.max(-FloatLayers.MOST_LOG, Math.min(FloatLayers.MOST_LOG, out[n + j]));
      pull[n + j] =
          depth
              ? held((float) StrictMath.exp(2 * log) - miss * miss)
              : OTHERS * held(out[n + j] - approach.start(reading, n + j));
    }
  }

  private static float held(float pull) {
    return Math.max(-MOST_PULL, Math.min(MOST_PULL, pull));
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
        before[i] = v[b][i] > 0 ? before[i] : now.slope() * before[i];
      }
    }
  }
}
