package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code file}: the instrument on the motor. */
public final class FileSection {
  /** ISO 3630-1 size: tip diameter in hundredths of a millimetre. */
  public static final Parameter SIZE =
      Parameter.number(
          "size",
          "1/100 mm",
          0,
          "6",
          "140",
          "20",
          "Size: tip diameter in hundredths of a millimetre",
          "ISO 3630-1");

  /** Growth of the diameter from tip to shank, mm per mm. */
  public static final Parameter TAPER =
      Parameter.number(
          "taper",
          "",
          4,
          "0",
          "0.12",
          "0.04",
          "Growth of the diameter from tip to shank, mm per mm",
          "assumed; ISO 3630-1 allows it");

  /** Share of the enveloping circle that is metal. */
  public static final Parameter SOLID_FRACTION =
      Parameter.number(
          "solid_fraction",
          "",
          3,
          "0.2",
          "0.98",
          "0.6",
          "Share of the enveloping circle that is metal",
          "assumed, between the inscribed triangle 0.413 and square 0.637 (geometry)");

  /** Capacitance of the metal surface in fluid at 1 kHz, µF/cm². */
  public static final Parameter INTERFACE =
      Parameter.number(
          "interface_uf_per_cm2",
          "µF/cm²",
          2,
          "0.5",
          "200",
          "20",
          "Double-layer capacitance of the metal surface, taken at 1 kHz",
          "assumed within 10 to 40 for smooth passive metal in saline, from memory");

  /** Exponent of the constant-phase element of the metal surface. */
  public static final Parameter INTERFACE_EXPONENT =
      Parameter.number(
          "interface_exponent",
          "",
          3,
          "0.5",
          "1",
          "0.85",
          "Exponent of the constant-phase element of the metal surface",
          "assumed within 0.75 to 0.95, from memory");

  /** Energy to cut a volume of dentine, J/mm³. */
  public static final Parameter CUTTING_ENERGY =
      Parameter.number(
          "cutting_j_per_mm3",
          "J/mm³",
          3,
          "0",
          "50",
          "1",
          "Energy to cut a volume of root wall",
          "assumed: gives operative torques of 1 to 20 mN·m");

  /** The furthest that a cutting file advances in one turn, mm. */
  public static final Parameter ADVANCE =
      Parameter.number(
          "advance_mm_per_turn",
          "mm/turn",
          3,
          "0.01",
          "5",
          "0.25",
          "The furthest that a file advances in one turn where it must cut its way",
          "assumed");

  /** How far a cutting file pulls itself in per turn, mm. */
  public static final Parameter SCREW_IN =
      Parameter.number(
          "screw_in_mm_per_turn",
          "mm/turn",
          3,
          "0",
          "2",
          "0",
          "How far a cutting file pulls itself in per turn while the hand does not hold it back",
          "assumed none");

  /** Growth of the cutting energy per mm cut in a dry canal. */
  public static final Parameter DEBRIS =
      Parameter.number(
          "debris_per_mm",
          "1/mm",
          2,
          "0",
          "20",
          "0",
          "Growth of the cutting energy per mm cut above the fluid, where nothing carries debris away",
          "assumed none");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              SIZE,
              TAPER,
              SOLID_FRACTION,
              INTERFACE,
              INTERFACE_EXPONENT,
              CUTTING_ENERGY,
              ADVANCE,
              SCREW_IN,
              DEBRIS));

  private FileSection() {}
}
