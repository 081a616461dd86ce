package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code file}: the instrument on the motor. */
public final class FileSection {
  /** ISO 3630-1 size: tip diameter in hundredths of a millimetre. */
  public static final Parameter SIZE =
      Parameter.of("size")
          .unit("1/100 mm")
          .range("6", "140")
          .initially("20")
          .text("ISO size: tip diameter in hundredths of a millimetre.")
          .source("ISO 3630-1");

  /** Growth of the diameter along the cutting part, mm per mm. */
  public static final Parameter TAPER =
      Parameter.of("taper")
          .decimals(4)
          .range("0", "0.12")
          .initially("0.04")
          .text("Growth of the diameter along the cutting part, mm per mm.")
          .source("assumed; ISO 3630-1 allows it");

  /** Length of the cutting part, mm. */
  public static final Parameter CUTTING_LENGTH =
      Parameter.of("cutting_mm")
          .unit("mm", 3)
          .range("4", "30")
          .initially("16")
          .text("Length of the cutting part. The shaft behind it is round and does not taper.")
          .source("at least 16 mm, ISO 3630-1, from memory");

  /** Share of the enveloping circle that is metal. */
  public static final Parameter SOLID_FRACTION =
      Parameter.of("solid_fraction")
          .decimals(3)
          .range("0.2", "0.98")
          .initially("0.6")
          .text("Share of the enveloping circle that is metal, in the cutting part.")
          .source("assumed, between the inscribed triangle 0.413 and square 0.637 (geometry)");

  /** Capacitance of the metal surface in fluid at 1 kHz, µF/cm². */
  public static final Parameter INTERFACE =
      Parameter.of("interface_uf_per_cm2")
          .unit("µF/cm²", 2)
          .range("0.5", "200")
          .initially("20")
          .text("Double-layer capacitance of the metal surface at 1 kHz.")
          .source("assumed within 10 to 40 for smooth passive metal in saline, from memory");

  /** Exponent of the constant-phase element of the metal surface. */
  public static final Parameter INTERFACE_EXPONENT =
      Parameter.of("interface_exponent")
          .decimals(3)
          .range("0.5", "1")
          .initially("0.85")
          .text("Exponent of the constant-phase element of the metal surface.")
          .source("assumed within 0.75 to 0.95, from memory");

  /** Energy to cut a volume of dentine, J/mm³. */
  public static final Parameter CUTTING_ENERGY =
      Parameter.of("cutting_j_per_mm3")
          .unit("J/mm³", 3)
          .range("0", "50")
          .initially("1")
          .text("Energy to cut a volume of dentine.")
          .source("assumed: gives operative torques of 1 to 20 mN·m");

  /** Greatest advance of a cutting file in one turn, mm. */
  public static final Parameter ADVANCE =
      Parameter.of("advance_mm_per_turn")
          .unit("mm/turn", 3)
          .range("0.01", "5")
          .initially("0.25")
          .text("Greatest advance of the file in one turn while it cuts.")
          .source("assumed");

  /** Distance by which a cutting file pulls itself in per turn, mm. */
  public static final Parameter SCREW_IN =
      Parameter.of("screw_in_mm_per_turn")
          .unit("mm/turn", 3)
          .range("0", "2")
          .initially("0")
          .text(
              "Distance by which a cutting file pulls itself in per turn while the hand "
                  + "does not hold it back.")
          .source("assumed: none");

  /** The word for flutes that cut while the file turns backward. */
  public static final String LEFT = "left";

  /** Winding of the flutes. */
  public static final Parameter FLUTES =
      Parameter.of("flutes")
          .choice("right", LEFT)
          .text(
              "Winding of the flutes: right cuts turning forward, left cuts turning "
                  + "backward. When absent, it follows the motion of the stage of work.")
          .source("common practice");

  /** Distance per turn by which dentine drives out a file that turns backward, mm. */
  public static final Parameter SCREW_OUT =
      Parameter.of("screw_out_mm_per_turn")
          .unit("mm/turn", 3)
          .range("0", "2")
          .initially("0.15")
          .text(
              "Distance by which engaged dentine drives the file out per turn against its "
                  + "flutes: pitch of the flutes times 1 − slip.")
          .source("assumed: pitch 1.5 mm, slip 90 %");

  /** Growth of the cutting energy per mm cut in a dry canal. */
  public static final Parameter DEBRIS =
      Parameter.of("debris_per_mm")
          .unit("1/mm", 2)
          .range("0", "20")
          .initially("0")
          .text("Growth of the cutting energy per mm cut above the fluid, where debris stays.")
          .source("assumed: none");

  /** Shear strength of the metal, MPa. */
  public static final Parameter SHEAR_STRENGTH =
      Parameter.of("shear_strength_mpa")
          .unit("MPa")
          .range("50", "3000")
          .initially("700")
          .text(
              "Shear stress at which the file twists off, for a solid round 3 mm from the "
                  + "tip, where ISO 3630-1 grips it.")
          .source(
              "assumed; the least torques of ISO 3630-1:1992 correspond to 430 to 520, from "
                  + "memory");

  /** Young's modulus of the metal, GPa. */
  public static final Parameter STIFFNESS =
      Parameter.of("youngs_gpa")
          .unit("GPa")
          .range("1", "250")
          .initially("40")
          .text(
              "Young's modulus of the metal; it sets how hard a file presses on the walls "
                  + "of a curve.")
          .source("assumed: nickel-titanium 30 to 80, steel 200, from memory");

  /** Surface strain that breaks the file in half a turn: height of the fatigue line. */
  public static final Parameter FATIGUE_STRAIN =
      Parameter.of("fatigue_strain")
          .decimals(3)
          .range("0.01", "20")
          .initially("1.3")
          .text(
              "Height of the fatigue line: strain = fatigue_strain · "
                  + "(2·turns)^(−fatigue_slope).")
          .source(
              "assumed: breaks a size 40 shaft in a curve of 5 mm, strain 4 %, after about 500 turns");

  /** Slope of the fatigue line. */
  public static final Parameter FATIGUE_SLOPE =
      Parameter.of("fatigue_slope")
          .decimals(3)
          .range("0.2", "1")
          .initially("0.5")
          .text("Slope of the fatigue line (Coffin and Manson).")
          .source("Cheung & Darvell, Int Endod J 2007;40: from 0.40 on; 0.5 assumed");

  /** Friction between metal and dentine. */
  public static final Parameter FRICTION =
      Parameter.of("friction")
          .decimals(3)
          .range("0", "1")
          .initially("0.3")
          .text("Coefficient of friction between file and dentine, for a wedged or bent file.")
          .source("assumed: metal on wet dentine");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              SIZE,
              TAPER,
              CUTTING_LENGTH,
              SOLID_FRACTION,
              INTERFACE,
              INTERFACE_EXPONENT,
              CUTTING_ENERGY,
              ADVANCE,
              FLUTES,
              SCREW_IN,
              SCREW_OUT,
              DEBRIS,
              SHEAR_STRENGTH,
              STIFFNESS,
              FATIGUE_STRAIN,
              FATIGUE_SLOPE,
              FRICTION));

  private FileSection() {}
}
