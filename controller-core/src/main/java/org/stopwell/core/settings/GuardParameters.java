package org.stopwell.core.settings;

import java.util.List;

/** Budgets that hold in every stage: section {@code guard}. */
public final class GuardParameters {
  /** Oldest usable sample, ns. */
  public static final Parameter SIGNAL_AGE =
      Parameter.of("signal_age_ms")
          .unit("ms", 6)
          .range("1", "1000")
          .initially("60")
          .text("Age of the newest usable sample above which the motor stops.")
          .source("assumed; 60 ms at 1 mm/s is 0.06 mm");

  /** Longest silence of the bench, ns. */
  public static final Parameter LINK_AGE =
      Parameter.of("link_age_ms")
          .unit("ms", 6)
          .range("1", "1000")
          .initially("50")
          .text("Silence of the bench after which the motor stops.")
          .source("assumed; the motor side stops by itself within 100 ms");

  /** Longest gap between two steps, ns. */
  public static final Parameter STEP_GAP =
      Parameter.of("step_gap_ms")
          .unit("ms", 6)
          .range("1", "1000")
          .initially("50")
          .text("Time between two steps of the controller above which the motor stops.")
          .source("assumed");

  /** Longest time with a saturated front end, ns. */
  public static final Parameter RAILED = budget("railed_ms", "10", "a saturated front end");

  /** Longest time with an open circuit, ns. */
  public static final Parameter OPEN = budget("open_ms", "10", "an open circuit");

  /** Longest time with an unwetted tip, ns. */
  public static final Parameter UNWETTED = budget("unwetted_ms", "20", "a tip out of the fluid");

  /** Longest time with a leak around the canal, ns. */
  public static final Parameter LEAKING =
      budget("leaking_ms", "30", "current leaking around the canal");

  /** Longest time with a signal that was never learned, or a distance of no use, ns. */
  public static final Parameter VAGUE =
      budget(
          "vague_ms",
          "0",
          "a signal unlike everything that was learned, or a bound wider than refuse_bound_mm");

  /** Longest time with an unlikely jump, ns. */
  public static final Parameter JUMPY =
      budget("jumpy_ms", "25", "a signal that jumps faster than a file moves");

  /** Longest time with an unchanging signal while the file moves, ns. */
  public static final Parameter FROZEN =
      budget(
          "frozen_ms",
          "250",
          "a signal, or one channel of it, that does not change while the file moves");

  /** Time for trust to rise by one step, ns. */
  public static final Parameter TRUST_RISE =
      Parameter.of("trust_rise_ms")
          .unit("ms", 6)
          .range("0", "5000")
          .initially("60")
          .text("Time for which a reading must be good before trust rises by one step.")
          .source("assumed");

  /** Fastest feed of a hand, µm/s. */
  public static final Parameter JUMP_SPEED =
      Parameter.of("jump_mm_s")
          .unit("mm/s", 3)
          .range("1", "500")
          .initially("20")
          .text(
              "Feed above which a change of the reading counts as a jump and not as motion "
                  + "of the file.")
          .source("assumed");

  /** Fastest drift of the resistance in series with the file, mΩ/s. */
  public static final Parameter DRIFT_OHMS =
      Parameter.of("drift_ohm_s")
          .unit("Ohm/s", 3)
          .range("0", "100000")
          .initially("1600")
          .text(
              "Greatest drift of the resistance in series with the file at which a resting "
                  + "file does not count as withdrawn; for the policies ratio and resistance.")
          .source("assumed: 8 kOhm in 5 s");

  /** Fastest drift of a distance from a policy that measures no resistance, µm/s. */
  public static final Parameter DRIFT_DISTANCE =
      Parameter.of("drift_mm_s")
          .unit("mm/s", 3)
          .range("0", "100")
          .initially("0.5")
          .text(
              "Greatest drift of the distance at which a resting file does not count as "
                  + "withdrawn; for all other policies.")
          .source("assumed: about twice what drift_ohm_s is at the standoff of policy ratio");

  /** Greatest speed of the file, milli-rpm. */
  public static final Parameter SPEED_LIMIT =
      Parameter.of("speed_limit_rpm")
          .unit("rpm", 3)
          .range("1", "5000")
          .initially("1000")
          .text("Speed at the file that no stage may exceed.")
          .source("assumed");

  /** Greatest torque that a stage may allow, µN·m. */
  public static final Parameter TORQUE_LIMIT =
      Parameter.of("torque_limit_ncm")
          .unit("N·cm", 4)
          .range("0.01", "10")
          .initially("4")
          .text("Torque at the file that no stage may exceed.")
          .source("assumed");

