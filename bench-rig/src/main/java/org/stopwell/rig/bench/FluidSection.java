package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code fluid}: what stands in the canal and where it can run to. */
public final class FluidSection {
  /** Level above the foramen before the file goes in, mm. */
  public static final Parameter LEVEL =
      Parameter.number(
          "level_mm",
          "mm",
          3,
          "0",
          "40",
          "8",
          "Fluid level above the foramen before the file goes in; 0 is a dry canal",
          "assumed: apical half wet, chamber dry");

  /** Name of the fluid, in place of its conductivity. */
  public static final Parameter IRRIGANT =
      Parameter.choice(
          "irrigant",
          Irrigant.keys(),
          "Name and percent of the fluid, which sets its conductivity at 25 °C; give this or"
              + " conductivity_s_per_m, not both",
          "the conductivity counts unless a name is given. " + Irrigant.sources());

  /** Conductivity of the fluid, S/m. */
  public static final Parameter CONDUCTIVITY =
      Parameter.number(
          "conductivity_s_per_m",
          "S/m",
          4,
          "0.0001",
          "20",
          "1.6",
          "Conductivity of the fluid at 25 °C",
          "0.9 % saline at 25 °C, computed from Robinson & Stokes molar conductivities");

  /** Floor area of the chamber, mm². */
  public static final Parameter CHAMBER_AREA =
      Parameter.number(
          "chamber_area_mm2",
          "mm²",
          3,
          "0.5",
          "100",
          "7.069",
          "Area of the chamber above the orifice",
          "assumed: 3 mm across");

  /** Depth of the chamber, mm. */
  public static final Parameter CHAMBER_DEPTH =
      Parameter.number(
          "chamber_depth_mm",
          "mm",
          3,
          "0",
          "15",
          "3",
          "Depth of the chamber; fluid above it runs over to the gingiva",
          "assumed");

  /** Resistance from a full chamber through its wall to the lip, Ω. */
  public static final Parameter LEAK =
      Parameter.number(
          "leak_ohm",
          "Ω",
          0,
          "10",
          "10000000",
          "5000",
          "Resistance from a full chamber through its wall or a restoration to the lip electrode",
          "assumed, to be swept");

  /** Resistance of the film from an overflowing chamber to the gingiva, Ω. */
  public static final Parameter OVERFLOW =
      Parameter.number(
          "overflow_ohm",
          "Ω",
          0,
          "10",
          "10000000",
          "1500",
          "Resistance of the film from an overflowing chamber to the gingiva",
          "assumed, to be swept");

  /** Temperature of the fluid, °C. */
  public static final Parameter TEMPERATURE =
      Parameter.number(
          "temperature_c",
          "°C",
          1,
          "0",
          "60",
          "25",
          "Temperature of the fluid; conductivity changes by 2 % per kelvin from 25 °C",
          "reference of conductivity tables, ISO 7888 from memory");

  /** Fluid taken away by suction or air, mm³/s. */
  public static final Parameter DRYING =
      Parameter.number(
          "drying_mm3_per_s",
          "mm³/s",
          4,
          "0",
          "100",
          "0",
          "Fluid taken away by suction or air",
          "nobody dries the canal");

  /** How far a wet tip draws a thread of fluid up before it breaks, mm. */
  public static final Parameter MENISCUS =
      Parameter.number(
          "meniscus_mm",
          "mm",
          3,
          "0",
          "3",
          "0",
          "How far a wet tip draws a thread of fluid up before it breaks",
          "assumed none");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              LEVEL,
              IRRIGANT,
              CONDUCTIVITY,
              CHAMBER_AREA,
              CHAMBER_DEPTH,
              LEAK,
              OVERFLOW,
              TEMPERATURE,
              DRYING,
              MENISCUS));

  private FluidSection() {}

  /**
   * Conductivity of the fluid at its temperature: 2 % per kelvin from 25 °C, between 1.9 for
   * potassium chloride (computed from its tables) and 2.1 for sodium chloride.
   *
   * @param fluid values of this section
   * @return S/m
   */
  public static double siemensPerMetre(ParameterValues fluid) {
    double kelvin = fluid.get(TEMPERATURE) * 0.1 - 25;
    return siemensPerMetreAt25(fluid) * (1 + 0.02 * kelvin);
  }

  /**
   * Conductivity of the fluid at 25 °C, by its name or as written.
   *
   * @param fluid values of this section
   * @return S/m
   */
  public static double siemensPerMetreAt25(ParameterValues fluid) {
    Irrigant irrigant = irrigant(fluid);
    return irrigant == Irrigant.UNNAMED
        ? fluid.get(CONDUCTIVITY) * 1e-4
        : irrigant.siemensPerMetre();
  }

  /**
   * The name of the fluid.
   *
   * @param fluid values of this section
   * @return {@link Irrigant#UNNAMED} when only its conductivity is known
   */
  public static Irrigant irrigant(ParameterValues fluid) {
    return Irrigant.values()[fluid.getInt(IRRIGANT)];
  }

  /** A name and a conductivity contradict each other. */
  static List<Fault> contradictions(ParameterValues fluid) {
    Irrigant irrigant = irrigant(fluid);
    if (irrigant == Irrigant.UNNAMED || !fluid.isGiven(CONDUCTIVITY)) {
      return List.of();
    }
    String key = "fluid." + IRRIGANT.key();
    return List.of(
        new Fault(
            key,
            key
                + ": "
                + irrigant.key()
                + " sets "
                + irrigant.human()
                + " and fluid."
                + CONDUCTIVITY.key()
                + " says "
                + CONDUCTIVITY.human(fluid.get(CONDUCTIVITY))
                + " S/m; give one of the two"));
  }
}
