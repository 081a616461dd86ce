package org.stopwell.rig.physics.file;

/**
 * A file pressed into its own cone, as a cone clutch: it needs a torque to turn, and where friction
 * exceeds the slope it stays wedged when the hand releases it (taper lock). Turning frees it, and
 * so does drawing it out.
 *
 * <p>Cone clutch of even pressure: {@code N = F/(sin α + μ cos α)}, {@code T = μN·⅔(r₂³−r₁³)/(r₂²−
 * r₁²)} (textbooks of machine elements, from memory).
 */
public final class Wedge {
  /** Drawn out by this a file is free, m: assumed, more than a hand trembles from end to end. */
  private static final double FREE = 300e-6;

  private final double perNewton;
  private final boolean locks;
  private double force;
  private double seat = Double.NEGATIVE_INFINITY;
  private double meanRadius;

  /**
   * A file that is free.
   *
   * @param slope growth of its radius, the tangent of α
   * @param friction friction μ between file and wall
   */
  public Wedge(double slope, double friction) {
    double across = StrictMath.sqrt(1 + slope * slope);
    perNewton = friction > 0 ? friction * across / (slope + friction) : 0;
    locks = friction > slope;
  }

  /**
   * Presses the file into the wall.
   *
   * @param newtons force along the canal, N, more than 0
   * @param remaining height of the tip above the foramen, m
   * @param turns whether the file turns, either way: then nothing is left of an earlier force
   * @param radius1 least radius where file and wall touch, m
   * @param radius2 greatest radius there, m
   */
  public void press(
      double newtons, double remaining, boolean turns, double radius1, double radius2) {
    force = turns ? newtons : Math.max(force, newtons);
    seat = remaining;
    double sum = radius1 + radius2;
    meanRadius = sum > 0 ? 2.0 / 3 * (sum - radius1 * radius2 / sum) : 0;
  }

  /**
   * Lets go of the file.
   *
   * @param remaining height of the tip above the foramen, m
   * @param turns whether the file turns, either way
   */
  public void release(double remaining, boolean turns) {
    if (turns || !locks || remaining > seat + FREE) {
      force = 0;
    }
  }

  /**
   * Torque against turning, either way.
   *
   * @return N·m
   */
  public double torque() {
    return perNewton * force * meanRadius;
  }
}
