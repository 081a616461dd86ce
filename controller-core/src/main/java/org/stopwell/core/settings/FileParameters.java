package org.stopwell.core.settings;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The instrument in use: section {@code file}, and {@code stages.open.file} and so on for a stage
 * with another one.
 */
public final class FileParameters {
  /** Diameter of the tip, 1/100 mm. */
  public static final Parameter SIZE =
      Parameter.of("size")
          .unit("1/100 mm")
          .range("6", "140")
          .initially("25")
          .text("Tip diameter in hundredths of a millimetre.")
          .source("size number as in ISO 3630-1, from memory");

  /** Growth of the diameter along the file, 1/10 000 mm per mm. */
  public static final Parameter TAPER =
      Parameter.of("taper")
          .decimals(4)
          .range("0", "0.12")
          .initially("0.04")
          .text("Growth of the diameter, mm per mm of length.")
          .source("d(z) = D0 + taper * z, ISO 3630-1, from memory; 0.04 assumed");

  /** Material of the file. */
  public static final Parameter ALLOY =
      Parameter.of("alloy")
          .choice("nickel-titanium", "steel")
          .text("Material of the file.")
          .source("assumed: most motor-driven files are nickel-titanium");

  /** Shear strength of the alloy at fracture, MPa. */
  public static final Parameter SHEAR_STRENGTH =
      Parameter.of("shear_strength_mpa")
          .unit("MPa")
          .range("100", "2000")
          .initially("700")
          .text("Shear stress at which the file breaks, for a solid round 3 mm from the tip.")
          .source("assumed; the solid round is an upper bound for a fluted file");

  /** Radius of the canal's curve, µm. */
  public static final Parameter CURVE_RADIUS =
      Parameter.of("curve_radius_mm")
          .unit("mm", 3)
          .range("0", "100")
          .initially("0")
          .text("Radius of the curve in which the file turns; 0: straight canal.")
          .source("assumed");

  /** Turns after which the file may no longer be used. */
  public static final Parameter TURNS_LIMIT =
      Parameter.of("turns_limit")
          .unit("turns")
          .range("0", "1000000")
          .initially("0")
          .text("Turns in the canal after which the motor holds; 0: no limit.")
          .source(
              "assumed; turns to fracture do not depend on speed: Pruett, Clement and Carnes, J Endod"
                  + " 1997;23:77-85");

  /** All of them. */
  public static final ParameterTable TABLE =
      new ParameterTable(List.of(SIZE, TAPER, ALLOY, SHEAR_STRENGTH, CURVE_RADIUS, TURNS_LIMIT));

  /** The file of one stage: it states its size and its taper. */
  public static final ParameterTable OF_STAGE =
      new ParameterTable(
          List.of(
              SIZE.mandatory(),
              TAPER.mandatory(),
              ALLOY,
              SHEAR_STRENGTH,
              CURVE_RADIUS,
              TURNS_LIMIT));

  private FileParameters() {}

  /**
   * What the file of a stage is: what its section leaves out is that of section {@code file}.
   *
   * @param file what section {@code file} gives, by key
   * @param own what the section of the stage gives, by key
   * @return values by key
   */
  public static Map<String, Object> ofStage(Map<String, ?> file, Map<String, ?> own) {
    Map<String, Object> all = new LinkedHashMap<>(file);
    all.remove(SIZE.key());
    all.remove(TAPER.key());
    all.putAll(own);
    return all;
  }
}
