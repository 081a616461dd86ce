package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code motor}: supply, driver and gear between it and the file. */
public final class MotorSection {
  /** Voltage of the supply without load, V. */
  public static final Parameter SUPPLY =
      Parameter.number(
          "supply_v", "V", 3, "1", "60", "12", "Voltage of the supply without load", "assumed");

  /** Internal resistance of the supply, Ω. */
  public static final Parameter SUPPLY_RESISTANCE =
      Parameter.number(
          "supply_ohm",
          "Ω",
          3,
          "0",
          "20",
          "0.2",
          "Internal resistance of the supply: its voltage sags under load; a tired battery has more",
          "assumed: a pack of fresh cells with its leads");

  /** Resistance of the driver's switches, Ω. */
  public static final Parameter DRIVER_RESISTANCE =
      Parameter.number(
          "driver_ohm",
          "Ω",
          3,
          "0",
          "10",
          "0.3",
          "Resistance of the driver's switches, in series with the windings",
          "assumed: two switches of a bridge");

  /** Play of the gear, at the file, degrees. */
  public static final Parameter BACKLASH =
      Parameter.number(
          "backlash_deg",
          "°",
          3,
          "0",
          "30",
          "1",
          "Play of the gear: how far the shaft turns after a reversal before the file follows",
          "assumed: the order that makers of small planetary gears state, from memory");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(List.of(SUPPLY, SUPPLY_RESISTANCE, DRIVER_RESISTANCE, BACKLASH));

  private MotorSection() {}
}
