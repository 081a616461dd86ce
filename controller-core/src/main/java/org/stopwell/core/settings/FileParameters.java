package org.stopwell.core.settings;

import java.util.List;

/** The instrument in use: section {@code file}. */
public final class FileParameters {
  /** Diameter of the tip, 1/100 mm. */
  public static final Parameter SIZE =
      Parameter.number(
          "size",
          "1/100 mm",
          0,
          "6",
          "140",
          "25",
          "Tip diameter of the file in hundredths of a millimetre.",
          "size number as in ISO 3630-1, from memory");

  /** Growth of the diameter along the file, 1/100 %. */
  public static final Parameter TAPER =
      Parameter.number(
          "taper_percent",
          "%",
          2,
          "0",
          "12",
          "4",
          "Growth of the diameter per length: 4 % is 0.04 mm per mm.",
          "d(z) = D0 + taper * z, ISO 3630-1, from memory; 4 % assumed");

  /** What the file is made of. */
  public static final Parameter ALLOY =
      Parameter.choice(
          "alloy",
          List.of("nickel-titanium", "steel"),
          "What the file is made of.",
          "assumed: most motor-driven files are nickel-titanium");

  /** Shear strength of the alloy at fracture, MPa. */
  public static final Parameter SHEAR_STRENGTH =
      Parameter.number(
          "shear_strength_mpa",
          "MPa",
          0,
          "100",
          "2000",
          "700",
          "Shear stress at which the file breaks, for a solid round 3 mm from the tip.",
          "assumed; the solid round is an upper bound for a fluted file");

  /** Radius of the canal's curve, µm. */
  public static final Parameter CURVE_RADIUS =
      Parameter.number(
          "curve_radius_mm",
          "mm",
          3,
          "0",
          "100",
          "0",
          "Radius of the curve in which the file turns; 0 is a straight canal.",
          "assumed");

  /** Turns after which the file may no longer be used. */
  public static final Parameter TURNS_LIMIT =
      Parameter.number(
          "turns_limit",
          "turns",
          0,
          "0",
          "1000000",
          "0",
          "Turns in the canal after which the motor holds; 0 is no limit.",
          "assumed; turns to fracture do not depend on speed: Pruett, Clement and Carnes, J Endod"
              + " 1997;23:77-85");

  /** All of them. */
  public static final ParameterTable TABLE =
      new ParameterTable(List.of(SIZE, TAPER, ALLOY, SHEAR_STRENGTH, CURVE_RADIUS, TURNS_LIMIT));

  private FileParameters() {}
}
