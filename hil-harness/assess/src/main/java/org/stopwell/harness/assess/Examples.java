package org.stopwell.harness.assess;

import java.util.Arrays;
import org.stopwell.core.sense.DepthEstimate;

/** Examples to learn from: rows of inputs and of what is really so. */
final class Examples {
  final int width;
  private float[] inputs = new float[0];
  private float[] targets = new float[0];
  private int count;

  Examples(int width) {
    this.width = width;
  }

  /** Adds a row whose inputs are the first numbers of some arrays, and its truth. */
  void add(TrainingApproach approach, double[]... parts) {
    if ((count + 1) * width > inputs.length) {
      inputs =
          Arrays.copyOf(inputs, Math.max(64 * width, 2 * inputs.length) / width * width + width);
      targets = Arrays.copyOf(targets, inputs.length / width * DepthEstimate.TARGETS);
    }
    int at = count * width;
    for (double[] part : parts) {
      for (double v : part) {
        inputs[at++] = (float) v;
      }
    }
    approach.truth(targets, count * DepthEstimate.TARGETS);
    count++;
  }

  /** Adds all rows of others. */
  void addAll(Examples others) {
    int wanted = (count + others.count) * width;
    if (wanted > inputs.length) {
      inputs = Arrays.copyOf(inputs, Math.max(wanted, 2 * inputs.length) / width * width);
      targets = Arrays.copyOf(targets, inputs.length / width * DepthEstimate.TARGETS);
    }
    System.arraycopy(others.inputs, 0, inputs, count * width, others.count * width);
    System.arraycopy(
        others.targets,
        0,
        targets,
        count * DepthEstimate.TARGETS,
        others.count * DepthEstimate.TARGETS);
    count += others.count;
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
