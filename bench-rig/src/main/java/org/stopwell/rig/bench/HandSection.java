package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Keys of the scene section {@code hand}: who or what pushes the file in. */
public final class HandSection {
  /** The depth axis is there. */
  public static final String PRESENT = "present";

  /** Kind of feed. */
  public static final Parameter MOTION =
      Parameter.of("motion")
          .choice(Kinds.words(HandMotion.values()))
          .text(
              "Feed of the file: steady, with in-and-out strokes (pecking), with pauses "
                  + "(hesitating), or by a stiff stage without tremor and without reaction time.")
          .source("design choice");

  /** Mean feed towards the foramen, mm/s. */
  public static final Parameter FEED =
      Parameter.of("feed_mm_per_s")
          .unit("mm/s", 3)
          .range("0.01", "20")
          .initially("0.5")
          .text("Mean feed towards the foramen.")
          .source("assumed");

  /** Where the tip starts: above the orifice, mm. */
  public static final Parameter START_ABOVE =
      Parameter.of("start_above_mm")
          .unit("mm", 3)
          .range("0", "20")
          .initially("1")
          .text("Height of the tip above the orifice at the start.")
          .source("assumed");

  /** Depth below the orifice to which a file is carried without turning, mm. */
  public static final Parameter PASSIVE_DEPTH =
      Parameter.of("passive_mm")
          .unit("mm", 3)
          .range("0", "30")
          .initially("12")
          .text(
              "Depth below the orifice to which the hand carries a file before the motor "
                  + "has turned.")
          .source("assumed");

  /** Delay between a change of the motor and the hand's reaction, ms. */
  public static final Parameter REACTION =
      Parameter.of("reaction_ms")
          .unit("ms")
          .range("0", "2000")
          .initially("150")
          .text("Delay until the hand reacts to a stop or start of the motor.")
          .source("assumed: the order of a touch reaction time");

  /** Distance by which the hand pushes on after it should have stopped, mm. */
  public static final Parameter PUSH_THROUGH =
      Parameter.of("push_through_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("0")
          .text("Distance by which the hand pushes on after its reaction time.")
          .source("a hand that obeys");

  /** What the hand does after a stop of the motor. */
  public static final Parameter AFTER_STOP =
      Parameter.of("after_stop")
          .choice(Kinds.words(AfterStop.values()))
          .text(
              "What the hand does after its reaction to a stop: hold, withdraw at the feed "
                  + "speed, or repeat (withdraw and enter again). A pecking hand with hold stays "
                  + "only at its passive depth or at least a stroke below where the motor began "
                  + "to turn; elsewhere it draws back by a stroke and enters again.")
          .source("design choice");

  /** Time for which the hand stays before it withdraws, ms. */
  public static final Parameter HOLD =
      Parameter.of("hold_ms")
          .unit("ms")
          .range("0", "60000")
          .initially("1000")
          .text(
              "Time for which the hand stays before it withdraws, and before it enters " + "again.")
          .source("assumed");

  /** Stroke of pecking from end to end, mm. */
  public static final Parameter PECK_STROKE =
      Parameter.of("peck_stroke_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("1")
          .text("Stroke of pecking from end to end, about the feed.")
          .source("assumed; a bench in Restor Dent Endod 2016;41(4) used 4 mm");

  /** Speed of the strokes of pecking, mm/s. */
  public static final Parameter PECK_SPEED =
      Parameter.of("peck_mm_per_s")
          .unit("mm/s", 3)
          .range("0.1", "50")
          .initially("2")
          .text(
              "Even speed of the strokes of pecking. The feed adds to it on the way in and takes "
                  + "from it on the way out.")
          .source("assumed: a stroke in and out of 1 mm in 1 s; the bench above used 1 mm/s");

  /** Longest interval of feed or pause while hesitating, ms. */
  public static final Parameter HESITATION =
      Parameter.of("hesitation_ms")
          .unit("ms")
          .range("10", "10000")
          .initially("600")
          .text("Longest interval of feed and longest pause while hesitating.")
          .source("assumed");

  /** Root mean square of the tremor along the canal, µm. */
  public static final Parameter TREMOR =
      Parameter.of("tremor_um")
          .unit("µm")
          .range("0", "500")
          .initially("35")
          .text(
              "Root mean square of the tremor along the canal; the hand drifts by as much again, at "
                  + "0.1 and 0.3 Hz.")
          .source(
              "50 to 200 µm rms in three dimensions, PMC3989364; one axis of three and 0.6 of it "
                  + "with a finger rest: assumed; drift: assumed");

  /** Rate of tremor, Hz. */
  public static final Parameter TREMOR_RATE =
      Parameter.of("tremor_hz")
          .unit("Hz", 1)
          .range("1", "30")
          .initially("10")
          .text("Rate of tremor.")
          .source("8 to 12 Hz, PMC3989364");

  /** Whether an axis measures the depth of the file. */
  public static final Parameter DEPTH_AXIS =
      Parameter.of("depth_axis")
          .choice("absent", PRESENT)
          .text(
              "Whether an axis reports to the controller how deep the tip is below the "
                  + "orifice; length readings and depth limits need it.")
          .source("design choice");

  /** Resolution of that axis, µm. */
  public static final Parameter DEPTH_STEP =
      Parameter.of("depth_step_um")
          .unit("µm")
          .range("1", "1000")
          .initially("10")
          .text("Resolution of the depth axis.")
          .source("assumed: a linear encoder of a simple stage");

  /** Time of the emergency stop, ms; 0: never. */
  public static final Parameter EMERGENCY_STOP =
      Parameter.of("emergency_stop_ms")
          .unit("ms")
          .range("0", "3600000")
          .initially("0")
          .text("Time at which the emergency stop is pressed; 0: never.")
          .source("a trial without emergency stop");

  /** Force on a file that the dentine holds back, N. */
  public static final Parameter PRESS =
      Parameter.of("press_n")
          .unit("N", 2)
          .range("0", "50")
          .initially("1")
          .text("Force with which the hand presses a file that the dentine holds back.")
          .source("assumed; loads of 1 to 3 N were preset in Materials 2022;15:2724");

  /** All keys. */
  public static final ParameterTable TABLE =
      new ParameterTable(
          List.of(
              MOTION,
              FEED,
              START_ABOVE,
              PASSIVE_DEPTH,
              REACTION,
              PUSH_THROUGH,
              AFTER_STOP,
              HOLD,
              PECK_STROKE,
              PECK_SPEED,
              HESITATION,
              TREMOR,
              TREMOR_RATE,
              DEPTH_AXIS,
              DEPTH_STEP,
              EMERGENCY_STOP,
              PRESS));

  private HandSection() {}

  /**
   * How the file is fed.
   *
   * @param values values of this section
   * @return the motion of the hand
   */
  public static HandMotion motion(ParameterValues values) {
    return HandMotion.values()[values.getInt(MOTION)];
  }

  /**
   * What the hand does after a stop.
   *
   * @param values values of this section
   * @return what it does
   */
  public static AfterStop afterStop(ParameterValues values) {
    return AfterStop.values()[values.getInt(AFTER_STOP)];
  }

  /**
   * Whether an axis measures the depth.
   *
   * @param values values of this section
   * @return true when it is present
   */
  public static boolean hasDepthAxis(ParameterValues values) {
    return values.choice(DEPTH_AXIS).equals(PRESENT);
  }
}
