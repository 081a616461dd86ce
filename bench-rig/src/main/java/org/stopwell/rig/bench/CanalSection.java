package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code canal}: the canal and the way from it to the lip electrode. */
public final class CanalSection {
  /** A tooth with fluid in it, a tooth of other make, or a network in its place. */
  public static final Parameter KIND =
      Parameter.choice(
          "kind",
          List.of("tooth", "resistors", "lumped", "network", "meshed"),
          "A tooth that holds fluid, a resistor network in its place, the same tooth by another"
              + " network (lumped) or by a third (meshed), to try what must not believe its own"
              + " simulator, or a network of resistors and capacitors that shows the magnitudes of the"
              + " same tooth at its lowest and its highest frequency, and phases of its own",
          "design choice");

  /** Orifice to foramen along the canal, mm. */
  public static final Parameter LENGTH =
      Parameter.number(
          "length_mm",
          "mm",
          3,
          "4",
          "30",
          "16",
          "Length of the canal from orifice to foramen",
          "assumed: the working part of a file, ISO 3630-1");

  /** Diameter of the canal where it leaves the root, mm. */
  public static final Parameter FORAMEN_DIAMETER =
      Parameter.number(
          "foramen_diameter_mm",
          "mm",
          3,
          "0.1",
          "1.5",
          "0.5",
          "Diameter of the foramen",
          "Kuttler, J Am Dent Assoc 1955;50:544: 0.502 mm at 18-25 years");

  /** Distance from foramen to constriction, mm. */
  public static final Parameter CONSTRICTION =
      Parameter.number(
          "constriction_mm",
          "mm",
          3,
          "0",
          "3",
          "0.5",
          "Distance of the constriction from the foramen; 0 is a canal without one",
          "Kuttler 1955: 0.524 mm (young), from memory");

  /** Diameter of the canal at its narrowest, mm. */
  public static final Parameter CONSTRICTION_DIAMETER =
      Parameter.number(
          "constriction_diameter_mm",
          "mm",
          3,
          "0.1",
          "1.2",
          "0.25",
          "Diameter at the constriction",
          "Kuttler 1955: 0.25 to 0.30 mm");

  /** Growth of the diameter from the constriction towards the orifice, mm per mm. */
  public static final Parameter TAPER =
      Parameter.number(
          "taper",
          "",
          4,
          "0",
          "0.12",
          "0.06",
          "Growth of the diameter from constriction to orifice, mm per mm",
          "assumed: a canal whose upper parts have been opened");

  /** Thickness of dentine and cementum around the canal, mm. */
  public static final Parameter WALL =
      Parameter.number(
          "wall_mm", "mm", 3, "0.2", "5", "1.5", "Thickness of the root wall", "assumed");

  /** Resistivity of the root wall, Ω·m. */
  public static final Parameter WALL_RESISTIVITY =
      Parameter.number(
          "wall_ohm_m",
          "Ω·m",
          0,
          "5",
          "1000000",
          "1000",
          "Resistivity of the root wall",
          "between 7200 (water) and 210 (0.16 mol/l NaCl), worked out from Schulte et al., J Dent"
              + " 1998");

  /** Resistivity of the tissue at the foramen, Ω·m. */
  public static final Parameter TISSUE_RESISTIVITY =
      Parameter.number(
          "tissue_ohm_m",
          "Ω·m",
          2,
          "0.2",
          "50",
          "3",
          "Resistivity of the tissue just outside of the foramen",
          "assumed, between blood 1.5 and muscle 6.2 (Geddes & Baker 1967)");

  /** Resistance from the foramen to the lip electrode at low frequency, Ω. */
  public static final Parameter BODY =
      Parameter.number(
          "body_ohm",
          "Ω",
          0,
          "100",
          "100000",
          "6500",
          "Resistance from foramen to lip electrode at low frequency",
          "Sunada, J Dent Res 1962;41:375, nominal: later work finds no true constant");

  /** Share of {@link #BODY} that is left at high frequency. */
  public static final Parameter BODY_HIGH_SHARE =
      Parameter.number(
          "body_high_share",
          "",
          3,
          "0.01",
          "1",
          "0.15",
          "Share of body_ohm that is left at high frequency",
          "assumed");

