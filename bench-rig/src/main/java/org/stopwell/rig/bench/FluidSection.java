package org.stopwell.rig.bench;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code fluid}: the fluid in the canal and where it can flow. */
public final class FluidSection {
  /** Level above the foramen before the file enters, mm. */
  public static final Parameter LEVEL =
      Parameter.of("level_mm")
          .unit("mm", 3)
          .range("0", "40")
          .initially("8")
          .text("Fluid level above the foramen before the file enters; 0: dry canal.")
          .source("assumed: apical half wet, chamber dry");

  /** Name of the fluid, in place of its conductivity. */
  public static final Parameter IRRIGANT =
      Parameter.of("irrigant")
          .choice(Irrigant.keys())
          .text(
              "Name and percent of the fluid; it sets the conductivity at 25 °C. Give this "
                  + "or conductivity_s_per_m, not both.")
          .source("the conductivity counts unless a name is given. " + Irrigant.sources());

  /** Conductivity of the fluid, S/m. */
  public static final Parameter CONDUCTIVITY =
      Parameter.of("conductivity_s_per_m")
          .unit("S/m", 4)
          .range("0.0001", "20")
          .initially("1.6")
          .text("Conductivity of the fluid at 25 °C.")
          .source("0.9 % saline at 25 °C, computed from Robinson & Stokes molar conductivities");

  /** Conductivity of this batch against what its name or its conductivity says, %. */
  public static final Parameter STRENGTH =
      Parameter.of("strength_percent")
          .unit("%", 1)
          .range("1", "200")
          .initially("100")
          .text(
              "Conductivity of this batch as a share of the value for its name: age, dilution "
                  + "and make.")
          .source("a batch as named");

  /** Floor area of the chamber, mm². */
  public static final Parameter CHAMBER_AREA =
      Parameter.of("chamber_area_mm2")
          .unit("mm²", 3)
          .range("0.5", "100")
          .initially("7.069")
          .text("Area of the chamber above the orifice.")
          .source("assumed: 3 mm across");

  /** Depth of the chamber, mm. */
  public static final Parameter CHAMBER_DEPTH =
      Parameter.of("chamber_depth_mm")
          .unit("mm", 3)
          .range("0", "15")
          .initially("3")
          .text("Depth of the chamber; fluid above it overflows to the gingiva.")
          .source("assumed");

  /** Resistance from a full chamber through its wall to the lip, Ω. */
  public static final Parameter LEAK =
      Parameter.of("leak_ohm")
          .unit("Ω")
          .range("10", "10000000")
          .initially("5000")
          .text(
              "Resistance from a full chamber through its wall or a restoration to the lip "
                  + "clip.")
          .source("assumed, to be swept");

  /** Resistance of the film from an overflowing chamber to the gingiva, Ω. */
  public static final Parameter OVERFLOW =
      Parameter.of("overflow_ohm")
          .unit("Ω")
          .range("10", "10000000")
          .initially("1500")
          .text("Resistance of the film from an overflowing chamber to the gingiva.")
          .source("assumed, to be swept");

  /** Resistance from the fluid through a metal crown to the lip, Ω; 0 is none. */
  public static final Parameter CROWN =
      Parameter.of("crown_ohm")
          .unit("Ω")
          .range("0", "10000000")
          .initially("0")
          .text(
              "Resistance from the fluid in the chamber through a metal crown and the gingiva to "
                  + "the lip clip, both surfaces of the metal included; 0: no metal crown.")
          .source("a crown without metal; 500 with one: assumed");

  /** Height of the lower edge of that metal above the orifice, mm. */
  public static final Parameter CROWN_EDGE =
      Parameter.of("crown_mm")
          .unit("mm", 3)
          .range("0", "15")
          .initially("1")
          .text("Height above the orifice from which on the fluid touches the metal of the crown.")
          .source("assumed");

  /** Temperature of the fluid, °C. */
  public static final Parameter TEMPERATURE =
      Parameter.of("temperature_c")
          .unit("°C", 1)
          .range("0", "60")
          .initially("25")
          .text(
              "Temperature of the fluid; its conductivity changes by 2 % per kelvin from 25 "
                  + "°C.")
          .source("reference of conductivity tables, ISO 7888 from memory");

  /** Fluid removed by suction or air, mm³/s. */
  public static final Parameter DRYING =
      Parameter.of("drying_mm3_per_s")
          .unit("mm³/s", 4)
          .range("0", "100")
          .initially("0")
          .text("Rate at which suction or air removes fluid.")
          .source("a canal that is not dried");

  /** Height to which a wet tip draws up a thread of fluid before it breaks, mm. */
  public static final Parameter MENISCUS =
      Parameter.of("meniscus_mm")
          .unit("mm", 3)
          .range("0", "3")
          .initially("0")
          .text("Height to which a wet tip draws up a thread of fluid before it breaks.")
          .source("assumed: none");

