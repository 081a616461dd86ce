package org.stopwell.rig.physics.canal;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;

/**
 * How much shorter a curved canal gets along the file when it is cut. A cut on the inside of the
 * curve lets the file run nearer to the middle of the arc. Of two concentric arcs of angle θ the
 * inner one, at a distance n, is shorter by θ·n, so that a shift n(z) along the arc of radius R
 * shortens the path by
 *
 * <pre>  δ = (1/R) ∫ n dz,   n = 2·s·(r − r₀)</pre>
 *
 * <p>where r₀ and r are the radii of the hollow before and after and s is the share of the cut on
 * the inside: one half for a cut that is centred, one for a cut on the inside alone. Only the curve
 * counts; a file that shifts in a straight part keeps its length. Relocation of the orifice and
 * dentine that is removed above it are left out. Units SI.
 */
public final class Straightening {
  /** Parts of the arc over which the shift is added up (trapezoids). */
  private static final int PARTS = 64;

  private final double insideShare;
  private final double perMetre;
  private final double from;
  private final double step;
  private final double[] before = new double[PARTS + 1];

  /**
   * The curve of a scene before a cut.
   *
   * @param canal values of the section {@code canal}
   * @param length foramen to orifice, m; what of the arc lies outside does not count
   * @param hollow the hollow before the cut; it is not kept
   */
  public Straightening(ParameterValues canal, double length, Bore hollow) {
    this(Bend.of(canal), canal.get(CanalSection.INSIDE_SHARE) * 1e-3, length, hollow);
  }

  Straightening(Bend curve, double insideShare, double length, Bore hollow) {
    this.insideShare = insideShare;
    double half = 0.5 * curve.radius() * curve.radians();
    from = Math.max(0, curve.middle() - half);
    step = Math.max(0, Math.min(length, curve.middle() + half) - from) / PARTS;
    perMetre = 1 / curve.radius();
    for (int i = 0; i <= PARTS; i++) {
      before[i] = hollow.radius(from + i * step);
    }
  }

  /**
   * Length that the canal has lost.
   *
   * @param hollow the hollow as it is now
   * @return m
   */
  public double shortening(Bore hollow) {
    double sum = 0;
    for (int i = 0; i <= PARTS; i++) {
      double grown = hollow.radius(from + i * step) - before[i];
      sum += i == 0 || i == PARTS ? 0.5 * grown : grown;
    }
    return perMetre * 2 * insideShare * sum * step;
  }
}
