package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.trace.StateHash;

/**
 * Whether a magnitude has changed from one sample to the next by more than the fastest feed and the
 * noise explain. An estimate over many samples turns such a step into a slow change of the
 * distance, which looks like a file that is drawn back.
 */
final class RawSteps {
  /**
   * Greatest change of a magnitude per way of the tip, as a share of it, 1/µm; assumed: twice the
   * steepest of the canal of length.yaml, 0.45/mm at the foramen.
   */
  private static final double STEEPEST = 1e-3;

  /** Noise allowed, standard deviations of the difference of two magnitudes; assumed. */
  private static final double SIGMAS = 4 * 1.4142135623730951;

  private static final double NS_PER_S = 1e9;

  private final double noise;
  private final double sharePerSecond;
  private final double[] squares = new double[ControllerInput.MAX_FREQUENCIES];
  private boolean known;
  private long sampleTimeNs;

  RawSteps(ParameterValues sense, ParameterValues guard) {
    noise = SIGMAS * sense.get(SenseParameters.FEATURE_NOISE) / 100_000.0;
    sharePerSecond = STEEPEST * guard.get(GuardParameters.JUMP_SPEED);
  }

  /** Takes in a sample; true when it has stepped away from the one before. */
  boolean update(ControllerInput in) {
    double seconds = (in.sampleTimeNs - sampleTimeNs) / NS_PER_S;
    double most = 1 + noise + sharePerSecond * seconds;
    boolean stepped = false;
    for (int i = 0; i < in.frequencyCount; i++) {
      double re = in.zRealMilliOhms[i];
      double im = in.zImagMilliOhms[i];
      double square = re * re + im * im;
      double larger = Math.max(square, squares[i]);
      double smaller = Math.min(square, squares[i]);
      stepped |= known && !(larger <= most * most * smaller);
      squares[i] = square;
    }
    known = true;
    sampleTimeNs = in.sampleTimeNs;
    return stepped;
  }

  void forget() {
    known = false;
  }

  long mixInto(long hash) {
    if (!known) {
      return hash;
    }
    long h = StateHash.mix(hash, sampleTimeNs);
    for (double square : squares) {
      h = StateHash.mix(h, square);
    }
    return h;
  }
}
