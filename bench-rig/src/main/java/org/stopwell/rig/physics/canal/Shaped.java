package org.stopwell.rig.physics.canal;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.physics.file.Instrument;

/**
 * What has been cut from a canal before the trial: the path of one turning file down to a depth.
 *
 * @param file the file, its shape alone
 * @param tip height of its tip above the foramen at the end, m
 */
public record Shaped(Instrument file, double tip) {
  /** Length of the cutting part of the file that shaped the canal, m: ISO 3630-1, from memory. */
  private static final double CUTTING = 16e-3;

  /**
   * The shaping that a scene states.
   *
   * @param canal values of the section {@code canal}
   * @return the shaping, or nothing
   */
  public static @Nullable Shaped of(ParameterValues canal) {
    long size = canal.get(CanalSection.SHAPED_SIZE);
    if (size == 0) {
      return null;
    }
    double slope = canal.get(CanalSection.SHAPED_TAPER) * 0.5e-4;
    return new Shaped(
        new Instrument(size * 0.5e-5, slope, CUTTING, 1, 0, 1, 0, 0, 0, 0, 0),
        canal.get(CanalSection.SHAPED_TO) * 1e-6);
  }
}