  /** Height of the tip at which a hand floods the chamber, mm; 0: never. */
  public static final Parameter FLOODS =
      Parameter.of("floods_at_mm")
          .unit("mm", 3)
          .range("0", "40")
          .initially("0")
          .text(
              "Height of the tip above the foramen at which somebody fills the chamber to its "
                  + "edge, so that a leak begins on the way; 0: never.")
          .source("nobody does");

  /** Share of the wet flutes that stays full when the file is drawn out of the fluid. */
  public static final Parameter FLUTES_OUT =
      Parameter.of("flutes_out_share")
          .decimals(3)
          .range("0", "0.95")
          .initially("0")
          .text(
              "Share of the wet flutes that stays full of fluid when the file is drawn out of it; "
                  + "a file that leaves the canal is wiped.")
          .source("flutes that let everything run off; no measurement was found");

  /** Share of the flutes that is full of fluid when the file enters. */
  public static final Parameter FLUTES_IN =
      Parameter.of("flutes_in_share")
          .decimals(3)
          .range("0", "0.95")
          .initially("0")
          .text("Share of the flutes that is full of fluid when the file enters the canal.")
          .source("a dry file; no measurement was found");

  /** Share of the cut dentine that stays in the fluid as chips. */
  public static final Parameter CHIPS =
      Parameter.of("chips_share")
          .decimals(3)
          .range("0", "1")
          .initially("0")
          .text("Share of the cut dentine that stays in the fluid as chips and takes its room.")
          .source("chips that leave the canal");

  /** Speed of the surface when it fell to the level, mm/s; 0: it left no film on the wall. */
  public static final Parameter FILM =
      Parameter.of("film_mm_per_s")
          .unit("mm/s", 1)
          .range("0", "3500")
          .initially("0")
          .text(
              "Speed at which the surface fell to the level, by suction or air: it leaves a film "
                  + "on the wall up to the orifice, which connects the fluid to the wall of the "
                  + "chamber; 0: no film.")
          .source(
              "no film; above 3.7 m/s a film of water closes into plugs (Gauglitz & Radke 1988, "
                  + "from memory)");

  /** Length of a plug of fluid below the orifice with air under it, mm; 0: none. */
  public static final Parameter PLUG =
      Parameter.of("plug_mm")
          .unit("mm", 3)
          .range("0", "20")
          .initially("0")
          .text(
              "Length of a plug of fluid that hangs below the orifice, with air between it and "
                  + "the fluid at the level; 0: none.")
          .source("no plug");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              LEVEL,
              IRRIGANT,
              CONDUCTIVITY,
              STRENGTH,
              CHAMBER_AREA,
              CHAMBER_DEPTH,
              LEAK,
              OVERFLOW,
              CROWN,
              CROWN_EDGE,
              TEMPERATURE,
              DRYING,
              MENISCUS,
              FLOODS,
              FLUTES_OUT,
              FLUTES_IN,
              CHIPS,
              FILM,
              PLUG));

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
   * Conductivity of the fluid at 25 °C, by its name or as written, times its strength.
   *
   * @param fluid values of this section
   * @return S/m
   */
  public static double siemensPerMetreAt25(ParameterValues fluid) {
    Irrigant irrigant = irrigant(fluid);
    double named =
        irrigant == Irrigant.UNNAMED ? fluid.get(CONDUCTIVITY) * 1e-4 : irrigant.siemensPerMetre();
    return named * (fluid.get(STRENGTH) * 1e-3);
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

  /** Refuses film and plug where they would not count, and a plug that the fluid reaches. */
  static List<Fault> hanging(ParameterValues fluid, ParameterValues canal) {
    List<Fault> faults = new ArrayList<>();
    for (Parameter hangs : List.of(FILM, PLUG)) {
      if (fluid.get(hangs) > 0 && CanalSection.kind(canal) != CanalKind.TOOTH) {
        String kind = CanalSection.KIND.human(canal.get(CanalSection.KIND));
        faults.add(fault(hangs, "only canal.kind tooth models it, and canal.kind is " + kind));
      }
    }
    long plug = fluid.get(PLUG);
    if (plug > 0 && fluid.get(FILM) > 0) {
      faults.add(fault(PLUG, "a film would join the plug; give plug_mm or film_mm_per_s"));
    }
    if (plug > 0 && plug + fluid.get(LEVEL) >= canal.get(CanalSection.LENGTH)) {
      faults.add(
          fault(
              PLUG,
              PLUG.human(plug)
                  + " mm below the orifice reaches the fluid at level_mm "
                  + LEVEL.human(fluid.get(LEVEL))
                  + " mm; canal.length_mm is "
                  + CanalSection.LENGTH.human(canal.get(CanalSection.LENGTH))
                  + " mm"));
    }
    return faults;
  }

  private static Fault fault(Parameter parameter, String what) {
    String key = "fluid." + parameter.key();
    return new Fault(key, key + ": " + what);
  }

  /** Refuses a name beside a conductivity. */
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
