package org.stopwell.harness.learn;

import java.util.Arrays;
import org.stopwell.core.weights.DepthWeights;

/** The readings of one approach: normalised inputs and the measured distance of each, in order. */
final class TaughtApproach {
  /** A greater distance is learned as this one, mm, as in the training. */
  static final float FAR_MM = 4;

  /** Limits of three parts of the way, mm, and the share of examples from each. */
  private static final float[] PARTS_MM = {1.6f, 3.6f, Float.POSITIVE_INFINITY};

  private static final double[] UP_TO = {0.6, 0.9, 1};

  final String file;
  final String tooth;
  final String fluid;
  final float lengthErrorMm;
  private final float[] inputs;
  private final float[] truth;
  private final float[] start;
  private final boolean anyFile;
  private final float[] ratios;
  private final float[] lowOhms;
  private final int[][] parts = new int[PARTS_MM.length][];

  /**
   * An approach.
   *
   * @param file name of its file
   * @param tooth which tooth
   * @param fluid what filled it
   * @param lengthErrorMm standard uncertainty of the measured length, mm
   * @param inputs normalised inputs, {@link DepthWeights#INPUTS} per reading
   * @param truth measured distance of each reading, mm
   * @param ratios magnitude at the third frequency over that at the first, of each reading
   * @param lowOhms magnitude at the first frequency, Ω
   * @param anyFile whether size and taper of the file are not known, so that they are no input
   */
  TaughtApproach(
      String file,
      String tooth,
      String fluid,
      float lengthErrorMm,
      float[] inputs,
      float[] truth,
      float[] ratios,
      float[] lowOhms,
      boolean anyFile) {
    this.file = file;
    this.tooth = tooth;
    this.fluid = fluid;
    this.lengthErrorMm = lengthErrorMm;
    this.inputs = inputs;
    this.truth = truth;
    this.anyFile = anyFile;
    this.ratios = ratios;
    this.lowOhms = lowOhms;
    start = new float[2 * DepthWeights.TARGETS * truth.length];
    int[][] found = new int[PARTS_MM.length][truth.length];
    int[] counts = new int[PARTS_MM.length];
    for (int k = 0; k < truth.length; k++) {
      int part = 0;
      while (!(truth[k] < PARTS_MM[part])) {
        part++;
      }
      found[part][counts[part]++] = k;
    }
    Arrays.setAll(parts, p -> Arrays.copyOf(found[p], counts[p]));
  }

  int readings() {
    return truth.length;
  }

  /** The measured distance of a reading, mm. */
  float truth(int reading) {
    return truth[reading];
  }

  /** Magnitude at the third frequency over that at the first. */
  float ratio(int reading) {
    return ratios[reading];
  }

  /** Magnitude at the first frequency, Ω. */
  float lowOhms(int reading) {
    return lowOhms[reading];
  }

  /** The distance that a reading is taught as, mm. */
  float target(int reading) {
    return Math.min(FAR_MM, truth[reading]);
  }

  /** Copies the inputs of a reading. */
  void inputs(int reading, float[] to) {
    System.arraycopy(inputs, reading * to.length, to, 0, to.length);
  }

  /** Clears the inputs that this approach does not know. */
  void blank(float[] in) {
    if (anyFile) {
      in[in.length - 2] = 0;
      in[in.length - 1] = 0;
    }
  }

  /** An output of the shipped weights for a reading. */
  float start(int reading, int output) {
    return start[2 * DepthWeights.TARGETS * reading + output];
  }

  /** Keeps the outputs of the shipped weights. */
  void setStart(int reading, float[] outputs) {
    System.arraycopy(outputs, 0, start, 2 * DepthWeights.TARGETS * reading, outputs.length);
  }

  /** Draws a reading: first a part of the way, then one of its readings. */
  int draw(double part, double which) {
    int p = 0;
    while (part >= UP_TO[p]) {
      p++;
    }
    while (parts[p].length == 0) {
      p = (p + 1) % parts.length;
    }
    return parts[p][(int) (parts[p].length * which)];
  }
}
