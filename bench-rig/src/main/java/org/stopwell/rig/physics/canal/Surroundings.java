package org.stopwell.rig.physics.canal;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;

/**
 * What a canal is filled with and surrounded by, electrically. Units SI.
 *
 * @param body resistance from the tissue around the root to the lip clip at low frequency, Ω
 * @param bodyHighShare share of it at high frequency
 * @param bodyCorner frequency between the two, Hz
 * @param bodyExponent exponent of the Cole element
 * @param fluidResistivity resistivity of the fluid, Ω·m
 * @param chamberDepth depth of the chamber, m
 * @param leak conductance from a full chamber through its wall to the lip, S
 * @param overflow conductance of the film where the chamber has run over, S
 * @param crown conductance from the fluid through a metal crown to the lip, S; 0 is none
 * @param crownEdge height of the lower edge of that metal above the orifice, m
 * @param exudate height of the exudate, m
 * @param exudateResistivity resistivity of the exudate, Ω·m
 * @param lateralCanal height of a lateral canal, m; 0 is none
 * @param side conductance of the lateral canal, S
 * @param fragment height of the lower end of a separated file, m
 * @param fragmentTop height of its upper end, m; 0 is none
 */
public record Surroundings(
    double body,
    double bodyHighShare,
    double bodyCorner,
    double bodyExponent,
    double fluidResistivity,
    double chamberDepth,
    double leak,
    double overflow,
    double crown,
    double crownEdge,
    double exudate,
    double exudateResistivity,
    double lateralCanal,
    double side,
    double fragment,
    double fragmentTop) {
  /**
   * So far below the edge of the chamber its fluid still clings to it, m: assumed, against 2.7 mm
   * of capillary length of water (worked out). A trembling hand moves the level by less, so that
   * the film does not come and go with it.
   */
  private static final double CLINGS = 0.1e-3;

  /**
   * Whether fluid reaches the edge of the chamber, so that it runs over.
   *
   * @param depth of the fluid in the chamber, m
   * @param chamberDepth depth of the chamber, m
   * @return whether the chamber is full
   */
  public static boolean full(double depth, double chamberDepth) {
    return depth > chamberDepth - CLINGS;
  }

  /**
   * Conductance from the fluid in the chamber through the metal of a crown to the lip. The metal is
   * one conductor, so the whole crown leaks as soon as fluid touches its edge.
   *
   * @param depth of the fluid in the chamber, m
   * @return S
   */
  public double throughCrown(double depth) {
    return depth > crownEdge ? crown : 0;
  }

  /**
   * Resistivity of what is in the canal at a height: exudate or fluid.
   *
   * @param z height above the foramen, m
   * @return Ω·m
   */
  public double resistivity(double z) {
    return z < exudate ? exudateResistivity : fluidResistivity;
  }

  /**
   * The surroundings of a scene.
   *
   * @param canal values of the section {@code canal}
   * @param fluid values of the section {@code fluid}
   * @return the surroundings
   */
  public static Surroundings of(ParameterValues canal, ParameterValues fluid) {
    return new Surroundings(
        canal.get(CanalSection.BODY),
        canal.get(CanalSection.BODY_HIGH_SHARE) * 1e-3,
        canal.get(CanalSection.BODY_CORNER),
        canal.get(CanalSection.BODY_EXPONENT) * 1e-3,
        1 / FluidSection.siemensPerMetre(fluid),
        fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6,
        1.0 / fluid.get(FluidSection.LEAK),
        1.0 / fluid.get(FluidSection.OVERFLOW),
        fluid.get(FluidSection.CROWN) == 0 ? 0 : 1.0 / fluid.get(FluidSection.CROWN),
        fluid.get(FluidSection.CROWN_EDGE) * 1e-6,
        canal.get(CanalSection.EXUDATE) * 1e-6,
        1 / (canal.get(CanalSection.EXUDATE_CONDUCTIVITY) * 1e-4),
        canal.get(CanalSection.LATERAL_CANAL) * 1e-6,
        1.0 / canal.get(CanalSection.LATERAL_CANAL_OHM),
        canal.get(CanalSection.FRAGMENT) * 1e-6,
        CanalSection.fragmentTop(canal) * 1e-6);
  }
}
