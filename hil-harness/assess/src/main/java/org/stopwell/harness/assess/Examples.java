package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.Set;
import java.util.stream.IntStream;

/** Training examples: rows of inputs and of the truth, each of one family of teeth. */
final class Examples {
  final int width;
  final int truths;
  private float[] inputs = new float[0];
  private float[] targets = new float[0];
  private byte[] families = new byte[0];
  private float[] foreign = new float[0];
  private int count;

  Examples(int width, int truths) {
    this.width = width;
    this.truths = truths;
  }

  /** Adds a row; the caller writes its truth at {@link #lastTarget}. */
  void add(double[] row, Family family) {
    reserve(1);
    for (int i = 0; i < width; i++) {
      inputs[count * width + i] = (float) row[i];
    }
    families[count] = (byte) family.ordinal();
    count++;
  }

  /** Where the truth of the newest row begins in {@link #targets}. */
  int lastTarget() {
    return (count - 1) * truths;
  }

  /** Adds all rows of others. */
  void addAll(Examples others) {
    reserve(others.count);
    System.arraycopy(others.inputs, 0, inputs, count * width, others.count * width);
    System.arraycopy(others.targets, 0, targets, count * truths, others.count * truths);
    System.arraycopy(others.families, 0, families, count, others.count);
    count += others.count;
  }

  private void reserve(int more) {
    if (count + more > families.length) {
      int rows = Math.max(count + more, count + count / 2 + 64);
      int before = families.length;
      inputs = Arrays.copyOf(inputs, Math.multiplyExact(rows, width));
      targets = Arrays.copyOf(targets, rows * truths);
      families = Arrays.copyOf(families, rows);
      foreign = Arrays.copyOf(foreign, rows);
      Arrays.fill(foreign, before, rows, Float.NaN);
    }
  }

  int count() {
    return count;
  }

  /** The array itself; rows after the last one are of no meaning. */
  float[] inputs() {
    return inputs;
  }

  /** The array itself. */
  float[] targets() {
    return targets;
  }

  /** The rows of one family, or of all others. */
  int[] rows(Family family, boolean others) {
    return IntStream.range(0, count)
        .filter(i -> (families[i] == family.ordinal()) != others)
        .toArray();
  }

  /** The rows of all families but some. */
  int[] rows(Set<Family> without) {
    return IntStream.range(0, count)
        .filter(i -> !without.contains(Family.values()[families[i]]))
        .toArray();
  }

  int[] rows() {
    return IntStream.range(0, count).toArray();
  }

  /** Error of the first estimate by a network that has not seen the family; NaN when none. */
  float foreignError(int row) {
    return foreign[row];
  }

  /** Takes down the errors of a network that has not seen the family of these rows. */
  void foreign(FloatNetwork network, int[] rows) {
    int block = 4096;
    IntStream.range(0, (rows.length + block - 1) / block)
        .parallel()
        .forEach(
            b -> {
              float[][] room = network.room();
              for (int i = b * block; i < Math.min(rows.length, (b + 1) * block); i++) {
                float[] out = network.run(inputs, rows[i] * width, room);
                foreign[rows[i]] = out[0] - targets[rows[i] * truths];
              }
            });
  }
}
