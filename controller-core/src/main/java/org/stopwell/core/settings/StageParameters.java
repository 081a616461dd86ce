package org.stopwell.core.settings;

import java.util.List;

/** What one stage of work does: sections {@code stages.open} and so on. */
public final class StageParameters {
  /** The word for no reaction. */
  public static final String NONE = "none";

  /** The word for stopping. */
  public static final String HOLD = "hold";

  /** The word for turning backwards. */
  public static final String BACK_OUT = "back-out";

  /** The word for alternating. */
  public static final String ROCK = "rock";

  /** The word for slowing down. */
  public static final String EASE_WORD = "ease";

  /** The word for turning in the cutting direction without pause. */
  public static final String FORWARD = "forward";

  /** The word for turning against the cutting direction without pause. */
  public static final String BACKWARD = "backward";

  /** The word for strokes forward and backward. */
  public static final String RECIPROCATE = "reciprocate";

  /** The word for reciprocating under load only. */
  public static final String BY_LOAD = "by_load";

  /** Speed at the file, milli-rpm. */
  public static final Parameter SPEED =
      Parameter.number(
          "speed_rpm",
          "rpm",
          3,
          "10",
          "5000",
          "300",
          "Speed at the file far from the standoff.",
          "common practice for measuring length");

  /** Torque limit at the file, µN·m. */
  public static final Parameter TORQUE =
      Parameter.number(
          "torque_ncm",
          "N cm",
          4,
          "0.01",
          "10",
          "0.6",
          "Torque limit at the file; it is never blanked.",
          "common practice for measuring length");

  /** Target distance short of the foramen, µm. */
  public static final Parameter STANDOFF =
      Parameter.number(
          "standoff_mm",
          "mm",
          3,
          "-1",
          "3",
          "0.5",
          "Target distance short of the foramen; negative is past it.",
          "common practice");

  /** What happens at the standoff. */
  public static final Parameter APICAL =
      Parameter.choice(
          "apical",
          List.of(HOLD, BACK_OUT, NONE),
          "At the standoff: hold, turn backwards and then hold, or do nothing by intent.",
          "common practice");

  /** How far before the standoff easing begins, µm. */
  public static final Parameter EASE =
      Parameter.number(
          "ease_mm",
          "mm",
          3,
          "0",
          "5",
          "1",
          "How far before the standoff the motor begins to slow down; 0 turns easing off.",
          "assumed");

  /** How long before the standoff easing begins at the latest, ns. */
  public static final Parameter EASE_TIME =
      Parameter.number(
          "ease_ms",
          "ms",
          6,
          "0",
          "5000",
          "1000",
          "How long before the standoff the motor begins to slow down, at the speed at which the file"
              + " comes nearer: a fast hand is eased farther out than ease_mm.",
          "assumed: ease_mm at a feed of 1 mm/s");

  /** Speed at the standoff, milli-rpm. */
  public static final Parameter EASE_SPEED =
      Parameter.number(
          "ease_rpm",
          "rpm",
          3,
          "10",
          "5000",
          "150",
          "Speed at the file just before the standoff.",
          "assumed; half of the speed");

  /** Time from the decision to rest, ns. */
  public static final Parameter REACTION =
      Parameter.number(
          "reaction_ms",
          "ms",
          6,
          "0",
          "1000",
          "150",
          "Time from the decision to stop until the file rests, hand included; the stop is decided"
              + " that much earlier.",
          "assumed: the order of a touch reaction time; learn_coast corrects it");

  /** Whether the time to rest is learned from the stops themselves. */
  public static final Parameter LEARN_COAST =
      Parameter.flag(
          "learn_coast",
          true,
          "Whether reaction_ms is corrected after every stop at the standoff.",
          "assumed");

  /** How the file moves. */
  public static final Parameter MOTION =
      Parameter.choice(
          "motion",
          List.of(FORWARD, BACKWARD, RECIPROCATE, BY_LOAD),
          "forward or backward without pause; reciprocate by forward_deg and backward_deg; by_load:"
              + " forward, and reciprocating under load.",
          "common practice");

  /** Forward stroke of reciprocation, millidegrees. */
  public static final Parameter FORWARD_ANGLE =
      Parameter.number(
          "forward_deg",
          "deg",
          3,
          "10",
          "720",
          "120",
          "Forward stroke of reciprocation; with backward_deg it gives the net advance.",
          "assumed");

  /** Backward stroke of reciprocation, millidegrees. */
  public static final Parameter BACKWARD_ANGLE =
      Parameter.number(
          "backward_deg",
          "deg",
          3,
          "5",
          "720",
          "40",
          "Backward stroke of reciprocation; less than forward_deg.",
          "assumed");

  /** Share of the torque limit from which motion by load reciprocates, percent. */
  public static final Parameter LOAD_SHARE =
      Parameter.number(
          "load_percent",
          "%",
          0,
          "10",
          "95",
          "60",
          "Share of torque_ncm from which motion by load reciprocates; it drives on without pause"
              + " below half of that.",
          "assumed");

