package org.stopwell.rig.physics.canal;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.physics.file.Instrument;

/**
 * The hollow of a canal as it is now: the radius over the height, straight between a few points.
 * Cutting widens it to the shape of the deepest turning file, because a rigid file whose radius
 * never falls towards the shaft leaves nothing of its cut path.
 */
public final class Bore {
  private static final int MOST_POINTS = 32;

  private final Canal canal;
  private final double[] height = new double[MOST_POINTS];
  private final double[] radius = new double[MOST_POINTS];
  private final double[] slope = new double[MOST_POINTS];
  private final double[] volume = new double[MOST_POINTS];
  private final double[] oldHeight = new double[MOST_POINTS];
  private final double[] oldRadius = new double[MOST_POINTS];
  private final double @Nullable [] shapedHeight;
  private final double @Nullable [] shapedRadius;
  private int points;
  private int cuts;

  /**
   * The hollow before the trial: uncut, or as it has been shaped.
   *
   * @param canal the canal
   */
  public Bore(Canal canal) {
    this.canal = canal;
    uncut();
    Shaped shaped = canal.shaped();
    if (shaped != null) {
      widen(shaped.file(), shaped.tip());
    }
    shapedHeight = shaped == null ? null : Arrays.copyOf(height, points);
    shapedRadius = shaped == null ? null : Arrays.copyOf(radius, points);
  }

  /** Fills in whatever was cut since the trial began. */
  private void restore() {
    if (shapedHeight == null || shapedRadius == null) {
      uncut();
      return;
    }
    points = shapedHeight.length;
    System.arraycopy(shapedHeight, 0, height, 0, points);
    System.arraycopy(shapedRadius, 0, radius, 0, points);
    measure();
  }

  /** The hollow before anything has been cut. */
  private void uncut() {
    points = 0;
    if (canal.constriction() > 0) {
      add(0, canal.foramenRadius());
    }
    add(canal.constriction(), canal.constrictionRadius());
    if (canal.constrictionLength() > 0) {
      add(canal.widens(), canal.constrictionRadius());
    }
    add(
        canal.length(),
        canal.constrictionRadius() + canal.slope() * (canal.length() - canal.widens()));
    measure();
  }

  private void add(double z, double r) {
    height[points] = z;
    radius[points++] = r;
  }

  private void measure() {
    volume[0] = 0;
    for (int i = 1; i < points; i++) {
      double tall = height[i] - height[i - 1];
      slope[i] = tall > 0 ? (radius[i] - radius[i - 1]) / tall : 0;
      volume[i] = volume[i - 1] + frustum(radius[i - 1], radius[i], tall);
    }
  }

  private static double frustum(double r1, double r2, double length) {
    return Math.PI / 3 * length * (r1 * r1 + r1 * r2 + r2 * r2);
  }

  /**
   * How often it has been cut.
   *
   * @return a number that stays as long as the profile stays
   */
  int cuts() {
    return cuts;
  }

  /**
   * How many points the profile has.
   *
   * @return at least 2
   */
  public int points() {
    return points;
  }

  /**
   * Height of a point of the profile; a step in radius is two points of one height.
   *
   * @param i from 0 to {@link #points} − 1
   * @return height, m
   */
  public double height(int i) {
    return height[i];
  }

  /**
   * Radius of the hollow.
   *
   * @param z height above the foramen, m; below and above the canal its ends count
   * @return radius, m
   */
  public double radius(double z) {
    if (z <= height[0]) {
      return radius[0];
    }
    int i = segment(z);
    return i == points ? radius[points - 1] : between(i, z);
  }

  /**
   * Volume of the empty hollow from the foramen up to a height.
   *
   * @param z height, m, at most the length of the canal
   * @return volume, m³
   */
  public double volumeBelow(double z) {
    if (z <= 0) {
      return 0;
    }
    int i = segment(z);
    if (i == points) {
      return volume[points - 1];
    }
    return volume[i - 1] + frustum(radius[i - 1], between(i, z), z - height[i - 1]);
  }

  /**
   * Height up to which the empty hollow holds a volume, the other way round of {@link
   * #volumeBelow}: {@code h = [(r³ + 3sV/π)^(1/3) − r]/s} within a cone.
   *
   * @param wanted volume, m³; what the canal cannot hold gives its whole length
   * @return height, m
   */
  public double heightOf(double wanted) {
    int i = 1;
    while (i < points && volume[i] < wanted) {
      i++;
    }
    if (i == points) {
      return height[points - 1];
    }
    double r = radius[i - 1];
    double inside = wanted - volume[i - 1];
    double slope = (radius[i] - r) / (height[i] - height[i - 1]);
    double up =
        Math.abs(slope) < 1e-9
            ? inside / (Math.PI * r * r)
            : (Elementary.cbrt(r * r * r + 3 * slope * inside / Math.PI) - r) / slope;
    return height[i - 1] + up;
  }

  /** The first point above a height, or the number of points. */
  private int segment(double z) {
    int i = 1;
    while (i < points && height[i] <= z) {
      i++;
    }
    return i;
  }

  /**
   * Radius within a part of the profile.
   *
   * @param i index of the point above the part, from 1
   * @param z height between that point and the one below it, m
   * @return radius, m
   */
  double between(int i, double z) {
    return radius[i - 1] + slope[i] * (z - height[i - 1]);
  }

