package org.stopwell.core.settings;

import java.util.List;

/** Budgets that hold in every stage: section {@code guard}. */
public final class GuardParameters {
  /** Oldest usable sample, ns. */
  public static final Parameter SIGNAL_AGE =
      Parameter.number(
          "signal_age_ms",
          "ms",
          6,
          "1",
          "1000",
          "60",
          "Age of the newest usable sample beyond which the motor stops.",
          "assumed; 60 ms at 1 mm/s is 0.06 mm");

  /** Longest silence of the bench, ns. */
  public static final Parameter LINK_AGE =
      Parameter.number(
          "link_age_ms",
          "ms",
          6,
          "1",
          "1000",
          "50",
          "Silence of the bench beyond which the motor stops.",
          "assumed; the motor side stops by itself within 100 ms");

  /** Longest gap between two steps, ns. */
  public static final Parameter STEP_GAP =
      Parameter.number(
          "step_gap_ms",
          "ms",
          6,
          "1",
          "1000",
          "50",
          "Gap between two steps of the controller beyond which the motor stops.",
          "assumed");

  /** How long a saturated front end is borne, ns. */
  public static final Parameter RAILED = budget("railed_ms", "10", "a saturated front end");

  /** How long an open circuit is borne, ns. */
  public static final Parameter OPEN = budget("open_ms", "10", "an open circuit");

  /** How long an unwetted tip is borne, ns. */
  public static final Parameter UNWETTED = budget("unwetted_ms", "20", "a tip out of the fluid");

  /** How long a leak around the canal is borne, ns. */
  public static final Parameter LEAKING =
      budget("leaking_ms", "30", "current leaking around the canal");

  /** How long a distance that is not certain enough is borne, ns. */
  public static final Parameter VAGUE =
      budget("vague_ms", "0", "a distance with too great a standard error");

  /** How long an unlikely jump is borne, ns. */
  public static final Parameter JUMPY =
      budget("jumpy_ms", "25", "a signal that jumps as no file moves");

  /** How long an unchanging signal is borne while the file moves, ns. */
  public static final Parameter FROZEN =
      budget(
          "frozen_ms",
          "250",
          "a signal, or one channel of it, that does not change while the file moves");

  /** Time for trust to rise by one step, ns. */
  public static final Parameter TRUST_RISE =
      Parameter.number(
          "trust_rise_ms",
          "ms",
          6,
          "0",
          "5000",
          "60",
          "How long a reading must be good before trust rises by one step.",
          "assumed");

  /** Fastest feed that a hand may have, µm/s. */
  public static final Parameter JUMP_SPEED =
      Parameter.number(
          "jump_mm_s",
          "mm/s",
          3,
          "1",
          "500",
          "20",
          "Feed beyond which a change of the reading is not the file moving.",
          "assumed");

  /** Fastest drift of the resistance in series with the file, mΩ/s. */
  public static final Parameter DRIFT_OHMS =
      Parameter.number(
          "drift_ohm_s",
          "Ohm/s",
          3,
          "0",
          "100000",
          "1600",
          "Drift of the resistance in series with the file, up to which a file at rest never counts as"
              + " withdrawn; for the policies ratio and resistance.",
          "assumed: 8 kOhm in 5 s");

  /** Fastest drift of a distance whose policy feels no resistance, µm/s. */
  public static final Parameter DRIFT_DISTANCE =
      Parameter.number(
          "drift_mm_s",
          "mm/s",
          3,
          "0",
          "100",
          "0.5",
          "Drift of the distance up to which a file at rest never counts as withdrawn; for every other"
              + " policy.",
          "assumed: some twice what drift_ohm_s is at the standoff of policy ratio");

  /** Fastest the file may ever turn, milli-rpm. */
  public static final Parameter SPEED_LIMIT =
      Parameter.number(
          "speed_limit_rpm",
          "rpm",
          3,
          "1",
          "5000",
          "1000",
          "Speed at the file that no stage may exceed.",
          "assumed");

  /** Greatest torque that may ever be allowed, µN·m. */
  public static final Parameter TORQUE_LIMIT =
      Parameter.number(
          "torque_limit_ncm",
          "N cm",
          4,
          "0.01",
          "10",
          "4",
          "Torque at the file that no stage may allow.",
          "assumed");

  /** How long the torque limit may be touched, ns. */
  public static final Parameter TORQUE_BUDGET =
      budget("torque_ms", "15", "a torque at the stage's limit");

  /** Share of the stage's torque limit that is answered at once, %. */
  public static final Parameter TORQUE_CEILING =
      Parameter.number(
          "torque_ceiling_percent",
          "%",
          0,
          "110",
          "1000",
          "200",
          "Share of the stage's torque limit from which the reaction comes at once, without"
              + " torque_ms.",
          "assumed; the drive itself does not exceed the limit");

  /** How far beyond the standoff the stop monitor stops, µm. */
  public static final Parameter MONITOR_MARGIN =
      Parameter.number(
          "monitor_mm",
          "mm",
          3,
          "0",
          "2",
          "0.3",
          "How far beyond the standoff the stop monitor, raw or independent, stops the motor; by the"
              + " depth axis also 10 % of the travel since its reference.",
          "assumed");

  /** How long the file may turn against the command, ns. */
  public static final Parameter WRONG_DIRECTION =
      budget("wrong_direction_ms", "100", "a file that turns against the command");

  /** How long the file may stand against the command, ns. */
  public static final Parameter STALL =
      budget("stall_ms", "300", "a file that does not turn when told to");

  /** How long the file may turn after the motor was told to rest, ns. */
  public static final Parameter RUNAWAY =
      budget("runaway_ms", "800", "a file that turns when told to rest, running out included,");

  /** Share of the commanded speed beyond which the file turns too fast, %. */
  public static final Parameter OVERSPEED_SHARE =
      Parameter.number(
          "overspeed_percent",
          "%",
          0,
          "110",
          "1000",
          "150",
          "Share of the commanded speed, and 20 rpm, beyond which the file turns too fast; a lower"
              + " command counts as runaway_ms allows for running out.",
          "assumed");

  /** How long the file may turn faster than commanded, ns. */
  public static final Parameter OVERSPEED =
      budget("overspeed_ms", "100", "a file that turns faster than overspeed_percent");

  /** Current that the motor bears for ever, mA. */
  public static final Parameter CONTINUOUS_CURRENT =
      Parameter.number(
          "motor_continuous_ma",
          "mA",
          0,
          "0",
          "100000",
          "0",
          "Current that the motor bears for ever; 0 turns the heat model off.",
          "data sheet of the motor");

  /** Thermal time constant of the winding, ns. */
  public static final Parameter HEAT_TIME =
      Parameter.number(
          "motor_heat_ms",
          "ms",
          6,
          "100",
          "600000",
          "10000",
          "Time constant with which the winding warms up and cools down.",
          "assumed; data sheet of the motor");

  /** Least supply, mV. */
  public static final Parameter SUPPLY =
      Parameter.number(
          "supply_min_v",
          "V",
          3,
          "0",
          "100",
          "0",
          "Supply below which the motor holds; 0 turns the check off.",
          "data sheet of the motor");

  /** How long a low supply is borne, ns. */
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
    return Parameter.number(
        key,
        "ms",
        6,
        "0",
        "2000",
        ms,
        "How long "
            + what
            + " is borne in one go; spent in real time, given back at a quarter of it.",
        "assumed");
  }
}
