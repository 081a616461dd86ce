package org.stopwell.core.sense;

import org.ejml.data.DMatrixRMaj;
import org.ejml.dense.row.CommonOps_DDRM;

/** The position filter as a textbook writes it, with a general matrix library: the reference. */
final class MatrixFilter {
  private static final double START_SPEED_SD = 2_000;

  private final double accelerationVariance;
  private final DMatrixRMaj state = new DMatrixRMaj(2, 1);
  private final DMatrixRMaj covariance = new DMatrixRMaj(2, 2);
  private final DMatrixRMaj transition = CommonOps_DDRM.identity(2);
  private final DMatrixRMaj observation = new DMatrixRMaj(new double[][] {{1, 0}});
  private final DMatrixRMaj gain = new DMatrixRMaj(2, 1);
  private final DMatrixRMaj noise = new DMatrixRMaj(2, 2);
  private final DMatrixRMaj column = new DMatrixRMaj(2, 1);
  private final DMatrixRMaj square = new DMatrixRMaj(2, 2);
  private final DMatrixRMaj product = new DMatrixRMaj(2, 2);
  private final DMatrixRMaj innovation = new DMatrixRMaj(1, 1);
  private final DMatrixRMaj spread = new DMatrixRMaj(1, 1);

  MatrixFilter(double accelerationSd) {
    accelerationVariance = accelerationSd * accelerationSd;
  }

  void start(double z, double variance) {
    state.set(0, 0, z);
    state.set(1, 0, 0);
    covariance.zero();
    covariance.set(0, 0, variance);
    covariance.set(1, 1, START_SPEED_SD * START_SPEED_SD);
  }

  void predict(double dt) {
    transition.set(0, 1, dt);
    CommonOps_DDRM.mult(transition, state, column);
    state.setTo(column);
    CommonOps_DDRM.mult(transition, covariance, square);
    CommonOps_DDRM.multTransB(square, transition, covariance);
    noise.set(0, 0, dt * dt * dt * dt / 4);
    noise.set(0, 1, dt * dt * dt / 2);
    noise.set(1, 0, dt * dt * dt / 2);
    noise.set(1, 1, dt * dt);
    CommonOps_DDRM.addEquals(covariance, accelerationVariance, noise);
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
    return state.get(0, 0);
  }

  double v() {
    return state.get(1, 0);
  }
}
