package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code motor}: supply, driver and gear between it and the file. */
public final class MotorSection {
  /** Voltage of the supply without load, V. */
  public static final Parameter SUPPLY =
      Parameter.of("supply_v")
          .unit("V", 3)
          .range("1", "60")
          .initially("12")
          .text("Voltage of the supply without load.")
          .source("assumed");

  /** Internal resistance of the supply, Ω. */
  public static final Parameter SUPPLY_RESISTANCE =
      Parameter.of("supply_ohm")
          .unit("Ω", 3)
          .range("0", "20")
          .initially("0.2")
          .text(
              "Internal resistance of the supply: its voltage falls under load. A weak "
                  + "battery has more.")
          .source("assumed: a pack of fresh cells with its leads");

  /** Resistance of the driver's switches, Ω. */
  public static final Parameter DRIVER_RESISTANCE =
      Parameter.of("driver_ohm")
          .unit("Ω", 3)
          .range("0", "10")
          .initially("0.3")
          .text("Resistance of the driver's switches, in series with the windings.")
          .source("assumed: two switches of a bridge");

  /** Play of the gear, at the file, degrees. */
  public static final Parameter BACKLASH =
      Parameter.of("backlash_deg")
          .unit("°", 3)
          .range("0", "30")
          .initially("1")
          .text(
              "Play of the gear: angle by which the shaft turns after a reversal before the "
                  + "file follows.")
          .source("assumed: the order that makers of small planetary gears state, from memory");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(List.of(SUPPLY, SUPPLY_RESISTANCE, DRIVER_RESISTANCE, BACKLASH));

  private MotorSection() {}
}
