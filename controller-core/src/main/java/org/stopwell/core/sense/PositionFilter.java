package org.stopwell.core.sense;

import org.stopwell.core.trace.StateHash;

/**
 * A two-state Kalman filter: distance x and its change v, with white noise on the acceleration
 * (Bar-Shalom, Li and Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001,
 * §6.3.2, from memory). Written out in scalars: no matrices, no allocation.
 *
 * <pre>
 * predict: x += v·dt          P = F·P·Fᵀ + σ²·[dt⁴/4 dt³/2; dt³/2 dt²],  F = [1 dt; 0 1]
 * update:  s = P₀₀ + r   k = [P₀₀; P₀₁]/s   [x; v] += k·(z − x)   P −= k·[P₀₀ P₀₁]
 * </pre>
 */
public final class PositionFilter {
  /** Spread of the speed of a hand when nothing is known, µm/s; assumed. */
  private static final double START_SPEED_SD = 2_000;

  private final double accelerationVariance;
  private double x;
  private double v;
  private double p00;
  private double p01;
  private double p11;

  /**
   * A filter at zero.
   *
   * @param accelerationSd standard deviation of the feed's acceleration, µm/s²
   */
  public PositionFilter(double accelerationSd) {
    accelerationVariance = accelerationSd * accelerationSd;
  }

  /**
   * Starts anew from one measurement.
   *
   * @param z distance, µm
   * @param variance of the measurement, µm²
   */
  public void start(double z, double variance) {
    x = z;
    v = 0;
    p00 = variance;
    p01 = 0;
    p11 = START_SPEED_SD * START_SPEED_SD;
  }

  /**
   * Moves on in time.
   *
   * @param dt time, s, at least 0
   */
  public void predict(double dt) {
    x += v * dt;
    double dt2 = dt * dt;
    p00 += dt * (2 * p01 + dt * p11) + accelerationVariance * dt2 * dt2 / 4;
    p01 += dt * p11 + accelerationVariance * dt2 * dt / 2;
    p11 += accelerationVariance * dt2;
  }

  /**
   * Takes in one measurement.
   *
   * @param z distance, µm
   * @param variance of the measurement, µm², above 0
   */
  public void update(double z, double variance) {
    double s = p00 + variance;
    double k0 = p00 / s;
    double k1 = p01 / s;
    double innovation = z - x;
    x += k0 * innovation;
    v += k1 * innovation;
    p11 -= k1 * p01;
    p01 -= k0 * p01;
    p00 -= k0 * p00;
  }

  /**
   * Distance.
   *
   * @return µm
   */
  public double x() {
    return x;
  }

  /**
   * Change of the distance, negative towards the foramen.
   *
   * @return µm/s
   */
  public double v() {
    return v;
  }

  /**
   * Variance of the distance.
   *
   * @return µm²
   */
  public double variance() {
    return p00;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    long h = StateHash.mix(hash, x);
    h = StateHash.mix(h, v);
    h = StateHash.mix(h, p00);
    h = StateHash.mix(h, p01);
    return StateHash.mix(h, p11);
  }
}
