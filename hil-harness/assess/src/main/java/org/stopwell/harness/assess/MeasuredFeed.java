package org.stopwell.harness.assess;

import java.util.Arrays;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

/**
 * What a controller would have to go by if it knew the way of the file as well: the reading now,
 * and how it differed at fixed distances back, in millimetres, without an error. The core orders an
 * approach by its readings instead, because a hand tells it no way; the difference is what a scale
 * on the feed could be worth at most.
 */
final class MeasuredFeed {
  private static final double[] BACK_MM = {
    0.1, 0.2, 0.3, 0.45, 0.6, 0.8, 1.0, 1.3, 1.7, 2.2, 3, 4, 6, 8
  };
  private static final int CHANNELS = 2 * ControllerInput.MAX_FREQUENCIES;

  /** How many numbers the features are. */
  static final int INPUTS = CHANNELS + BACK_MM.length * (CHANNELS + 1) + 2;

  /** Readings per canal near the foramen and further away: as many as the memory gives, about. */
  private static final int NEAR = 14;

  private static final int FAR = 10;
  private static final double NEAR_MM = 1.6;
  private static final double FAR_MM = 4.5;
  private static final double PAST_MM = -0.5;

  private MeasuredFeed() {}

  static void watch(TrainingApproach approach, Scene scene, RandomStream random, Examples found) {
    double[] now = new double[CHANNELS];
    double[] then = new double[CHANNELS];
    double[] features = new double[INPUTS];
    for (int i = 0; i < NEAR + FAR; i++) {
      double place =
          i < NEAR ? random.nextBetween(PAST_MM, NEAR_MM) : random.nextBetween(NEAR_MM, FAR_MM);
      Arrays.fill(features, 0);
      int n = CHANNELS;
      for (double back : BACK_MM) {
        boolean wet = approach.read(place + back, then);
        for (int c = 0; c < CHANNELS; c++) {
          features[n++] = wet ? then[c] : 0;
        }
        features[n++] = wet ? 1 : 0;
      }
      features[n++] = TrainingApproach.size(scene);
      features[n] = TrainingApproach.taperPercent(scene);
      if (approach.read(place, now)) {
        difference(features, now);
        found.add(approach, features, new double[0]);
      }
    }
  }

  private static void difference(double[] features, double[] now) {
    System.arraycopy(now, 0, features, 0, CHANNELS);
    for (int b = 0; b < BACK_MM.length; b++) {
      int at = CHANNELS + b * (CHANNELS + 1);
      for (int c = 0; c < CHANNELS; c++) {
        features[at + c] -= features[at + CHANNELS] * now[c];
      }
    }
  }
}
