package org.stopwell.rig.physics.field;

import org.stopwell.core.number.Elementary;
import org.stopwell.rig.random.RandomStream;

/**
 * What the field model needs of a tooth and no scene gives. Units SI.
 *
 * @param ligamentWidth width of the periodontal ligament, m
 * @param boneResistivity resistivity of the bone around the ligament, Ω·m
 * @param cementum thickness of the cementum, m
 * @param cementumFactor resistivity of the cementum as a multiple of that of the dentine
 * @param tubuleFactor resistivity of the dentine along the root as a multiple of that along its
 *     tubules, which run from the canal outwards
 * @param apexShare thickness of the wall at the foramen as a share of that of the root
 * @param apexHeight height up to which the root widens, m
 * @param gumWidth thickness of the gum over bone and ligament, m
 * @param bodyShare share of the nominal resistance to the lip clip that lies beyond the bone
 * @param gumPart share of the current beyond the bone that the gum takes
 */
record FieldAnatomy(
    double ligamentWidth,
    double boneResistivity,
    double cementum,
    double cementumFactor,
    double tubuleFactor,
    double apexShare,
    double apexHeight,
    double gumWidth,
    double bodyShare,
    double gumPart) {

  /** The anatomy of a tooth, drawn; docs/field-model.md has the sources of the spreads. */
  static FieldAnatomy drawn(RandomStream random) {
    return new FieldAnatomy(
        random.nextBetween(0.15e-3, 0.38e-3),
        logBetween(random, 25, 150),
        random.nextBetween(0.05e-3, 0.15e-3),
        logBetween(random, 1, 5),
        logBetween(random, 1.5, 6),
        random.nextBetween(0.2, 0.4),
        random.nextBetween(2e-3, 4e-3),
        random.nextBetween(1e-3, 3e-3),
        random.nextBetween(0.4, 0.9),
        random.nextBetween(0.1, 0.4));
  }

  private static double logBetween(RandomStream random, double low, double high) {
    return low * Elementary.pow(high / low, random.nextDouble());
  }
}
