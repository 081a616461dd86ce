package org.stopwell.rig.physics.motor;

/**
 * Constants of a brushed DC motor. Units SI.
 *
 * @param inertiaKgm2 inertia of the rotor, kg·m²
 * @param viscousNms viscous friction, N·m·s
 * @param torqueConstant torque per current, and voltage per speed, N·m/A
 * @param resistanceOhms resistance of the windings, Ω
 * @param inductanceHenries inductance of the windings, H
 */
public record MotorConstants(
    double inertiaKgm2,
    double viscousNms,
    double torqueConstant,
    double resistanceOhms,
    double inductanceHenries) {
  /**
   * The same motor with a resistance in its leads.
   *
   * @param ohms resistance in series with the windings, Ω
   * @return a copy
   */
  MotorConstants behind(double ohms) {
    return new MotorConstants(
        inertiaKgm2, viscousNms, torqueConstant, resistanceOhms + ohms, inductanceHenries);
  }
}
