package org.stopwell.harness.assess;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.sense.ApproachMemory;
import org.stopwell.core.sense.DepthEstimate;
import org.stopwell.rig.bench.Scene;

/** The inputs of the network of a single approach, as the core makes them. */
final class TrainingFeatures {
  private final ApproachMemory memory = new ApproachMemory();
  private final double[] values = new double[DepthEstimate.INPUTS];
  private final float[] floats = new float[DepthEstimate.INPUTS];

  TrainingFeatures(Scene scene) {
    values[ApproachMemory.FEATURES] = TrainingApproach.size(scene);
    values[ApproachMemory.FEATURES + 1] = TrainingApproach.taperPercent(scene);
  }

  boolean add(ControllerInput in) {
    return memory.add(in);
  }

  double[] doubles() {
    memory.features(values);
    return values;
  }

  float[] floats() {
    doubles();
    for (int i = 0; i < values.length; i++) {
      floats[i] = (float) values[i];
    }
    return floats;
  }
}
