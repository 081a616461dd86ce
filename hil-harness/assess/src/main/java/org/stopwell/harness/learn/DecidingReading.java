package org.stopwell.harness.learn;

import static org.stopwell.core.sense.DepthEstimate.REMAINING;

import java.util.List;
import java.util.Optional;
import org.stopwell.core.weights.DepthPass;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.assess.FloatLayers;

/**
 * The reading at which a controller with a standoff of 0.5 mm would decide to stop: the first one
 * below {@value #BELOW_MM} mm.
 *
 * @param approach the approach
 * @param stopped whether there is such a reading
 * @param estimateMm the estimate there
 * @param errorMm its standard error
 * @param truthMm the measured distance there
 */
record DecidingReading(
    TaughtApproach approach, boolean stopped, double estimateMm, double errorMm, double truthMm) {
  /** A reading below this decides, mm. */
  static final double BELOW_MM = 0.55;

  /** The standoff, mm. */
  static final double STANDOFF_MM = 0.5;

  /** A stop within this of the standoff is good, mm. */
  static final double WITHIN_MM = 0.5;

  /** What gives outputs for a reading: distance first, logarithm of its error second. */
  interface Estimate {
    void of(TaughtApproach approach, int reading, double[] out);
  }

  /** The estimate of a network with fractions. */
  static Estimate by(FloatLayers layers) {
    float[][] values = layers.values();
    return (approach, reading, out) -> {
      approach.inputs(reading, values[0]);
      float[] found = layers.run(values);
      out[0] = found[REMAINING];
      out[1] = held(found[FloatLayers.LOG_ERROR]);
    };
  }

  /** The estimate of a network as a controller runs it. */
  static Estimate by(DepthPass pass, StartWeights start) {
    float[] normalised = new float[DepthWeights.INPUTS];
    return (approach, reading, out) -> {
      approach.inputs(reading, normalised);
      start.features(normalised, 0, pass.inputs());
      pass.run();
      out[0] = pass.output(REMAINING);
      out[1] = pass.output(FloatLayers.LOG_ERROR);
    };
  }

  /** The estimate of the weights that the teaching starts from. */
  static Estimate untaught() {
    return (approach, reading, out) -> {
      out[0] = approach.start(reading, REMAINING);
      out[1] = held(approach.start(reading, FloatLayers.LOG_ERROR));
    };
  }

  private static double held(double log) {
    return Math.max(-FloatLayers.MOST_LOG, Math.min(FloatLayers.MOST_LOG, log));
  }

  static DecidingReading of(TaughtApproach approach, Estimate estimate) {
    double[] out = new double[2];
    for (int k = 0; k < approach.readings(); k++) {
      estimate.of(approach, k, out);
      if (out[0] < BELOW_MM) {
        return new DecidingReading(
            approach, true, out[0], StrictMath.exp(out[1]), approach.truth(k));
      }
    }
    return new DecidingReading(approach, false, 0, 0, 0);
  }

  /** What the stop is off by, mm; positive is short of the standoff. */
  double offMm() {
    return truthMm - STANDOFF_MM;
  }

  boolean within() {
    return stopped && Math.abs(offMm()) <= WITHIN_MM;
  }

  boolean past() {
    return stopped && truthMm < 0;
  }

  /** Error of the reading with the uncertainty of the measured length, over its standard error. */
  double score() {
    return missMm() / errorMm;
  }

  /** Error of the reading with the uncertainty of the measured length, mm. */
  double missMm() {
    double error = estimateMm - truthMm;
    double length = approach.lengthErrorMm;
    return Math.sqrt(error * error + length * length);
  }

  /**
   * Where the error of readings counts for the choice, mm to the foramen: around the decision, with
   * what is just past the foramen.
   */
  private static boolean near(double mm) {
    return mm > -0.4 && mm < 1.5;
  }

  /** Readings of an approach that are looked at for the loss. */
  private static final int LOOKED_AT = 60;

  /**
   * How badly a network reads an approach around the decision: mean square of the error over 0.5
   * mm, each held below 1, so that a tooth that nothing can read does not decide alone.
   */
  static double loss(TaughtApproach approach, Estimate estimate) {
    int near = 0;
    for (int k = 0; k < approach.readings(); k++) {
      near += near(approach.truth(k)) ? 1 : 0;
    }
    int every = Math.max(1, near / LOOKED_AT);
    double[] out = new double[2];
    double sum = 0;
    int count = 0;
    int seen = 0;
    for (int k = 0; k < approach.readings(); k++) {
      if (near(approach.truth(k)) && seen++ % every == 0) {
        estimate.of(approach, k, out);
        double miss = (out[0] - approach.truth(k)) / WITHIN_MM;
        sum += Math.min(1, miss * miss);
        count++;
      }
    }
    return count == 0 ? 1 : sum / count;
  }

  /** Mean loss over teeth, of the mean over the approaches of each. */
  static double meanLoss(List<List<TaughtApproach>> teeth, Estimate estimate) {
    double sum = 0;
    for (List<TaughtApproach> tooth : teeth) {
      double own = 0;
      for (TaughtApproach approach : tooth) {
        own += loss(approach, estimate);
      }
      sum += own / tooth.size();
    }
    return sum / teeth.size();
  }

  /** The bound that a factor states, mm; empty without a factor. */
  Optional<Double> boundMm(Optional<Double> factor) {
    return factor.map(f -> f * errorMm);
  }
}
