package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code canal}: the canal and the path from it to the lip clip. */
public final class CanalSection {
  /** A tooth with fluid, the same tooth as another network, or a resistor network. */
  public static final Parameter KIND =
      Parameter.of("kind")
          .choice(Kinds.words(CanalKind.values()))
          .text(
              "What is measured. tooth: a tooth that holds fluid; lumped, meshed: the same "
                  + "tooth as two other networks, to test what was trained on the first; "
                  + "field: the same tooth as a field around one axis; "
                  + "resistors: a resistor network in place of a tooth; network: resistors and "
                  + "capacitors that show the magnitudes of the tooth at its lowest and highest "
                  + "frequency, with phases of their own.")
          .source("design choice");

  /** Orifice to foramen along the canal, mm. */
  public static final Parameter LENGTH =
      Parameter.of("length_mm")
          .unit("mm", 3)
          .range("4", "30")
          .initially("16")
          .text("Length of the canal from orifice to foramen.")
          .source("assumed: the working part of a file, ISO 3630-1");

  /** Diameter of the canal where it leaves the root, mm. */
  public static final Parameter FORAMEN_DIAMETER =
      Parameter.of("foramen_diameter_mm")
          .unit("mm", 3)
          .range("0.1", "1.5")
          .initially("0.5")
          .text("Diameter of the foramen.")
          .source("Kuttler, J Am Dent Assoc 1955;50:544: 0.502 mm at 18-25 years");

  /** Distance from foramen to constriction, mm. */
  public static final Parameter CONSTRICTION =
      Parameter.of("constriction_mm")
          .unit("mm", 3)
          .range("0", "3")
          .initially("0.5")
          .text("Distance of the constriction from the foramen; 0: no constriction.")
          .source("Kuttler 1955: 0.524 mm (young), from memory");

  /** Diameter of the canal at its narrowest, mm. */
  public static final Parameter CONSTRICTION_DIAMETER =
      Parameter.of("constriction_diameter_mm")
          .unit("mm", 3)
          .range("0.1", "1.2")
          .initially("0.25")
          .text("Diameter at the constriction.")
          .source("Kuttler 1955: 0.25 to 0.30 mm");

  /** Growth of the diameter from the constriction towards the orifice, mm per mm. */
  public static final Parameter TAPER =
      Parameter.of("taper")
          .decimals(4)
          .range("0", "0.12")
          .initially("0.06")
          .text("Growth of the diameter from constriction to orifice, mm per mm.")
          .source("assumed: a canal whose upper parts have been opened");

  /** Thickness of dentine and cementum around the canal, mm. */
  public static final Parameter WALL =
      Parameter.of("wall_mm")
          .unit("mm", 3)
          .range("0.2", "5")
          .initially("1.5")
          .text("Thickness of the dentine around the canal, cementum included.")
          .source("assumed");

  /** Resistivity of the dentine, Ω·m. */
  public static final Parameter WALL_RESISTIVITY =
      Parameter.of("wall_ohm_m")
          .unit("Ω·m")
          .range("5", "1000000")
          .initially("1000")
          .text("Resistivity of the dentine.")
          .source(
              "between 7200 (water) and 210 (0.16 mol/l NaCl), computed from Schulte et "
                  + "al., J Dent 1998");

  /** Resistivity of the tissue at the foramen, Ω·m. */
  public static final Parameter TISSUE_RESISTIVITY =
      Parameter.of("tissue_ohm_m")
          .unit("Ω·m", 2)
          .range("0.2", "50")
          .initially("3")
          .text("Resistivity of the tissue just outside of the foramen.")
          .source("assumed, between blood 1.5 and muscle 6.2 (Geddes & Baker 1967)");

  /** Resistance from the foramen to the lip clip at low frequency, Ω. */
  public static final Parameter BODY =
      Parameter.of("body_ohm")
          .unit("Ω")
          .range("100", "100000")
          .initially("6500")
          .text("Resistance from foramen to lip clip at low frequency.")
          .source("Sunada, J Dent Res 1962;41:375, nominal: later work finds no true constant");

  /** Share of {@link #BODY} that is left at high frequency. */
  public static final Parameter BODY_HIGH_SHARE =
      Parameter.of("body_high_share")
          .decimals(3)
          .range("0.01", "1")
          .initially("0.15")
          .text("Share of body_ohm that remains at high frequency.")
          .source("assumed");

  /** Frequency at which the body path turns, Hz. */
  public static final Parameter BODY_CORNER =
      Parameter.of("body_corner_hz")
          .unit("Hz")
          .range("10", "1000000")
          .initially("2500")
          .text("Corner frequency of the body path (Cole).")
          .source("assumed");