  /** Longest time at the torque limit, ns. */
  public static final Parameter TORQUE_BUDGET =
      budget("torque_ms", "15", "a torque at the stage's limit");

  /** Share of the stage's torque limit with an immediate reaction, %. */
  public static final Parameter TORQUE_CEILING =
      Parameter.of("torque_ceiling_percent")
          .unit("%")
          .range("110", "1000")
          .initially("200")
          .text(
              "Share of the stage's torque limit at which the reaction starts at once, "
                  + "without torque_ms.")
          .source("assumed; the drive itself does not exceed the limit");

  /** Distance beyond the standoff at which the stop monitor stops, µm. */
  public static final Parameter MONITOR_MARGIN =
      Parameter.of("monitor_mm")
          .unit("mm", 3)
          .range("0", "2")
          .initially("0.3")
          .text(
              "Distance beyond the standoff at which the stop monitor, raw or independent, "
                  + "stops the motor. The depth axis adds 10 % of the travel since its reference.")
          .source("assumed");

  /** Longest time of turning against the command, ns. */
  public static final Parameter WRONG_DIRECTION =
      budget("wrong_direction_ms", "100", "a file that turns against the command");

  /** Longest time of rest against the command, ns. */
  public static final Parameter STALL =
      budget("stall_ms", "300", "a file that rests against the command");

  /** Longest time of turning after the command to rest, ns. */
  public static final Parameter RUNAWAY =
      budget("runaway_ms", "800", "a file that turns after the command to rest, run-out included");

  /** Share of the commanded speed beyond which the file turns too fast, %. */
  public static final Parameter OVERSPEED_SHARE =
      Parameter.of("overspeed_percent")
          .unit("%")
          .range("110", "1000")
          .initially("150")
          .text(
              "Share of the commanded speed, plus 20 rpm, above which the file turns too "
                  + "fast. After a lower command the limit falls within runaway_ms.")
          .source("assumed");

  /** Longest time of turning faster than commanded, ns. */
  public static final Parameter OVERSPEED =
      budget("overspeed_ms", "100", "a file that turns faster than overspeed_percent");

  /** Current that the motor tolerates continuously, mA. */
  public static final Parameter CONTINUOUS_CURRENT =
      Parameter.of("motor_continuous_ma")
          .unit("mA")
          .range("0", "100000")
          .initially("0")
          .text("Current that the motor tolerates continuously; 0 turns the heat model off.")
          .source("data sheet of the motor");

  /** Thermal time constant of the winding, ns. */
  public static final Parameter HEAT_TIME =
      Parameter.of("motor_heat_ms")
          .unit("ms", 6)
          .range("100", "600000")
          .initially("10000")
          .text("Time constant with which the winding heats up and cools down.")
          .source("assumed; data sheet of the motor");

  /** Least supply, mV. */
  public static final Parameter SUPPLY =
      Parameter.of("supply_min_v")
          .unit("V", 3)
          .range("0", "100")
          .initially("0")
          .text("Supply voltage below which the motor holds; 0 turns the check off.")
          .source("data sheet of the motor");

  /** Longest time with a low supply, ns. */
  public static final Parameter SUPPLY_BUDGET = budget("supply_ms", "20", "a low supply");

  /** All of them. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              SIGNAL_AGE,
              LINK_AGE,
              STEP_GAP,
              RAILED,
              OPEN,
              UNWETTED,
              LEAKING,
              VAGUE,
              JUMPY,
              FROZEN,
              TRUST_RISE,
              JUMP_SPEED,
              DRIFT_OHMS,
              DRIFT_DISTANCE,
              SPEED_LIMIT,
              TORQUE_LIMIT,
              TORQUE_BUDGET,
              TORQUE_CEILING,
              MONITOR_MARGIN,
              WRONG_DIRECTION,
              STALL,
              RUNAWAY,
              OVERSPEED_SHARE,
              OVERSPEED,
              CONTINUOUS_CURRENT,
              HEAT_TIME,
              SUPPLY,
              SUPPLY_BUDGET));

  private GuardParameters() {}

  private static Parameter budget(String key, String ms, String what) {
    return Parameter.of(key)
        .unit("ms", 6)
        .range("0", "2000")
        .initially(ms)
        .text(
            "Longest uninterrupted time with "
                + what
                + ". Afterwards the counted time decreases at a quarter of real time.")
        .source("assumed");
  }
}
