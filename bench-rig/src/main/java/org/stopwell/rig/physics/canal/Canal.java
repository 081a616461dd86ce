package org.stopwell.rig.physics.canal;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;

/**
 * A canal before anything has been cut: heights count from the foramen towards the orifice. Units
 * SI.
 *
 * @param length foramen to orifice, m
 * @param foramenRadius radius at the foramen, m
 * @param constriction height of the constriction, m
 * @param constrictionRadius radius there, m
 * @param slope growth of the radius from constriction to orifice, half of the taper, m/m
 * @param wall thickness of the dentine, m
 * @param wallResistivity resistivity of the dentine, Ω·m
 * @param tissueResistivity resistivity of the tissue at the foramen, Ω·m
 */
public record Canal(
    double length,
    double foramenRadius,
    double constriction,
    double constrictionRadius,
    double slope,
    double wall,
    double wallResistivity,
    double tissueResistivity) {

  /**
   * The canal of a scene.
   *
   * @param canal values of the section {@code canal}
   * @return the canal
   */
  public static Canal of(ParameterValues canal) {
    return new Canal(
        canal.get(CanalSection.LENGTH) * 1e-6,
        canal.get(CanalSection.FORAMEN_DIAMETER) * 0.5e-6,
        canal.get(CanalSection.CONSTRICTION) * 1e-6,
        canal.get(CanalSection.CONSTRICTION_DIAMETER) * 0.5e-6,
        canal.get(CanalSection.TAPER) * 0.5e-4,
        canal.get(CanalSection.WALL) * 1e-6,
        canal.get(CanalSection.WALL_RESISTIVITY),
        canal.get(CanalSection.TISSUE_RESISTIVITY) * 1e-2);
  }
}
