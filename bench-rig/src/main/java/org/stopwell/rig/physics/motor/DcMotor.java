package org.stopwell.rig.physics.motor;

import org.stopwell.core.number.Elementary;

/**
 * A brushed DC motor: {@code L di/dt = V − Ri − Kω}, {@code J dω/dt = Ki − bω − T sgn ω − M}.
 *
 * <p>Within a step the voltage (or the current), the dry friction T and the load M are constant, so
 * the step is the exact solution of a linear system: no step is too long, however stiff the motor.
 * Where the shaft would turn around, the step ends at standstill instead.
 */
public final class DcMotor {
  private final MotorConstants c;
  private final double bandOverJ;
  private final double determinant;
  private double poleFast;
  private double poleSlow;
  private double preparedS = Double.NaN;
  private double evenS = Double.NaN;
  private double evenOfStep;
  private double decayS = Double.NaN;
  private double decayOfStep;
  private double m11;
  private double m12;
  private double m21;
  private double m22;

  private double amperes;
  private double radPerS;
  private double radians;

  /**
   * A motor at rest.
   *
   * @param constants its constants; with both poles real
   */
  public DcMotor(MotorConstants constants) {
    c = constants;
    bandOverJ = c.viscousNms() / c.inertiaKgm2();
    determinant =
        (c.resistanceOhms() * c.viscousNms() + c.torqueConstant() * c.torqueConstant())
            / (c.inductanceHenries() * c.inertiaKgm2());
    double half = 0.5 * (c.resistanceOhms() / c.inductanceHenries() + bandOverJ);
    double square = half * half - determinant;
    if (!(square > 0)) {
      throw new IllegalArgumentException("motor poles are not real and apart: " + constants);
    }
    poleFast = -half - StrictMath.sqrt(square);
    poleSlow = determinant / poleFast;
  }

  /**
   * Goes on under a voltage.
   *
   * @param volts voltage across the windings, V; 0 is a short, which brakes
   * @param friction torque against the motion or against the start of it, N·m, not negative
   * @param load torque against turning forward, whichever way it turns, N·m
   * @param seconds length of the step, s
   */
  public void stepVoltage(double volts, double friction, double load, double seconds) {
    double settled = volts / c.resistanceOhms();
    double pull = c.torqueConstant() * settled - load;
    double sign = Math.signum(radPerS != 0 ? radPerS : pull);
    if (radPerS == 0 && Math.abs(pull) <= friction) {
      amperes = settled + (amperes - settled) * preparedDecay(seconds);
      return;
    }
    double against = load + sign * friction;
    double i0 = amperes;
    double w0 = radPerS;
    linear(volts, against, seconds);
    if (friction > 0 && radPerS * sign < 0) {
      double low = 0;
      double high = seconds;
      for (int round = 0; round < 50; round++) {
        double middle = 0.5 * (low + high);
        restore(i0, w0);
        linear(volts, against, middle);
        if (radPerS * sign < 0) {
          high = middle;
        } else {
          low = middle;
        }
      }
      double turned = angle(volts, against, low, i0, w0, amperes, radPerS);
      radians += turned;
      radPerS = 0;
      return;
    }
    radians += angle(volts, against, seconds, i0, w0, amperes, radPerS);
  }

  private void restore(double i0, double w0) {
    amperes = i0;
    radPerS = w0;
  }

  /** The exact transition of current and speed over a time. */
  private void linear(double volts, double torque, double seconds) {
    prepare(seconds);
    // steady state of the linear system
    double k = c.torqueConstant();
    double rest = c.resistanceOhms() * c.viscousNms() + k * k;
    double w = (k * volts - c.resistanceOhms() * torque) / rest;
    double i = (c.viscousNms() * volts + k * torque) / rest;
    double di = amperes - i;
    double dw = radPerS - w;
    amperes = i + m11 * di + m12 * dw;
    radPerS = w + m21 * di + m22 * dw;
  }

