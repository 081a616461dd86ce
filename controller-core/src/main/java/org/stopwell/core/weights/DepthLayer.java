package org.stopwell.core.weights;

/**
 * One layer of a network in whole numbers. Immutable.
 *
 * <p>A layer adds 16-bit inputs times 16-bit weights in 32 bits. The constructor refuses weights
 * whose sum could overflow, so the order of the sum does not matter and a processor that multiplies
 * two pairs at once gives the same bits. The sum is brought to the scale of the output by one
 * multiplication and one shift; a half is rounded up.
 */
public final class DepthLayer {
  /** Greatest magnitude of an input and of a weight. */
  public static final int MOST = 32_767;

  /** Greatest shift. */
  public static final int MOST_SHIFT = 62;

  private final int inputs;
  private final int outputs;

  // a row per input, and the offsets in the last: each row is an array of its own, since a compiler
  // works on many columns at once only where it sees no two rows in one array
  private final int[][] rows;
  private final int[] multipliers;
  private final int shift;

  /**
   * A layer.
   *
   * @param rows weight to every output, a row per input, and a last row of offsets
   * @param multipliers per output, from 0 up
   * @param shift bits by which a multiplied sum is shifted down, 1 to {@link #MOST_SHIFT}
   * @throws IllegalArgumentException when the sizes do not fit, a number is outside of its limits,
   *     or a sum could overflow 32 bits
   */
  public DepthLayer(int[][] rows, int[] multipliers, int shift) {
    this.inputs = rows.length - 1;
    this.outputs = multipliers.length;
    this.rows = new int[rows.length][];
    this.multipliers = multipliers.clone();
    this.shift = shift;
    for (int i = 0; i < rows.length; i++) {
      if (rows[i].length != outputs) {
        throw new IllegalArgumentException(
            "row " + i + " has " + rows[i].length + " numbers; it must have " + outputs);
      }
      this.rows[i] = rows[i].clone();
    }
    if (!(shift >= 1 && shift <= MOST_SHIFT)) {
      throw new IllegalArgumentException("shift " + shift + " is outside 1 to " + MOST_SHIFT);
    }
    for (int j = 0; j < outputs; j++) {
      check(j);
    }
  }

  private void check(int output) {
    long most = Math.abs((long) rows[inputs][output]);
    for (int i = 0; i < inputs; i++) {
      int weight = rows[i][output];
      if (!(weight >= -MOST && weight <= MOST)) {
        throw new IllegalArgumentException(
            "weight " + weight + " of output " + output + " is outside " + -MOST + " to " + MOST);
      }
      most += Math.abs((long) weight) * MOST;
    }
    if (!(most <= Integer.MAX_VALUE)) {
      throw new IllegalArgumentException(
          "the sum of output " + output + " can reach " + most + ", above " + Integer.MAX_VALUE);
    }
    if (!(multipliers[output] >= 0)) {
      throw new IllegalArgumentException(
          "multiplier " + multipliers[output] + " of output " + output + " is below 0");
    }
  }

  /**
   * How many numbers come in.
   *
   * @return the number of inputs
   */
  public int inputs() {
    return inputs;
  }

  /**
   * How many numbers come out.
   *
   * @return the number of outputs
   */
  public int outputs() {
    return outputs;
  }

  /**
   * A weight.
   *
   * @param input which input
   * @param output of which output
   * @return −32 767 to 32 767
   */
  public int weight(int input, int output) {
    return rows[input][output];
  }

  /**
   * What the sum of an output begins with.
   *
   * @param output which output
   * @return 32 bits
   */
  public int offset(int output) {
    return rows[inputs][output];
  }

  /**
   * What the sum of an output is multiplied by.
   *
   * @param output which output
   * @return from 0 up
   */
  public int multiplier(int output) {
    return multipliers[output];
  }

  /**
   * By how many bits a multiplied sum is shifted down.
   *
   * @return 1 to {@link #MOST_SHIFT}
   */
  public int shift() {
    return shift;
  }

  /** The greatest magnitude of a weight. */
  int most() {
    int most = 0;
    for (int i = 0; i < inputs; i++) {
      for (int weight : rows[i]) {
        most = Math.max(most, Math.abs(weight));
      }
    }
    return most;
  }

  /** Works out the outputs, each held within a limit either way. */
  void run(int[] from, int[] to, int limit) {
    System.arraycopy(rows[inputs], 0, to, 0, outputs);
    int i = 0;
    for (; i + 4 <= inputs; i += 4) {
      addFour(to, rows, i, from);
    }
    for (; i < inputs; i++) {
      int[] row = rows[i];
      int times = from[i];
      int count = row.length;
      for (int j = 0; j < count; j++) {
        to[j] += times * row[j];
      }
    }
    if (shift >= Integer.SIZE) {
      scaleByHighWord(to, multipliers, shift, limit);
    } else {
      scale(to, multipliers, shift, limit);
    }
  }

  private static void scale(int[] to, int[] multipliers, int shift, int limit) {
    long half = 1L << (shift - 1);
    int count = multipliers.length;
    for (int j = 0; j < count; j++) {
      long scaled = ((long) to[j] * multipliers[j] + half) >> shift;
      to[j] = (int) Math.max(-limit, Math.min(limit, scaled));
    }
  }

  /** The same where the lower word is shifted out: a third of the work for a small processor. */
  private static void scaleByHighWord(int[] to, int[] multipliers, int shift, int limit) {
    long half = 1L << (shift - 1);
    int rest = shift - Integer.SIZE;
    int count = multipliers.length;
    for (int j = 0; j < count; j++) {
      int high = (int) (((long) to[j] * multipliers[j] + half) >> Integer.SIZE);
      to[j] = Math.max(-limit, Math.min(limit, high >> rest));
    }
  }

  /** Four rows at once: one by one waits for memory and not for sums. */
  private static void addFour(int[] to, int[][] rows, int at, int[] times) {
    int[] one = rows[at];
    int[] two = rows[at + 1];
    int[] three = rows[at + 2];
    int[] four = rows[at + 3];
    int a = times[at];
    int b = times[at + 1];
    int c = times[at + 2];
    int d = times[at + 3];
    int count = one.length; // a store could change it, for all that a compiler of C can see
    for (int j = 0; j < count; j++) {
      to[j] += a * one[j] + b * two[j] + c * three[j] + d * four[j];
    }
  }
}
