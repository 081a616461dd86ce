package org.stopwell.rig.physics.motor;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.MotorSection;

/**
 * A DC motor with a supply, a reduction gear with play, a driver that holds a speed and never more
 * than a torque, and a file that twists. Speeds and torques are those behind the gear.
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

  private static final double BOTH_WAYS = 0.5 * (1 / EFFICIENCY + EFFICIENCY);
  private static final double ONE_WAY = 0.5 * (1 / EFFICIENCY - EFFICIENCY);

  /** Coulomb friction of motor and gear, at the motor: assumed, N·m. */
  private static final double FRICTION_NM = 2.5e-4;

  private static final double PROPORTIONAL = 1.5;
  private static final double INTEGRAL_PER_S = 100;

  private final MotorConstants c;
  private final DcMotor motor;
  private final Supply supply;
  private final Shaft shaft;
  private double resistForward;
  private double resistBackward;
  private double integralVolts;
  private double driveVolts;
  private double measuredTorque;
  private double gearRadPerS;
  private long changes;

  // The last step coasted, or braked, and changed nothing, so that another would not either. That
  // is so in most steps of a trial; braking at rest took 2 % of it.
  private boolean restsCoasting;
  private boolean restsBraked;

  /**
   * A motor at rest.
   *
   * @param supply what feeds it
   * @param play play of the gear, rad at the file
   * @param stiffness torque per angle of the file, N·m/rad
   */
  public GearMotor(Supply supply, double play, double stiffness) {
    this.supply = supply;
    shaft = new Shaft(play, stiffness);
    c = BENCH_MOTOR.behind(supply.driverOhms());
    motor = new DcMotor(c);
  }

  /**
   * The motor of a scene, at rest.
   *
   * @param motor values of the section {@code motor}
   * @param stiffness torque per angle of the file, N·m/rad
   * @return the motor
   */
  public static GearMotor of(ParameterValues motor, double stiffness) {
    double play = Math.toRadians(motor.get(MotorSection.BACKLASH) * 1e-3);
    return new GearMotor(Supply.of(motor), play, stiffness);
  }

  /**
   * Says what the canal sets against the tip from now on.
   *
   * @param forward torque against turning in the cutting direction, N·m, not negative
   * @param backward torque against turning back, N·m, not negative
   */
  public void resist(double forward, double backward) {
    if (forward != resistForward || backward != resistBackward) {
      restsCoasting = false;
      restsBraked = false;
    }
    resistForward = forward;
    resistBackward = backward;
  }

  /**
   * Holds a speed for one step.
   *
   * @param radPerS wanted speed at the file, positive in the cutting direction, rad/s
   * @param torqueLimit greatest torque at the file, N·m
   * @param seconds length of the step, s
   */
  public void turn(double radPerS, double torqueLimit, double seconds) {
    double k = c.torqueConstant();
    double error = radPerS * GEAR - motor.radPerS();
    double wanted = k * (radPerS * GEAR + PROPORTIONAL * error) + integralVolts;
    double back = k * motor.radPerS();
    double most =
        (torqueLimit / (GEAR * EFFICIENCY)
                + FRICTION_NM
                + c.viscousNms() * Math.abs(motor.radPerS()))
            / k;
    double volts =
        wanted > 0
            ? Math.min(wanted, supply.most(back, c.resistanceOhms()))
            : Math.max(wanted, -supply.most(-back, c.resistanceOhms()));
    double amperes = (volts - back) / c.resistanceOhms();
    if (Math.abs(amperes) > most) {
      double held = clamp(amperes, most);
      driveVolts = back + held * c.resistanceOhms();
      stepCurrent(held, seconds);
    } else {
      if (volts == wanted) {
        integralVolts += k * INTEGRAL_PER_S * seconds * error;
      }
      driveVolts = volts;
      stepVoltage(volts, seconds);
    }
  }

  /**
   * Takes the power for one step; the shaft coasts.
   *
   * @param seconds length of the step, s
   */
  public void coast(double seconds) {
    if (restsCoasting) {
      return;
    }
    boolean stood = stands();
    integralVolts = 0;
    driveVolts = 0;
    stepCurrent(0, seconds);
    restsCoasting = stood && stands();
  }

  /**
   * Shorts the windings for one step; the shaft is held back.
   *
   * @param seconds length of the step, s
   */
  public void brake(double seconds) {
    if (restsBraked) {
      return;
    }
    boolean stood = stands();
    integralVolts = 0;
    driveVolts = 0;
    stepVoltage(0, seconds);
    restsBraked = stood && stands();
  }

  /** Nothing moves, and nothing is left of a current that could move it. */
  private boolean stands() {
    return motor.radPerS() == 0 && motor.amperes() == 0 && shaft.turned() == 0;
  }

  private void stepCurrent(double amperes, double seconds) {
    double before = motor.radPerS();
    double torque = torque(seconds);
    motor.stepCurrent(amperes, friction(torque), torque / GEAR * BOTH_WAYS, seconds);
    settle(before, seconds);
  }

  private void stepVoltage(double volts, double seconds) {
    double before = motor.radPerS();
    double torque = torque(seconds);
    motor.stepVoltage(volts, friction(torque), torque / GEAR * BOTH_WAYS, seconds);
    settle(before, seconds);
  }

  /**
   * Torque of the file where the gear will be in the middle of the step, so that file and rotor
   * neither gain nor lose by the length of the step.
   */
  private double torque(double seconds) {
    double middle = radians() + 0.5 * seconds * radPerS();
    return shaft.torque(middle, resistForward, resistBackward);
  }

  /**
   * Friction that the motor feels: with the {@link #BOTH_WAYS} share of the load it is load over
   * efficiency where the motor drives the file, and to load times efficiency where a wound file
   * drives the motor.
   */
  private static double friction(double torque) {
    return FRICTION_NM + Math.abs(torque) / GEAR * ONE_WAY;
  }

  /** Moves the file, and computes the torque that the driver measures. */
  private void settle(double speedBefore, double seconds) {
    restsCoasting = false;
    restsBraked = false;
    changes++;
    shaft.follow(radians(), resistForward, resistBackward);
    double electric = c.torqueConstant() * motor.amperes();
    double after = motor.radPerS();
    gearRadPerS = after / GEAR;
    double accelerating = c.inertiaKgm2() * (after - speedBefore) / seconds;
    double friction = after == 0 ? clamp(electric, FRICTION_NM) : Math.signum(after) * FRICTION_NM;
    measuredTorque =
        (electric - accelerating - friction - c.viscousNms() * after) * GEAR * EFFICIENCY;
  }

  private static double clamp(double value, double limit) {
    return Math.max(-limit, Math.min(limit, value));
  }

  /**
   * How many steps have changed anything of what can be read here. A motor at rest stays as it is.
   *
   * @return a count from 0
   */
  public long changes() {
    return changes;
  }

  /**
   * Speed behind the gear, as an encoder on the motor shows it.
   *
   * @return rad/s, positive in the cutting direction
   */
  public double radPerS() {
    return gearRadPerS;
  }

  /**
   * Angle behind the gear since the beginning.
   *
   * @return rad
   */
  public double radians() {
    return motor.radians() / GEAR;
  }

  /**
   * Angle of the file where the gear holds it: behind that of the gear by the play.
   *
   * @return rad
   */
  public double fileRadians() {
    return shaft.shankRadians();
  }

  /**
   * Angle of the file's tip: behind that of the file's shank by its twist.
   *
   * @return rad
   */
  public double tipRadians() {
    return shaft.radians();
  }

  /**
   * How far the file's tip has turned in the last step.
   *
   * @return rad, positive in the cutting direction
   */
  public double tipTurned() {
    return shaft.turned();
  }

  /**
   * Torque that really acts on the file.
   *
   * @return N·m, positive where the motor turns the file forward
   */
  public double fileTorque() {
    return shaft.torque();
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
   * Voltage at the terminals of the supply, under its load.
   *
   * @return V
   */
  public double supplyVolts() {
    return supply.sagged(driveVolts, motor.amperes());
  }
}