  /** What happens when the reading is doubtful. */
  public static final Parameter ON_DOUBTFUL =
      Parameter.choice(
          "on_doubtful",
          List.of(HOLD, EASE_WORD, NONE),
          "When trust is DOUBTFUL: hold, go on at ease_rpm, or go on by intent.",
          "assumed: a measuring stage stops and says why");

  /** What happens when the reading says nothing. */
  public static final Parameter ON_NONE =
      Parameter.choice(
          "on_none",
          List.of(HOLD, NONE),
          "When trust is NONE: hold, or go on by intent; a stale, open or saturated signal always"
              + " holds.",
          "assumed: a measuring stage stops and says why");

  /** Greatest depth by the feed axis, µm. */
  public static final Parameter DEPTH_LIMIT =
      Parameter.number(
          "depth_limit_mm",
          "mm",
          3,
          "0",
          "40",
          "0",
          "Depth below the reference point at which the motor holds, from the recorded length; 0 is"
              + " no limit. It needs a bench that measures depth.",
          "assumed");

  /** Withdrawal before turning again, µm. */
  public static final Parameter REARM_DISTANCE =
      Parameter.number(
          "rearm_mm",
          "mm",
          3,
          "0.1",
          "5",
          "1",
          "Withdrawal after a stop before the motor may turn again.",
          "assumed");

  /** Time withdrawn before turning again, ns. */
  public static final Parameter REARM_DWELL =
      Parameter.number(
          "rearm_ms",
          "ms",
          6,
          "10",
          "5000",
          "150",
          "How long the file must stay withdrawn before the motor may turn again.",
          "assumed");

  /** What happens at the torque limit. */
  public static final Parameter ON_TORQUE =
      Parameter.choice(
          "on_torque",
          List.of(HOLD, BACK_OUT, ROCK),
          "At the torque limit: hold, turn backwards and go on, or alternate and go on.",
          "common practice");

  /** Turns backwards at a reaction, millidegrees. */
  public static final Parameter BACK_OUT_ANGLE =
      Parameter.number(
          "back_out_deg",
          "deg",
          3,
          "10",
          "7200",
          "360",
          "How far the file turns backwards in one back-out.",
          "assumed");

  /** Longest back-out, ns. */
  public static final Parameter BACK_OUT_TIME =
      Parameter.number(
          "back_out_ms",
          "ms",
          6,
          "10",
          "10000",
          "800",
          "Longest time of one back-out, whatever the angle.",
          "assumed");

  /** Swing of rocking, millidegrees. */
  public static final Parameter ROCK_ANGLE =
      Parameter.number(
          "rock_deg",
          "deg",
          3,
          "10",
          "360",
          "90",
          "How far the file swings either way when rocking.",
          "assumed");

  /** Length of rocking, ns. */
  public static final Parameter ROCK_TIME =
      Parameter.number(
          "rock_ms",
          "ms",
          6,
          "50",
          "10000",
          "1000",
          "How long the file rocks before it drives on.",
          "assumed");

  /** Torque reactions in a row before the motor holds. */
  public static final Parameter RETRIES =
      Parameter.number(
          "retries",
          "times",
          0,
          "0",
          "20",
          "3",
          "Torque reactions in a row after which the motor holds.",
          "assumed");

  /** Free running that ends a row of retries, ns. */
  public static final Parameter RETRY_CLEAR =
      Parameter.number(
          "retry_clear_ms",
          "ms",
          6,
          "100",
          "60000",
          "2000",
          "Time of driving below the torque limit that starts the count of retries anew.",
          "assumed");

  /** Ramp of the speed, milli-rpm per second. */
  public static final Parameter RAMP =
      Parameter.number(
          "ramp_rpm_s",
          "rpm/s",
          3,
          "10",
          "100000",
          "3000",
          "How fast the commanded speed may change; stopping is never delayed.",
          "assumed");

  /** How the motor is stopped. */
  public static final Parameter STOP_BY =
      Parameter.choice(
          "stop_by",
          List.of("brake", "coast"),
          "How the motor stops: windings shorted, or no power.",
          "assumed");

  /** All of them. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              SPEED,
              TORQUE,
              MOTION,
              FORWARD_ANGLE,
              BACKWARD_ANGLE,
              LOAD_SHARE,
              STANDOFF,
              APICAL,
              EASE,
              EASE_TIME,
              EASE_SPEED,
              REACTION,
              LEARN_COAST,
              ON_DOUBTFUL,
              ON_NONE,
              DEPTH_LIMIT,
              REARM_DISTANCE,
              REARM_DWELL,
              ON_TORQUE,
              BACK_OUT_ANGLE,
              BACK_OUT_TIME,
              ROCK_ANGLE,
              ROCK_TIME,
              RETRIES,
              RETRY_CLEAR,
              RAMP,
              STOP_BY));

  private StageParameters() {}
}
