package org.stopwell.core.sense;

import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;

/** The position filter as a textbook writes it, with a general matrix library: the reference. */
final class MatrixFilter {
  private static final double START_SPEED_SD = 2_000;
  private static final double STROKE_RATE = 2 * Math.PI;
  private static final double STROKE_COHERENCE = 2;
  private static final int STATES = 4;

  private final double feedVariance;
  private final double strokeVariance;
  private final DMatrixRMaj state = new DMatrixRMaj(STATES, 1);
  private final DMatrixRMaj covariance = new DMatrixRMaj(STATES, STATES);
  private final DMatrixRMaj transition = CommonOps_DDRM.identity(STATES);
  private final DMatrixRMaj observation = new DMatrixRMaj(new double[][] {{1, 0, 1, 0}});
  private final DMatrixRMaj gain = new DMatrixRMaj(STATES, 1);
  private final DMatrixRMaj noise = new DMatrixRMaj(STATES, STATES);
  private final DMatrixRMaj column = new DMatrixRMaj(STATES, 1);
  private final DMatrixRMaj square = new DMatrixRMaj(STATES, STATES);
  private final DMatrixRMaj product = new DMatrixRMaj(STATES, STATES);
  private final DMatrixRMaj innovation = new DMatrixRMaj(1, 1);
  private final DMatrixRMaj spread = new DMatrixRMaj(1, 1);

  MatrixFilter(double feedSd, double strokeSd) {
    feedVariance = feedSd * feedSd;
    strokeVariance = strokeSd * strokeSd;
  }

  void start(double z, double variance) {
    state.zero();
    state.set(0, 0, z);
    covariance.zero();
    covariance.set(0, 0, variance);
    covariance.set(1, 1, START_SPEED_SD * START_SPEED_SD);
    covariance.set(3, 3, strokeVariance);
  }

  void predict(double dt) {
    double kept = 1 / (1 + dt / STROKE_COHERENCE);
    double cosine = kept * Math.cos(STROKE_RATE * dt);
    double sine = kept * Math.sin(STROKE_RATE * dt);
    transition.set(0, 1, dt);
    transition.set(2, 2, cosine);
    transition.set(2, 3, sine);
    transition.set(3, 2, -sine);
    transition.set(3, 3, cosine);
    CommonOps_DDRM.mult(transition, state, column);
    state.setTo(column);
    CommonOps_DDRM.mult(transition, covariance, square);
    CommonOps_DDRM.multTransB(square, transition, covariance);
    noise.set(0, 0, feedVariance * dt * dt * dt / 4);
    noise.set(0, 1, feedVariance * dt * dt / 2);
    noise.set(1, 0, feedVariance * dt * dt / 2);
    noise.set(1, 1, feedVariance * dt);
    noise.set(3, 3, 2 * (1 - kept * kept) * strokeVariance);
    CommonOps_DDRM.addEquals(covariance, noise);
  }

  void update(double z, double variance) {
    CommonOps_DDRM.mult(observation, state, innovation);
    innovation.set(0, 0, z - innovation.get(0, 0));
    CommonOps_DDRM.multTransB(covariance, observation, column);
    CommonOps_DDRM.mult(observation, column, spread);
    spread.set(0, 0, spread.get(0, 0) + variance);
    CommonOps_DDRM.invert(spread);
    CommonOps_DDRM.mult(column, spread, gain);
    CommonOps_DDRM.multAdd(gain, innovation, state);
    CommonOps_DDRM.mult(gain, observation, square);
    CommonOps_DDRM.mult(square, covariance, product);
    CommonOps_DDRM.subtractEquals(covariance, product);
  }

  double x() {
    return state.get(0, 0) + state.get(2, 0);
  }

  double v() {
    return state.get(1, 0) + STROKE_RATE * state.get(3, 0);
  }
}
