package org.stopwell.harness.assess;

import java.util.Arrays;
import org.stopwell.core.sense.DepthEstimate;

/** Training examples: rows of inputs and of the truth. */
final class Examples {
  final int width;
  private float[] inputs = new float[0];
  private float[] targets = new float[0];
  private int count;

  Examples(int width) {
    this.width = width;
  }

  /** Adds a row of inputs and the truth of the approach. */
  void add(TrainingApproach approach, double[] row) {
    reserve(1);
    for (int i = 0; i < width; i++) {
      inputs[count * width + i] = (float) row[i];
    }
    approach.truth(targets, count * DepthEstimate.TARGETS);
    count++;
  }

  /** Adds all rows of others. */
  void addAll(Examples others) {
    reserve(others.count);
    int truths = DepthEstimate.TARGETS;
    System.arraycopy(others.inputs, 0, inputs, count * width, others.count * width);
    System.arraycopy(others.targets, 0, targets, count * truths, others.count * truths);
    count += others.count;
  }

  private void reserve(int more) {
    if ((count + more) * width > inputs.length) {
      int rows = Math.max(count + more, 2 * count + 64);
      inputs = Arrays.copyOf(inputs, rows * width);
      targets = Arrays.copyOf(targets, rows * DepthEstimate.TARGETS);
    }
  }

  int count() {
    return count;
  }

  float[] inputs() {
    return Arrays.copyOf(inputs, count * width);
  }

  float[] targets() {
    return Arrays.copyOf(targets, count * DepthEstimate.TARGETS);
  }
}
