package org.stopwell.rig.physics.motor;

/**
 * A DC motor with a reduction gear and a driver that holds a speed and never more than a torque.
 * Speeds and torques are those at the file.
 *
 * <p>The driver is a speed loop of proportional and integral part. It knows the motor's constants:
 * it adds the back voltage of the wanted speed, allows for friction in its torque limit, and takes
 * friction and acceleration off when it works out the torque at the file from the current.
 */
public final class GearMotor {
  /** Assumed: a coreless motor of 16 mm diameter. */
  public static final MotorConstants BENCH_MOTOR =
      new MotorConstants(6e-8, 2e-8, 0.0105, 6, 0.2e-3);

  /** Turns of the motor per turn of the file: assumed. */
  private static final double GEAR = 10;

  /** Share of torque that passes the gear: assumed. */
  private static final double EFFICIENCY = 0.85;

  /** Coulomb friction of motor and gear, at the motor: assumed, N·m. */
  private static final double FRICTION_NM = 2.5e-4;

  /** Supply of the driver: assumed, V. */
  private static final double SUPPLY_VOLTS = 12;

  private static final double PROPORTIONAL = 1.5;
  private static final double INTEGRAL_PER_S = 100;

  private final MotorConstants c = BENCH_MOTOR;
  private final DcMotor motor = new DcMotor(c);
  private double integralVolts;
  private double fileTorque;
  private double measuredTorque;

  /** A motor at rest. */
  public GearMotor() {}

  /**
   * Holds a speed for one step.
   *
   * @param radPerS wanted speed at the file, positive in the cutting direction, rad/s
   * @param torqueLimit greatest torque at the file, N·m
   * @param load torque of the file against its turning, N·m, not negative
   * @param seconds length of the step, s
   */
  public void turn(double radPerS, double torqueLimit, double load, double seconds) {
    double k = c.torqueConstant();
    double error = radPerS * GEAR - motor.radPerS();
    double wanted = k * (radPerS * GEAR + PROPORTIONAL * error) + integralVolts;
    double back = k * motor.radPerS();
    double most =
        (torqueLimit / (GEAR * EFFICIENCY)
                + FRICTION_NM
                + c.viscousNms() * Math.abs(motor.radPerS()))
            / k;
    double volts = clamp(wanted, SUPPLY_VOLTS);
    double amperes = (volts - back) / c.resistanceOhms();
    double before = motor.radPerS();
    if (Math.abs(amperes) > most) {
      motor.stepCurrent(clamp(amperes, most), opposing(load), seconds);
    } else {
      if (volts == wanted) {
        integralVolts += k * INTEGRAL_PER_S * seconds * error;
      }
      motor.stepVoltage(volts, opposing(load), seconds);
    }
    settle(before, load, seconds);
  }

  /**
   * Takes the power for one step; the shaft coasts.
   *
   * @param load torque of the file against its turning, N·m, not negative
   * @param seconds length of the step, s
   */
  public void coast(double load, double seconds) {
    integralVolts = 0;
    double before = motor.radPerS();
    motor.stepCurrent(0, opposing(load), seconds);
    settle(before, load, seconds);
  }

  /**
   * Shorts the windings for one step; the shaft is held back.
   *
   * @param load torque of the file against its turning, N·m, not negative
   * @param seconds length of the step, s
   */
  public void brake(double load, double seconds) {
    integralVolts = 0;
    double before = motor.radPerS();
    motor.stepVoltage(0, opposing(load), seconds);
    settle(before, load, seconds);
  }

  private static double opposing(double load) {
    return FRICTION_NM + load / (GEAR * EFFICIENCY);
  }

  /** Works out what stands at the file, and what the driver can tell of it. */
  private void settle(double speedBefore, double load, double seconds) {
    double electric = c.torqueConstant() * motor.amperes();
    double after = motor.radPerS();
    double accelerating = c.inertiaKgm2() * (after - speedBefore) / seconds;
    double friction = after == 0 ? clamp(electric, FRICTION_NM) : Math.signum(after) * FRICTION_NM;
    double passed =
        (electric - accelerating - friction - c.viscousNms() * after) * GEAR * EFFICIENCY;
    measuredTorque = passed;
    fileTorque = after == 0 ? clamp(passed, load) : Math.signum(after) * load;
  }

  private static double clamp(double value, double limit) {
    return Math.max(-limit, Math.min(limit, value));
  }

  /**
   * Speed of the file.
   *
   * @return rad/s, positive in the cutting direction
   */
  public double radPerS() {
    return motor.radPerS() / GEAR;
  }

  /**
   * Angle of the file since the beginning.
   *
   * @return rad
   */
  public double radians() {
    return motor.radians() / GEAR;
  }

  /**
   * Torque that really acts on the file.
   *
   * @return N·m, positive where the motor turns the file forward
   */
  public double fileTorque() {
    return fileTorque;
  }

  /**
   * Torque at the file as the driver works it out from the current.
   *
   * @return N·m
   */
  public double measuredTorque() {
    return measuredTorque;
  }

  /**
   * Current in the windings.
   *
   * @return A
   */
  public double amperes() {
    return motor.amperes();
  }

  /**
   * Voltage of the supply.
   *
   * @return V
   */
  public double supplyVolts() {
    return SUPPLY_VOLTS;
  }
}
