package org.stopwell.rig.physics.motor;

/**
 * From gear to tip: play of the gear, then the file as a spring in torsion, then a tip that stands
 * until the torque exceeds what the canal sets against it. The file has hardly any inertia, so the
 * tip follows at once.
 */
final class Shaft {
  private final double halfPlay;
  private final double stiffness;
  private double tip;
  private double shank;
  private double turned;
  private double torque;

  /**
   * A file at rest in the middle of the play.
   *
   * @param play play of the gear, rad at the file
   * @param stiffness torque per angle of the file, N·m/rad
   */
  Shaft(double play, double stiffness) {
    halfPlay = 0.5 * play;
    this.stiffness = stiffness;
  }

  /** Torque that the gear feels at an angle, N·m, against the cutting direction when positive. */
  double torque(double gear, double resistForward, double resistBackward) {
    double wound = stiffness * wound(gear);
    return clamped(wound, -resistBackward, resistForward);
  }

  /** The part of the angle between gear and tip that twists the file, rad. */
  private double wound(double gear) {
    double between = gear - tip;
    return between - clamped(between, -halfPlay, halfPlay);
  }

  private static double clamped(double value, double least, double most) {
    return value > most ? most : value < least ? least : value;
  }

  /** Lets the file follow the gear. */
  void follow(double gear, double resistForward, double resistBackward) {
    double wound = wound(gear);
    torque = torque(gear, resistForward, resistBackward);
    boolean held = torque == stiffness * wound;
    turned = held ? 0 : wound - torque / stiffness;
    tip += turned;
    shank = tip + torque / stiffness;
  }

  /** Angle of the file where the gear holds it, rad. */
  double shankRadians() {
    return shank;
  }

  /** Angle of the tip, rad. */
  double radians() {
    return tip;
  }

  /** How far the tip has turned in the last step, rad. */
  double turned() {
    return turned;
  }

  /** Torque in the file, N·m. */
  double torque() {
    return torque;
  }
}