  /** The matrix exponential by Sylvester's formula for two real poles. */
  private void prepare(double seconds) {
    if (seconds == preparedS) {
      return;
    }
    preparedS = seconds;
    double fast = Elementary.exp(poleFast * seconds);
    double slow = Elementary.exp(poleSlow * seconds);
    double scale = 1 / (poleSlow - poleFast);
    double a11 = -c.resistanceOhms() / c.inductanceHenries();
    double a12 = -c.torqueConstant() / c.inductanceHenries();
    double a21 = c.torqueConstant() / c.inertiaKgm2();
    double a22 = -bandOverJ;
    m11 = scale * (slow * (a11 - poleFast) - fast * (a11 - poleSlow));
    m12 = scale * a12 * (slow - fast);
    m21 = scale * a21 * (slow - fast);
    m22 = scale * (slow * (a22 - poleFast) - fast * (a22 - poleSlow));
  }

  /** The angle from the two equations integrated over the step. */
  private double angle(
      double volts, double torque, double seconds, double i0, double w0, double i1, double w1) {
    double k = c.torqueConstant();
    return (k * (volts * seconds - c.inductanceHenries() * (i1 - i0)) / c.resistanceOhms()
            - torque * seconds
            - c.inertiaKgm2() * (w1 - w0))
        / (c.viscousNms() + k * k / c.resistanceOhms());
  }

  /**
   * Goes on under a current that the driver holds; 0 is an open circuit, which coasts.
   *
   * @param current current, A
   * @param friction torque against the motion or against the start of it, N·m, not negative
   * @param load torque against turning forward, whichever way it turns, N·m
   * @param seconds length of the step, s
   */
  public void stepCurrent(double current, double friction, double load, double seconds) {
    amperes = current;
    double pull = c.torqueConstant() * current - load;
    double sign = Math.signum(radPerS != 0 ? radPerS : pull);
    if (radPerS == 0 && Math.abs(pull) <= friction) {
      return;
    }
    double accelerating = (pull - sign * friction) / c.inertiaKgm2();
    double even = preparedEven(seconds);
    double speed = radPerS + (accelerating - bandOverJ * radPerS) * seconds * even;
    if (!(friction > 0 && speed * sign < 0)) {
      coastOn(accelerating, seconds, even);
      radPerS = speed;
      return;
    }
    double time = timeToStop(radPerS, accelerating);
    coastOn(accelerating, time, even(bandOverJ * time));
    radPerS = 0;
  }

  /** Angle: what there was decays, what is added is {@code (1 − even)/b·J}. */
  private void coastOn(double accelerating, double time, double even) {
    double x = bandOverJ * time;
    double added = x < 1e-4 ? time * time * (0.5 - x / 6) : time * (1 - even) / bandOverJ;
    radians += radPerS * time * even + accelerating * added;
  }

  private double preparedEven(double seconds) {
    if (seconds != evenS) {
      evenS = seconds;
      evenOfStep = even(bandOverJ * seconds);
    }
    return evenOfStep;
  }

  /** What is left of a current after a step. */
  private double preparedDecay(double seconds) {
    if (seconds != decayS) {
      decayS = seconds;
      decayOfStep = Elementary.exp(-seconds * c.resistanceOhms() / c.inductanceHenries());
    }
    return decayOfStep;
  }

  /** {@code (1 − e^−x)/x}: the mean of a decay. */
  private static double even(double x) {
    return x == 0 ? 1 : -Elementary.expm1(-x) / x;
  }

  private double timeToStop(double w0, double acceleration) {
    double ratio = -w0 / acceleration;
    return bandOverJ == 0 ? ratio : Elementary.log1p(bandOverJ * ratio) / bandOverJ;
  }

  /**
   * Current in the windings.
   *
   * @return A
   */
  public double amperes() {
    return amperes;
  }

  /**
   * Speed of the shaft.
   *
   * @return rad/s
   */
  public double radPerS() {
    return radPerS;
  }

  /**
   * Angle of the shaft since the beginning.
   *
   * @return rad
   */
  public double radians() {
    return radians;
  }
}