  /**
   * Greatest protrusion of a file at a depth over the wall.
   *
   * @param file the file
   * @param tip height of its tip, m
   * @return the greatest overlap of radii, m; negative where it passes freely
   */
  public double overlap(Instrument file, double tip) {
    double from = Math.max(tip, 0);
    if (from >= canal.length()) {
      return Double.NEGATIVE_INFINITY;
    }
    double most = file.radius(from - tip) - radius(from);
    for (int i = 0; i < points; i++) {
      if (height[i] > from) {
        double here = file.radius(height[i] - tip) - radius[i];
        most = here > most ? here : most;
      }
    }
    double shaft = tip + file.cuttingLength();
    if (shaft > from && shaft < canal.length()) {
      most = Math.max(most, file.radius(shaft - tip) - radius(shaft));
    }
    return most;
  }

  /** Nearer to the wall than this a file touches it, m: assumed, the give of the wall. */
  private static final double TOUCH = 1e-6;

  /**
   * Least radius at which a file at a depth touches the wall.
   *
   * @param file the file
   * @param tip height of its tip, m
   * @return radius of the file, m; infinite where it touches nowhere
   */
  public double leastTouch(Instrument file, double tip) {
    double from = Math.max(tip, 0);
    double least = touches(file, tip, from) ? file.radius(from - tip) : Double.POSITIVE_INFINITY;
    for (int i = 0; i < points; i++) {
      if (height[i] > from && touches(file, tip, height[i], radius[i])) {
        least = Math.min(least, file.radius(height[i] - tip));
      }
    }
    return shaftTouches(file, tip) ? Math.min(least, file.radius(file.cuttingLength())) : least;
  }

  /**
   * Greatest radius at which a file at a depth touches the wall.
   *
   * @param file the file
   * @param tip height of its tip, m
   * @return radius of the file, m; 0 where it touches nowhere
   */
  public double greatestTouch(Instrument file, double tip) {
    double from = Math.max(tip, 0);
    double greatest = touches(file, tip, from) ? file.radius(from - tip) : 0;
    for (int i = 0; i < points; i++) {
      if (height[i] > from && touches(file, tip, height[i], radius[i])) {
        greatest = Math.max(greatest, file.radius(height[i] - tip));
      }
    }
    return shaftTouches(file, tip) ? file.radius(file.cuttingLength()) : greatest;
  }

  /** Whether the file touches the wall where its shaft begins. */
  private boolean shaftTouches(Instrument file, double tip) {
    double shaft = tip + file.cuttingLength();
    return shaft > 0 && touches(file, tip, shaft);
  }

  private boolean touches(Instrument file, double tip, double z) {
    return z < canal.length() && touches(file, tip, z, radius(z));
  }

  private static boolean touches(Instrument file, double tip, double z, double wall) {
    return file.radius(z - tip) > wall - TOUCH;
  }

  /**
   * Widens the hollow to a file that has turned down to a depth. Call it with ever greater depth.
   *
   * @param file the file
   * @param tip height of its tip, m
   * @return volume cut away since the last call, m³
   */
  public double carve(Instrument file, double tip) {
    double before = volume[points - 1];
    restore();
    widen(file, tip);
    cuts++;
    return volume[points - 1] - before;
  }

  /** Widens the profile that stands to a file at a depth. */
  private void widen(Instrument file, double tip) {
    int old = points;
    double[] z0 = oldHeight;
    double[] r0 = oldRadius;
    System.arraycopy(height, 0, z0, 0, old);
    System.arraycopy(radius, 0, r0, 0, old);
    points = 0;
    add(z0[0], widest(file, tip, z0[0], r0[0]));
    for (int i = 1; i < old; i++) {
      if (tip > z0[i - 1] && tip < z0[i]) {
        double here = r0[i - 1] + (tip - z0[i - 1]) / (z0[i] - z0[i - 1]) * (r0[i] - r0[i - 1]);
        add(tip, here);
        if (file.tipRadius() > here) {
          add(tip, file.tipRadius());
        }
        widen(file, tip, tip, here, z0[i], r0[i]);
      } else if (z0[i - 1] >= tip) {
        widen(file, tip, z0[i - 1], r0[i - 1], z0[i], r0[i]);
      }
      add(z0[i], widest(file, tip, z0[i], r0[i]));
    }
    measure();
  }

  private static double widest(Instrument file, double tip, double z, double r) {
    return z >= tip ? Math.max(r, file.radius(z - tip)) : r;
  }

  /** Adds the corners of the widened wall between two heights. */
  private void widen(Instrument file, double tip, double z1, double r1, double z2, double r2) {
    double shaft = tip + file.cuttingLength();
    if (shaft > z1 && shaft < z2) {
      double wall = r1 + (shaft - z1) / (z2 - z1) * (r2 - r1);
      crossing(file, tip, z1, r1, shaft, wall);
      add(shaft, widest(file, tip, shaft, wall));
      crossing(file, tip, shaft, wall, z2, r2);
    } else {
      crossing(file, tip, z1, r1, z2, r2);
    }
  }

  /** Adds the point where file and wall cross between two heights, if they do. */
  private void crossing(Instrument file, double tip, double z1, double r1, double z2, double r2) {
    double over1 = file.radius(z1 - tip) - r1;
    double over2 = file.radius(z2 - tip) - r2;
    if (over1 * over2 < 0) {
      double share = over1 / (over1 - over2);
      add(z1 + share * (z2 - z1), r1 + share * (r2 - r1));
    }
  }
}
