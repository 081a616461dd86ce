package org.stopwell.rig.physics.motor;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.MotorSection;

/**
 * Supply and driver of the motor. Units SI.
 *
 * @param volts voltage without load, V
 * @param ohms internal resistance, Ω
 * @param driverOhms resistance of the driver's switches, Ω
 */
public record Supply(double volts, double ohms, double driverOhms) {
  /**
   * The supply of a scene.
   *
   * @param motor values of the section {@code motor}
   * @return the supply
   */
  public static Supply of(ParameterValues motor) {
    return new Supply(
        motor.get(MotorSection.SUPPLY) * 1e-3,
        motor.get(MotorSection.SUPPLY_RESISTANCE) * 1e-3,
        motor.get(MotorSection.DRIVER_RESISTANCE) * 1e-3);
  }

  /**
   * The greatest voltage that the driver can give with its switch always on: it sags by the current
   * that it causes, {@code u = (E·R + e·Rs)/(R + Rs)}.
   *
   * @param back voltage that the turning motor sets against it, V, negative where it helps
   * @param windingOhms resistance of windings and driver, Ω
   * @return V
   */
  double most(double back, double windingOhms) {
    return (volts * windingOhms + back * ohms) / (windingOhms + ohms);
  }

  /**
   * Voltage at the terminals of the supply while the driver chops it down: what goes in comes out,
   * {@code V·(E − V)/Rs = u·i}.
   *
   * @param driveVolts mean voltage of the driver, V
   * @param amperes current in the windings, A
   * @return V; the supply takes no power back; its power is limited
   */
  double sagged(double driveVolts, double amperes) {
    double power = driveVolts * amperes;
    if (!(power > 0)) {
      return volts;
    }
    return 0.5 * (volts + StrictMath.sqrt(Math.max(0, volts * volts - 4 * ohms * power)));
  }
}
