package org.stopwell.rig.physics.canal;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.file.Metal;

/**
 * One bend of a canal, an arc. It bends a file that reaches past its middle; fluid and current do
 * not feel it, because both follow the axis. {@link Straightening} says how a cut shortens it.
 *
 * @param radians angle of the arc, rad; 0 is a straight canal
 * @param radius radius of the arc, m
 * @param middle height of its middle above the foramen, along the canal, m
 */
public record Bend(double radians, double radius, double middle) {
  /**
   * The curve of a scene.
   *
   * @param canal values of the section {@code canal}
   * @return the curve
   */
  public static Bend of(ParameterValues canal) {
    return new Bend(
        Math.toRadians(canal.get(CanalSection.CURVE) * 0.1),
        canal.get(CanalSection.CURVE_RADIUS) * 1e-6,
        canal.get(CanalSection.CURVE_HEIGHT) * 1e-6);
  }

  private boolean bends(double remaining) {
    return radians > 0 && remaining < middle;
  }

  /**
   * Surface strain of a file in the middle of the curve, where it breaks (Pruett, Clement and
   * Carnes, J Endod 1997;23:77): {@code d/(2R)}.
   *
   * @param file the file
   * @param remaining height of its tip above the foramen, m
   * @return strain, 1 is 100 %; 0 while the tip is above the middle
   */
  public double strain(Instrument file, double remaining) {
    return bends(remaining) ? file.radius(middle - remaining) / radius : 0;
  }

  /**
   * Torque that friction in the curve asks of a file, either way. A rod held in an arc presses on
   * its inner wall in the middle and on the outer one at both ends, as in bending over three
   * points: {@code M = EI/R}, together {@code 8M/s} over the arc's length s. A file of solid share
   * κ counts as the round rod of its area, {@code I = κ²πr⁴/4}; metal that yields presses less.
   *
   * @param file the file
   * @param metal its metal
   * @param remaining height of its tip above the foramen, m
   * @return N·m; 0 while the tip is above the middle
   */
  public double friction(Instrument file, Metal metal, double remaining) {
    if (!bends(remaining)) {
      return 0;
    }
    double r = file.radius(middle - remaining);
    double area = file.solidFraction() * r * r;
    double moment = metal.youngsPascals() * Math.PI / 4 * area * area / radius;
    return metal.friction() * r * 8 * moment / (radius * radians);
  }
}
