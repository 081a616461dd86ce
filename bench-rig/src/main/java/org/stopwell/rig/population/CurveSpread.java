package org.stopwell.rig.population;

import java.util.List;
import org.stopwell.rig.random.RandomStream;

/**
 * How canals are curved: angle and radius belong together.
 *
 * <p>Source: Schäfer, Diez, Hoppe and Tepel, J Endod 2002;28:211: of 1163 canals of all teeth but
 * third molars 84 % were curved; 65 % up to 27° with radii below 40 mm, 13 % from there to 35° with
 * radii up to 15 mm, 9 % beyond with radii up to 13 mm; the greatest angle was 75°. The shares add
 * up to 87 %, so the straight ones make up the rest here. Within a class angle and radius are even,
 * and its least radius is assumed.
 *
 * @param share share of all canals
 * @param leastDegrees least angle, °
 * @param greatestDegrees greatest angle, °
 * @param leastRadiusMm least radius, mm
 * @param greatestRadiusMm greatest radius, mm
 */
record CurveSpread(
    double share,
    double leastDegrees,
    double greatestDegrees,
    double leastRadiusMm,
    double greatestRadiusMm) {

  /** The classes in order; what is left of the whole is straight. */
  static final List<CurveSpread> CLASSES =
      List.of(
          new CurveSpread(0.65, 1, 27, 8, 40),
          new CurveSpread(0.13, 27, 35, 5, 15),
          new CurveSpread(0.09, 35, 75, 2, 13));

  /** A curve as a person would write it. */
  record Bend(double degrees, double radiusMm) {}

  static Bend draw(RandomStream random) {
    double at = random.nextDouble();
    double angle = random.nextDouble();
    double radius = random.nextDouble();
    for (CurveSpread c : CLASSES) {
      if (at < c.share) {
        return new Bend(
            c.leastDegrees + angle * (c.greatestDegrees - c.leastDegrees),
            c.leastRadiusMm + radius * (c.greatestRadiusMm - c.leastRadiusMm));
      }
      at -= c.share;
    }
    return new Bend(0, 10);
  }
}
