package org.stopwell.core.sense;

import org.stopwell.core.trace.StateHash;

/**
 * A Kalman filter of a file in a hand: a feed, and around it strokes in and out. The feed is a
 * distance x and its change v, with white noise on the acceleration (Bar-Shalom, Li and
 * Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001, §6.3.2, from memory).
 * The strokes are an oscillation s that forgets its phase, and u, its change over its angular rate
 * (Harvey, Forecasting, Structural Time Series Models and the Kalman Filter, 1989, §2.3, from
 * memory). Measured is x + s. Written out in scalars: no matrices, no allocation.
 *
 * <pre>
 * predict: x += v·dt    [s; u] = k·[cos sin; −sin cos](ω·dt)·[s; u],  k = 1/(1 + dt/τ)
 *          noise of x, v: q·[dt³/4 dt²/2; dt²/2 dt]   of u: 2·(1 − k²)·stroke²
 * update:  h = P·[1 0 1 0]ᵀ   state += h·(z − x − s)/(h₀ + h₂ + r)   P −= h·hᵀ/(h₀ + h₂ + r)
 * </pre>
 */
public final class PositionFilter {
  /** Spread of the speed of a hand when nothing is known, µm/s; assumed. */
  private static final double START_SPEED_SD = 2_000;

  /** Time in which a hand falls out of step with its strokes, s; assumed. */
  private static final double STROKE_COHERENCE = 2;

  /** Strokes are foreseen no further than this, half a radian short of half of one, rad. */
  private static final double MOST_AHEAD = 2.6;

  private final double feedVariance;
  private final double strokeVariance;

  private final StrokeRate rate = new StrokeRate();

  private double x;
  private double v;
  private double s;
  private double u;

  // covariance: a of the feed (x, v), b of the strokes (s, u), c between them
  private double a00;
  private double a01;
  private double a11;
  private double b00;
  private double b01;
  private double b11;
  private double c00;
  private double c01;
  private double c10;
  private double c11;

  // rotation of the strokes in a time, with the share that is forgotten
  private double cosine;
  private double sine;

  /**
   * A filter at zero.
   *
   * @param feedSd standard deviation of what the feed changes by in one second, µm/s
   * @param strokeSd standard deviation of the strokes about the feed, µm; 0 is a feed without any
   */
  public PositionFilter(double feedSd, double strokeSd) {
    feedVariance = feedSd * feedSd;
    strokeVariance = strokeSd * strokeSd;
  }

  /**
   * Restarts from one measurement.
   *
   * @param z distance, µm
   * @param variance of the measurement, µm²
   */
  public void start(double z, double variance) {
    x = z;
    v = 0;
    s = 0;
    u = 0;
    a00 = variance;
    a01 = 0;
    a11 = START_SPEED_SD * START_SPEED_SD;
    b00 = 0;
    b01 = 0;
    b11 = strokeVariance;
    rate.start();
    c00 = 0;
    c01 = 0;
    c10 = 0;
    c11 = 0;
  }

  /**
   * Moves on in time.
   *
   * @param dt time, s, at least 0
   */
  public void predict(double dt) {
    double noise = feedVariance * dt;
    x += v * dt;
    a00 += dt * (2 * a01 + dt * a11) + noise * dt * dt / 4;
    a01 += dt * a11 + noise * dt / 2;
    a11 += noise;

    rate.update(dt, s, u);
    turn(dt);
    double before = s;
    s = cosine * s + sine * u;
    u = cosine * u - sine * before;
    double cc = cosine * cosine;
    double ss = sine * sine;
    double cs = cosine * sine;
    double mixed = b01;
    double inner = b00;
    b00 = cc * inner + 2 * cs * mixed + ss * b11;
    b01 = (cc - ss) * mixed + cs * (b11 - inner);
    b11 = cc * b11 - 2 * cs * mixed + ss * inner + 2 * (1 - cc - ss) * strokeVariance;

    double xs = c00 + dt * c10;
    double xu = c01 + dt * c11;
    double vs = c10;
    c00 = cosine * xs + sine * xu;
    c01 = cosine * xu - sine * xs;
    c10 = cosine * vs + sine * c11;
    c11 = cosine * c11 - sine * vs;
  }

  /**
   * By the tangent of half the angle, tan x = x·(15 − x²)/(15 − 6·x²) (continued fraction of
   * Lambert, 1761, from memory): no turn lengthens a stroke, and the angle is right to 1 % at the
   * most ahead.
   */
  private void turn(double dt) {
    double half = Math.min(rate.radiansPerSecond() * dt, MOST_AHEAD) / 2;
    double square = half * half;
    double up = half * (15 - square);
    double below = 15 - 6 * square;
    double scale = 1 / ((1 + dt / STROKE_COHERENCE) * (below * below + up * up));
    cosine = scale * (below * below - up * up);
    sine = scale * 2 * up * below;
  }

  /**
   * Takes in one measurement.
   *
   * @param z distance, µm
   * @param variance of the measurement, µm², above 0
   */
  public void update(double z, double variance) {
    double hx = a00 + c00;
    double hv = a01 + c10;
    double hs = b00 + c00;
    double hu = b01 + c01;
    double weight = 1 / (hx + hs + variance);
    double pull = weight * (z - x - s);
    x += hx * pull;
    v += hv * pull;
    s += hs * pull;
    u += hu * pull;
    a00 -= weight * hx * hx;
    a01 -= weight * hx * hv;
    a11 -= weight * hv * hv;
    b00 -= weight * hs * hs;
    b01 -= weight * hs * hu;
    b11 -= weight * hu * hu;
    c00 -= weight * hx * hs;
    c01 -= weight * hx * hu;
    c10 -= weight * hv * hs;
    c11 -= weight * hv * hu;
  }

  /**
   * Distance.
   *
   * @return µm
   */
  public double x() {
    return x + s;
  }

  /**
   * Change of the distance, negative towards the foramen.
   *
   * @return µm/s
   */
  public double v() {
    return v + rate.radiansPerSecond() * u;
  }

  /**
   * Change of the distance by the feed alone, negative towards the foramen.
   *
   * @return µm/s
   */
  public double feed() {
    return v;
  }

  /**
   * Distance some time from now, if the hand continues its motion.
   *
   * @param dt time, s, at least 0
   * @return µm
   */
  public double ahead(double dt) {
    turn(dt);
    return x + v * dt + cosine * s + sine * u;
  }

  /**
   * Variance of the distance.
   *
   * @return µm²
   */
  public double variance() {
    return a00 + 2 * c00 + b00;
  }

  /**
   * Variance of {@link #v}.
   *
   * @return µm²/s²
   */
  public double speedVariance() {
    double omega = rate.radiansPerSecond();
    return a11 + omega * (2 * c11 + omega * b11);
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
    h = StateHash.mix(h, s);
    h = StateHash.mix(h, u);
    h = StateHash.mix(h, a00);
    h = StateHash.mix(h, a01);
    h = StateHash.mix(h, a11);
    h = StateHash.mix(h, b00);
    h = StateHash.mix(h, b01);
    h = StateHash.mix(h, b11);
    h = StateHash.mix(h, c00);
    h = StateHash.mix(h, c01);
    h = StateHash.mix(h, c10);
    return rate.mixInto(StateHash.mix(h, c11));
  }
}
