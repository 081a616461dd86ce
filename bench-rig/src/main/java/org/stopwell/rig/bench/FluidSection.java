package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

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

  /** Conductivity of the fluid, S/m. */
  public static final Parameter CONDUCTIVITY =
      Parameter.number(
          "conductivity_s_per_m",
          "S/m",
          4,
          "0.0001",
          "20",
          "1.6",
          "Conductivity of the fluid",
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

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(List.of(LEVEL, CONDUCTIVITY, CHAMBER_AREA, CHAMBER_DEPTH, LEAK, OVERFLOW));

  private FluidSection() {}
}