  /** Cole exponent of the body path. */
  public static final Parameter BODY_EXPONENT =
      Parameter.of("body_exponent")
          .decimals(3)
          .range("0.3", "1")
          .initially("0.8")
          .text("Cole exponent of the body path.")
          .source("assumed");

  /** Resistor network: growth of the resistance per mm short of the foramen, Ω/mm. */
  public static final Parameter OHM_PER_MM =
      Parameter.of("ohm_per_mm")
          .unit("Ω/mm")
          .range("0", "100000")
          .initially("3000")
          .text(
              "Resistor network: resistance added per mm short of the foramen and removed "
                  + "per mm past it.")
          .source("assumed");

  /** Resistor network: capacitance across the whole network, nF. */
  public static final Parameter PARALLEL_CAPACITANCE =
      Parameter.of("parallel_nf")
          .unit("nF", 1)
          .range("0", "1000")
          .initially("0")
          .text("Resistor network: capacitance in parallel.")
          .source("a network of resistors alone");

  /** Resistor network: resistor across the whole network, Ω; 0 is none. */
  public static final Parameter SHUNT =
      Parameter.of("shunt_ohm")
          .unit("Ω")
          .range("0", "1000000")
          .initially("0")
          .text("Resistor network: resistor in parallel, in place of a leak; 0: none.")
          .source("a network without a leak");

  /** Height of a lateral canal above the foramen, mm; 0: none. */
  public static final Parameter LATERAL_CANAL =
      Parameter.of("lateral_canal_mm")
          .unit("mm", 3)
          .range("0", "15")
          .initially("0")
          .text("Height of a lateral canal above the foramen; 0: none.")
          .source("a canal without a lateral canal");

  /** Resistance of the lateral canal, Ω. */
  public static final Parameter LATERAL_CANAL_OHM =
      Parameter.of("lateral_canal_ohm")
          .unit("Ω")
          .range("1000", "100000000")
          .initially("200000")
          .text("Resistance from the canal through the lateral canal to tissue.")
          .source("assumed");

  /** Height of blood or exudate above the foramen, mm. */
  public static final Parameter EXUDATE =
      Parameter.of("exudate_mm")
          .unit("mm", 3)
          .range("0", "10")
          .initially("0")
          .text("Height above the foramen up to which blood or exudate replaces the fluid.")
          .source("a canal without any");

  /** Conductivity of blood or exudate, S/m. */
  public static final Parameter EXUDATE_CONDUCTIVITY =
      Parameter.of("exudate_s_per_m")
          .unit("S/m", 4)
          .range("0.01", "5")
          .initially("0.67")
          .text("Conductivity of the blood or exudate.")
          .source("blood, Geddes & Baker 1967");

  /** Angle by which the canal bends, degrees; 0 is straight. */
  public static final Parameter CURVE =
      Parameter.of("curve_deg")
          .unit("°", 1)
          .range("0", "90")
          .initially("0")
          .text("Angle of the canal's curve; 0: straight canal.")
          .source(
              "a straight canal; 84 % are curved, up to 75°: Schäfer et al., J Endod 2002;28:211");

  /** Radius of the curve, mm. */
  public static final Parameter CURVE_RADIUS =
      Parameter.of("curve_radius_mm")
          .unit("mm", 3)
          .range("1", "100")
          .initially("10")
          .text("Radius of the canal's curve.")
          .source("assumed, within the 2 to 40 mm of Schäfer et al., J Endod 2002;28:211");

  /** Height of the middle of the curve above the foramen, mm. */
  public static final Parameter CURVE_HEIGHT =
      Parameter.of("curve_mm")
          .unit("mm", 3)
          .range("0", "20")
          .initially("4")
          .text("Height of the middle of the curve above the foramen.")
          .source("assumed: between the apical and the middle third");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              KIND,
              LENGTH,
              FORAMEN_DIAMETER,
              CONSTRICTION,
              CONSTRICTION_DIAMETER,
              TAPER,
              WALL,
              WALL_RESISTIVITY,
              TISSUE_RESISTIVITY,
              BODY,
              BODY_HIGH_SHARE,
              BODY_CORNER,
              BODY_EXPONENT,
              OHM_PER_MM,
              PARALLEL_CAPACITANCE,
              SHUNT,
              LATERAL_CANAL,
              LATERAL_CANAL_OHM,
              EXUDATE,
              EXUDATE_CONDUCTIVITY,
              CURVE,
              CURVE_RADIUS,
              CURVE_HEIGHT));

  private CanalSection() {}

  /**
   * What stands where the tooth stands.
   *
   * @param values values of this section
   * @return the kind of the canal
   */
  public static CanalKind kind(ParameterValues values) {
    return CanalKind.values()[values.getInt(KIND)];
  }
}
