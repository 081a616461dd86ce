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
      Parameter.of("speed_rpm")
          .unit("rpm", 3)
          .range("10", "5000")
          .initially("300")
          .text("Speed at the file far from the standoff.")
          .source("common practice for measuring length");

  /** Torque limit at the file, µN·m. */
  public static final Parameter TORQUE =
      Parameter.of("torque_ncm")
          .unit("N·cm", 4)
          .range("0.01", "10")
          .initially("0.6")
          .text("Torque limit at the file; it is never blanked.")
          .source("common practice for measuring length");

  /** Target distance short of the foramen, µm. */
  public static final Parameter STANDOFF =
      Parameter.of("standoff_mm")
          .unit("mm", 3)
          .range("-1", "3")
          .initially("0.5")
          .text(
              "Set distance short of the foramen at which the file stops; negative: past "
                  + "the foramen.")
          .source("common practice");

  /** What happens at the standoff. */
  public static final Parameter APICAL =
      Parameter.of("apical")
          .choice(HOLD, BACK_OUT, NONE)
          .text(
              "Reaction at the standoff: hold, turn backwards and then hold, or none on "
                  + "purpose.")
          .source("common practice");

  /** How far before the standoff easing begins, µm. */
  public static final Parameter EASE =
      Parameter.of("ease_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("1")
          .text(
              "Distance before the standoff at which the motor begins to slow down; 0 turns "
                  + "easing off.")
          .source("assumed");

  /** How long before the standoff easing begins at the latest, ns. */
  public static final Parameter EASE_TIME =
      Parameter.of("ease_ms")
          .unit("ms", 6)
          .range("0", "5000")
          .initially("1000")
          .text(
              "Time before the standoff at which the motor begins to slow down at the "
                  + "latest, from the present feed: a fast hand is eased earlier than ease_mm.")
          .source("assumed: ease_mm at a feed of 1 mm/s");

  /** Speed at the standoff, milli-rpm. */
  public static final Parameter EASE_SPEED =
      Parameter.of("ease_rpm")
          .unit("rpm", 3)
          .range("10", "5000")
          .initially("150")
          .text("Speed at the file just before the standoff.")
          .source("assumed; half of the speed");

  /** Time from the decision to rest, ns. */
  public static final Parameter REACTION =
      Parameter.of("reaction_ms")
          .unit("ms", 6)
          .range("0", "1000")
          .initially("150")
          .text(
              "Time from the decision to stop until the file rests, hand included. The stop "
                  + "is decided that much earlier.")
          .source("assumed: the order of a touch reaction time; learn_coast corrects it");

  /** Whether the time to rest is learned from the stops themselves. */
  public static final Parameter LEARN_COAST =
      Parameter.of("learn_coast")
          .flag(true)
          .text("Whether every stop at the standoff corrects reaction_ms.")
          .source("assumed");

  /** How the file moves. */
  public static final Parameter MOTION =
      Parameter.of("motion")
          .choice(FORWARD, BACKWARD, RECIPROCATE, BY_LOAD)
          .text(
              "forward or backward: continuous; reciprocate: strokes of forward_deg and "
                  + "backward_deg; by_load: forward, and reciprocating under load.")
          .source("common practice");

  /** Forward stroke of reciprocation, millidegrees. */
  public static final Parameter FORWARD_ANGLE =
      Parameter.of("forward_deg")
          .unit("deg", 3)
          .range("10", "720")
          .initially("120")
          .text("Forward stroke of reciprocation; with backward_deg it gives the net advance.")
          .source("assumed");

  /** Backward stroke of reciprocation, millidegrees. */
  public static final Parameter BACKWARD_ANGLE =
      Parameter.of("backward_deg")
          .unit("deg", 3)
          .range("5", "720")
          .initially("40")
          .text("Backward stroke of reciprocation; less than forward_deg.")
          .source("assumed");

  /** Share of the torque limit from which motion by load reciprocates, percent. */
  public static final Parameter LOAD_SHARE =
      Parameter.of("load_percent")
          .unit("%")
          .range("10", "95")
          .initially("60")
          .text(
              "Share of torque_ncm above which motion by_load reciprocates; it turns "
                  + "continuously again below half of that.")
          .source("assumed");

  /** Greatest bound of a reading that is sure, µm. */
  public static final Parameter TOLERANCE =
      Parameter.of("tolerance_mm")
          .unit("mm", 3)
          .range("0.05", "5")
          .initially("0.5")
          .text(
              "Greatest stated bound of a reading with trust SURE: its error is within the bound 95"
                  + " times in 100.")
          .source("common practice: a length within 0.5 mm");

  /** What happens when the bound of the reading is wider than the tolerance. */
  public static final Parameter ON_WIDE =
      Parameter.of("on_wide")
          .choice(EASE_WORD, HOLD, NONE)
          .text(
              "Reaction to trust DOUBTFUL with cause WIDE, a bound wider than tolerance_mm or none"
                  + " stated, in a stage that stops at the standoff: continue at ease_rpm, hold, or"
                  + " none on purpose.")
          .source("assumed: such a reading is still useful");

  /** What happens when the reading is doubtful. */
  public static final Parameter ON_DOUBTFUL =
      Parameter.of("on_doubtful")
          .choice(HOLD, EASE_WORD, NONE)
          .text(
              "Reaction to trust DOUBTFUL with another cause than WIDE: hold, continue at ease_rpm,"
                  + " or none on purpose.")
          .source("assumed: a measuring stage stops and says why");

  /** What happens when the reading says nothing. */
  public static final Parameter ON_NONE =
      Parameter.of("on_none")
          .choice(HOLD, NONE)
          .text(
              "Reaction to trust NONE: hold, or none on purpose. A stale, open or saturated "
                  + "signal always holds.")
          .source("assumed: a measuring stage stops and says why");

  /** Greatest depth by the feed axis, µm. */
  public static final Parameter DEPTH_LIMIT =
      Parameter.of("depth_limit_mm")
          .unit("mm", 3)
          .range("0", "40")
          .initially("0")
          .text(
              "Depth below the reference point at which the motor holds, from the recorded "
                  + "length; 0: no limit. It needs a bench that measures depth.")
          .source("assumed");

  /** Withdrawal before turning again, µm. */
  public static final Parameter REARM_DISTANCE =
      Parameter.of("rearm_mm")
          .unit("mm", 3)
          .range("0.1", "5")
          .initially("1")
          .text("Withdrawal after a stop before the motor may turn again.")
          .source("assumed");

  /** Time withdrawn before turning again, ns. */
  public static final Parameter REARM_DWELL =
      Parameter.of("rearm_ms")
          .unit("ms", 6)
          .range("10", "5000")
          .initially("150")
          .text("Time for which the file must stay withdrawn before the motor may turn again.")
          .source("assumed");

  /** What happens at the torque limit. */
  public static final Parameter ON_TORQUE =
      Parameter.of("on_torque")
          .choice(HOLD, BACK_OUT, ROCK)
          .text(
              "Reaction at the torque limit: hold, turn backwards and continue, or "
                  + "alternate and continue.")
          .source("common practice");

  /** Turns backwards at a reaction, millidegrees. */
  public static final Parameter BACK_OUT_ANGLE =
      Parameter.of("back_out_deg")
          .unit("deg", 3)
          .range("10", "7200")
          .initially("360")
          .text("Angle of one back-out.")
          .source("assumed");

  /** Longest back-out, ns. */
  public static final Parameter BACK_OUT_TIME =
      Parameter.of("back_out_ms")
          .unit("ms", 6)
          .range("10", "10000")
          .initially("800")
          .text("Longest time of one back-out, whatever the angle.")
          .source("assumed");

  /** Swing of rocking, millidegrees. */
  public static final Parameter ROCK_ANGLE =
      Parameter.of("rock_deg")
          .unit("deg", 3)
          .range("10", "360")
          .initially("90")
          .text("Angle of a rocking swing, either way.")
          .source("assumed");

  /** Length of rocking, ns. */
  public static final Parameter ROCK_TIME =
      Parameter.of("rock_ms")
          .unit("ms", 6)
          .range("50", "10000")
          .initially("1000")
          .text("Time of rocking before the motor continues.")
          .source("assumed");

  /** Torque reactions in a row before the motor holds. */
  public static final Parameter RETRIES =
      Parameter.of("retries")
          .unit("times")
          .range("0", "20")
          .initially("3")
          .text("Consecutive torque reactions after which the motor holds.")
          .source("assumed");

  /** Free running that ends a row of retries, ns. */
  public static final Parameter RETRY_CLEAR =
      Parameter.of("retry_clear_ms")
          .unit("ms", 6)
          .range("100", "60000")
          .initially("2000")
          .text("Time below the torque limit that resets the count of retries.")
          .source("assumed");

  /** Ramp of the speed, milli-rpm per second. */
  public static final Parameter RAMP =
      Parameter.of("ramp_rpm_s")
          .unit("rpm/s", 3)
          .range("10", "100000")
          .initially("3000")
          .text("Greatest change of the commanded speed per second; a stop is never delayed.")
          .source("assumed");

  /** How the motor is stopped. */
  public static final Parameter STOP_BY =
      Parameter.of("stop_by")
          .choice("brake", "coast")
          .text("How the motor stops: brake (windings shorted) or coast (no power).")
          .source("assumed");

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
              TOLERANCE,
              ON_WIDE,
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

  /**
   * Whether a stage acts on the reading.
   *
   * @param stage values of a stage
   * @return false where it neither stops at the standoff nor reacts to lost trust, on purpose
   */
  public static boolean reads(ParameterValues stage) {
    return !(stage.choice(APICAL).equals(NONE)
        && stage.choice(ON_DOUBTFUL).equals(NONE)
        && stage.choice(ON_NONE).equals(NONE));
  }
}
