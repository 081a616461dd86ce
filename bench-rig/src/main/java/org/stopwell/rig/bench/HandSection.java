package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code hand}: who or what pushes the file in. */
public final class HandSection {
  /** How the file is fed. */
  public static final Parameter MOTION =
      Parameter.of("motion")
          .choice("steady", "pecking", "hesitating", "stage")
          .text(
              "How the file is fed: without pause, with in-and-out strokes, with pauses, or by a stiff"
                  + " stage without tremor that answers at once")
          .source("design choice");

  /** Mean feed towards the foramen, mm/s. */
  public static final Parameter FEED =
      Parameter.of("feed_mm_per_s")
          .unit("mm/s", 3)
          .range("0.01", "20")
          .initially("0.5")
          .text("Mean feed towards the foramen")
          .source("assumed");

  /** Where the tip starts: above the orifice, mm. */
  public static final Parameter START_ABOVE =
      Parameter.of("start_above_mm")
          .unit("mm", 3)
          .range("0", "20")
          .initially("1")
          .text("Where the tip starts: above the orifice")
          .source("assumed");

  /** How deep below the orifice a file that does not turn is carried, mm. */
  public static final Parameter PASSIVE_DEPTH =
      Parameter.of("passive_mm")
          .unit("mm", 3)
          .range("0", "30")
          .initially("12")
          .text("How deep below the orifice the hand carries a file before the motor has turned")
          .source("assumed");

  /** Delay between a change of the motor and the hand's answer, ms. */
  public static final Parameter REACTION =
      Parameter.of("reaction_ms")
          .unit("ms")
          .range("0", "2000")
          .initially("150")
          .text("Delay until the hand answers to the motor's stopping or starting")
          .source("assumed: the order of a touch reaction time");

  /** How far the hand pushes on after it should have stopped, mm. */
  public static final Parameter PUSH_THROUGH =
      Parameter.of("push_through_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("0")
          .text("How far the hand pushes on after its reaction time")
          .source("a hand that obeys");

  /** What the hand does once the motor has stopped it. */
  public static final Parameter AFTER_STOP =
      Parameter.of("after_stop")
          .choice("hold", "withdraw", "repeat")
          .text(
              "What the hand does once it has answered to a stop: stay, draw the file out at the feed"
                  + " speed, or draw it out and come in again. A pecking hand that would stay does so"
                  + " only a stroke or more below where the motor began to turn, or at its passive"
                  + " depth; above, it draws back by a stroke and comes in again")
          .source("design choice");

  /** How long the hand stays before it withdraws, ms. */
  public static final Parameter HOLD =
      Parameter.of("hold_ms")
          .unit("ms")
          .range("0", "60000")
          .initially("1000")
          .text("How long the hand stays before it withdraws, and before it comes in again")
          .source("assumed");

  /** Stroke of pecking, peak to peak, mm. */
  public static final Parameter PECK_STROKE =
      Parameter.of("peck_stroke_mm")
          .unit("mm", 3)
          .range("0", "5")
          .initially("1")
          .text("Stroke of pecking, peak to peak")
          .source("assumed");

  /** Rate of pecking, 1/s. */
  public static final Parameter PECK_RATE =
      Parameter.of("peck_hz")
          .unit("Hz", 2)
          .range("0.05", "10")
          .initially("1")
          .text("Rate of pecking")
          .source("assumed");

  /** Longest stretch of feed or of pause while hesitating, ms. */
  public static final Parameter HESITATION =
      Parameter.of("hesitation_ms")
          .unit("ms")
          .range("10", "10000")
          .initially("600")
          .text("Longest stretch of feed and of pause while hesitating")
          .source("assumed");

  /** Amplitude of tremor, µm. */
  public static final Parameter TREMOR =
      Parameter.of("tremor_um")
          .unit("µm")
          .range("0", "500")
          .initially("10")
          .text("Amplitude of tremor along the canal")
          .source("assumed");

  /** Rate of tremor, Hz. */
  public static final Parameter TREMOR_RATE =
      Parameter.of("tremor_hz")
          .unit("Hz", 1)
          .range("1", "30")
          .initially("10")
          .text("Rate of tremor")
          .source("physiological tremor 8 to 12 Hz, from memory");

  /** Whether an axis measures how deep the file is. */
  public static final Parameter DEPTH_AXIS =
      Parameter.of("depth_axis")
          .choice("absent", "present")
          .text(
              "Whether an axis tells the controller how deep the tip is below the orifice, as soundings"
                  + " and depth limits need it")
          .source("design choice");

  /** Resolution of that axis, µm. */
  public static final Parameter DEPTH_STEP =
      Parameter.of("depth_step_um")
          .unit("µm")
          .range("1", "1000")
          .initially("10")
          .text("Resolution of the depth axis")
          .source("assumed: a linear encoder of a simple stage");

  /** When somebody hits the emergency stop, ms; 0 is never. */
  public static final Parameter EMERGENCY_STOP =
      Parameter.of("emergency_stop_ms")
          .unit("ms")
          .range("0", "3600000")
          .initially("0")
          .text("When somebody hits the emergency stop; 0 is never")
          .source("a quiet trial");

  /** Force on a file that the wall holds back, N. */
  public static final Parameter PRESS =
      Parameter.of("press_n")
          .unit("N", 2)
          .range("0", "50")
          .initially("1")
          .text("Force with which the hand presses a file that the wall holds back")
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
              PECK_RATE,
              HESITATION,
              TREMOR,
              TREMOR_RATE,
              DEPTH_AXIS,
              DEPTH_STEP,
              EMERGENCY_STOP,
              PRESS));

  private HandSection() {}
}
