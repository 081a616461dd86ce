package org.stopwell.harness.learn;

import org.stopwell.core.trace.StateHash;
import org.stopwell.core.weights.DepthWeights;

/** A hash of all that was taught. */
final class DataHash {
  private DataHash() {}

  static String of(TaughtTeeth taught) {
    long hash = StateHash.START;
    float[] in = new float[DepthWeights.INPUTS];
    for (TaughtApproach approach : taught.approaches()) {
      for (String word : new String[] {approach.tooth, approach.fluid}) {
        for (int i = 0; i < word.length(); i++) {
          hash = StateHash.mix(hash, word.charAt(i));
        }
        hash = StateHash.mix(hash, -1);
      }
      hash = StateHash.mix(hash, (double) approach.lengthErrorMm);
      for (int k = 0; k < approach.readings(); k++) {
        approach.inputs(k, in);
        hash = StateHash.mix(hash, (double) approach.truth(k));
        for (float value : in) {
          hash = StateHash.mix(hash, (double) value);
        }
      }
    }
    return String.format("%016x", hash);
  }
}
