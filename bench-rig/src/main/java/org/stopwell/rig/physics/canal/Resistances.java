package org.stopwell.rig.physics.canal;

import org.stopwell.core.number.Elementary;

/** Closed forms of resistance in simple bodies. Units SI. */
public final class Resistances {
  private Resistances() {}

  /**
   * Fluid in a cone between two discs, plane equipotentials: {@code ρL/(π r1 r2)}.
   *
   * @param resistivity resistivity, Ω·m
   * @param length length, m
   * @param radius1 radius at one end, m
   * @param radius2 radius at the other end, m
   * @return resistance, Ω
   */
  public static double frustum(double resistivity, double length, double radius1, double radius2) {
    return resistivity * length / (Math.PI * radius1 * radius2);
  }

  /**
   * Fluid between a tapered canal and a tapered file on its axis: the integral of {@code ρ dz/[π(a²
   * − b²)]} with a and b straight in z, by partial fractions. Where both are similar cones the
   * general form is 0/0 and the limit is taken.
   *
   * @param resistivity resistivity, Ω·m
   * @param length length, m
   * @param outer1 radius of the canal at one end, m
   * @param outer2 radius of the canal at the other end, m
   * @param inner1 radius of the file at the first end, m, less than outer1
   * @param inner2 radius of the file at the second end, m, less than outer2
   * @return resistance, Ω
   */
  public static double annulus(
      double resistivity,
      double length,
      double outer1,
      double outer2,
      double inner1,
      double inner2) {
    double gap1 = outer1 - inner1;
    double gap2 = outer2 - inner2;
    double sum1 = outer1 + inner1;
    double sum2 = outer2 + inner2;
    // ∫ dz/(gap·sum) = L·ln(x)/(gap2·sum1 − gap1·sum2) with x = gap2·sum1/(gap1·sum2)
    double cross = gap1 * sum2;
    double u = (gap2 * sum1 - cross) / cross;
    return resistivity * length / (Math.PI * cross) * logOver(u);
  }

  /** Below this the quadrature of {@link #logOver} is exact to 1e-9. */
  private static final double SMALL = 0.2;

  /**
   * {@code ln(1+u)/u}, which is 1 at 0: the mean of {@code 1/(1+ut)} over t from 0 to 1, for small
   * u by Gauss and Legendre at four points.
   */
  static double logOver(double u) {
    if (!(u > -SMALL && u < SMALL)) {
      return Elementary.log1p(u) / u;
    }
    double middle = 1 + 0.5 * u;
    double square = middle * middle;
    double inner = square - 0.028896777499262 * u * u;
    double outer = square - 0.185388936786452 * u * u;
    return 2 * middle * (0.326072577431273 * outer + 0.173927422568727 * inner) / (inner * outer);
  }

  /**
   * From a half spheroid that stands on an insulating plane to far away. Its edge on the plane is a
   * circle; its height may be 0, which is a disc, {@code ρ/(4r)}, or the radius, which is a
   * hemisphere, {@code ρ/(2πr)}. Half of the capacity of a spheroid, turned into a conductance.
   *
   * @param resistivity resistivity, Ω·m
   * @param radius radius of the edge, m
   * @param height height above the plane, m, not negative
   * @return resistance, Ω
   */
  public static double halfSpheroid(double resistivity, double radius, double height) {
    double ratio = height / radius;
    double shape;
    if (StrictMath.abs(ratio - 1) < 1e-6) {
      shape = 1;
    } else if (ratio < 1) {
      shape = Elementary.acos(ratio) / StrictMath.sqrt(1 - ratio * ratio);
    } else {
      double root = StrictMath.sqrt(ratio * ratio - 1);
      shape = Elementary.log(ratio + root) / root;
    }
    return resistivity * shape / (2 * Math.PI * radius);
  }
}