  /** Frequency at which the body path turns, Hz. */
  public static final Parameter BODY_CORNER =
      Parameter.number(
          "body_corner_hz",
          "Hz",
          0,
          "10",
          "1000000",
          "2500",
          "Corner frequency of the body path (Cole)",
          "assumed");

  /** Cole exponent of the body path. */
  public static final Parameter BODY_EXPONENT =
      Parameter.number(
          "body_exponent", "", 3, "0.3", "1", "0.8", "Cole exponent of the body path", "assumed");

  /** Resistor network: growth of the resistance per mm short of the foramen, Ω/mm. */
  public static final Parameter OHM_PER_MM =
      Parameter.number(
          "ohm_per_mm",
          "Ω/mm",
          0,
          "0",
          "100000",
          "3000",
          "Resistor network: resistance added per mm short of the foramen, taken off past it",
          "assumed");

  /** Resistor network: capacitance across the whole network, nF. */
  public static final Parameter PARALLEL_CAPACITANCE =
      Parameter.number(
          "parallel_nf",
          "nF",
          1,
          "0",
          "1000",
          "0",
          "Resistor network: capacitance across it",
          "a network of resistors alone");

  /** Resistor network: resistor across the whole network, Ω; 0 is none. */
  public static final Parameter SHUNT =
      Parameter.number(
          "shunt_ohm",
          "Ω",
          0,
          "0",
          "1000000",
          "0",
          "Resistor network: resistor across it, as a leak would be; 0 is none",
          "a network without a leak");

  /** Height of a side canal above the foramen, mm; 0 is none. */
  public static final Parameter SIDE_CANAL =
      Parameter.number(
          "side_canal_mm",
          "mm",
          3,
          "0",
          "15",
          "0",
          "Height of a side canal above the foramen; 0 is none",
          "a canal without one");

  /** Resistance of the side canal, Ω. */
  public static final Parameter SIDE_CANAL_OHM =
      Parameter.number(
          "side_canal_ohm",
          "Ω",
          0,
          "1000",
          "100000000",
          "200000",
          "Resistance from the canal through the side canal to tissue",
          "assumed");

  /** Height of blood or exudate above the foramen, mm. */
  public static final Parameter EXUDATE =
      Parameter.number(
          "exudate_mm",
          "mm",
          3,
          "0",
          "10",
          "0",
          "Height above the foramen up to which blood or exudate takes the place of the fluid",
          "a canal without any");

  /** Conductivity of blood or exudate, S/m. */
  public static final Parameter EXUDATE_CONDUCTIVITY =
      Parameter.number(
          "exudate_s_per_m",
          "S/m",
          4,
          "0.01",
          "5",
          "0.67",
          "Conductivity of the blood or exudate",
          "blood, Geddes & Baker 1967");

  /** Angle by which the canal bends, degrees; 0 is straight. */
  public static final Parameter CURVE =
      Parameter.number(
          "curve_deg",
          "°",
          1,
          "0",
          "90",
          "0",
          "Angle of the canal's curve; 0 is a straight canal",
          "a straight canal; 84 % are curved, up to 75°: Schäfer et al., J Endod 2002;28:211");

  /** Radius of the curve, mm. */
  public static final Parameter CURVE_RADIUS =
      Parameter.number(
          "curve_radius_mm",
          "mm",
          3,
          "1",
          "100",
          "10",
          "Radius of the canal's curve",
          "assumed, within the 2 to 40 mm of Schäfer et al., J Endod 2002;28:211");

  /** Height of the middle of the curve above the foramen, mm. */
  public static final Parameter CURVE_HEIGHT =
      Parameter.number(
          "curve_mm",
          "mm",
          3,
          "0",
          "20",
          "4",
          "Height of the middle of the curve above the foramen",
          "assumed: between the apical and the middle third");

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
              SIDE_CANAL,
              SIDE_CANAL_OHM,
              EXUDATE,
              EXUDATE_CONDUCTIVITY,
              CURVE,
              CURVE_RADIUS,
              CURVE_HEIGHT));

  private CanalSection() {}
}
