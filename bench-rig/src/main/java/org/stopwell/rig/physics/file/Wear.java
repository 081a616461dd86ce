package org.stopwell.rig.physics.file;

import org.stopwell.rig.bench.FileCondition;

/**
 * How far a file is used up, and when it breaks: at once by a torque above its strength 3 mm from
 * the tip, where ISO 3630-1 grips it, or after so many turns in a curve. Damage adds up turn by
 * turn (Palmgren and Miner). That one kind of damage weakens the file against the other is left
 * out: the literature contradicts itself.
 */
public final class Wear {
  /** Where a file is gripped in the test of its strength, and breaks here, m from the tip. */
  public static final double GRIP = 3e-3;

  private static final double TURN = 2 * Math.PI;

  private final Metal metal;
  private final double strength;
  private double damage;
  private FileCondition condition = FileCondition.WHOLE;

  /**
   * A new file.
   *
   * @param file its shape
   * @param metal its material
   */
  public Wear(Instrument file, Metal metal) {
    this.metal = metal;
    strength = metal.torqueToBreak(file.radius(GRIP));
  }

  /**
   * Twists the file.
   *
   * @param torque torque on it, N·m, of either sign
   */
  public void twist(double torque) {
    if (condition == FileCondition.WHOLE && Math.abs(torque) > strength) {
      condition = FileCondition.TWISTED_OFF;
    }
  }

  /**
   * Turns the file while it is bent.
   *
   * @param radians angle turned, rad, of either sign
   * @param strain surface strain, 1 is 100 %; 0 in a straight canal
   */
  public void bend(double radians, double strain) {
    // a file at rest takes no damage, and the power for it takes longer than the rest of a step
    if (radians != 0 && strain > 0 && condition == FileCondition.WHOLE) {
      damage += Math.abs(radians) / (TURN * metal.turnsToBreak(strain));
      if (damage >= 1) {
        condition = FileCondition.BENT_OFF;
      }
    }
  }

  /**
   * Torque that the file bears.
   *
   * @return N·m
   */
  public double strength() {
    return strength;
  }

  /**
   * Share of the turns that the file bears in its curve.
   *
   * @return 0 when new, 1 when it breaks
   */
  public double damage() {
    return damage;
  }

  /**
   * How the file is.
   *
   * @return whole, or what broke it
   */
  public FileCondition condition() {
    return condition;
  }
}
