package org.stopwell.rig.bench;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** Keys of the scene section {@code hand}: who or what pushes the file in. */
public final class HandSection {
  /** How the file is fed. */
  public static final Parameter MOTION =
      Parameter.choice(
          "motion",
          List.of("steady", "pecking", "hesitating", "stage"),
          "How the file is fed: without pause, with in-and-out strokes, with pauses, or by a stiff"
              + " stage without tremor that answers at once",
          "design choice");

  /** Mean feed towards the foramen, mm/s. */
  public static final Parameter FEED =
      Parameter.number(
          "feed_mm_per_s",
          "mm/s",
          3,
          "0.01",
          "20",
          "0.5",
          "Mean feed towards the foramen",
          "assumed");

  /** Where the tip starts: above the orifice, mm. */
  public static final Parameter START_ABOVE =
      Parameter.number(
          "start_above_mm",
          "mm",
          3,
          "0",
          "20",
          "1",
          "Where the tip starts: above the orifice",
          "assumed");

  /** How deep below the orifice a file that does not turn is carried, mm. */
  public static final Parameter PASSIVE_DEPTH =
      Parameter.number(
          "passive_mm",
          "mm",
          3,
          "0",
          "30",
          "12",
          "How deep below the orifice the hand carries a file before the motor has turned",
          "assumed");

  /** Delay between a change of the motor and the hand's answer, ms. */
  public static final Parameter REACTION =
      Parameter.number(
          "reaction_ms",
          "ms",
          0,
          "0",
          "2000",
          "150",
          "Delay until the hand answers to the motor's stopping or starting",
          "assumed: the order of a touch reaction time");

  /** How far the hand pushes on after it should have stopped, mm. */
  public static final Parameter PUSH_THROUGH =
      Parameter.number(
          "push_through_mm",
          "mm",
          3,
          "0",
          "5",
          "0",
          "How far the hand pushes on after its reaction time",
          "a hand that obeys");

  /** What the hand does once the motor has stopped it. */
  public static final Parameter AFTER_STOP =
      Parameter.choice(
          "after_stop",
          List.of("hold", "withdraw", "repeat"),
          "What the hand does once it has answered to a stop: stay, draw the file out at the feed"
              + " speed, or draw it out and come in again. A pecking hand that would stay does so"
              + " only a stroke or more below where the motor began to turn, or at its passive"
              + " depth; above, it draws back by a stroke and comes in again",
          "design choice");

  /** How long the hand stays before it withdraws, ms. */
  public static final Parameter HOLD =
      Parameter.number(
          "hold_ms",
          "ms",
          0,
          "0",
          "60000",
          "1000",
          "How long the hand stays before it withdraws, and before it comes in again",
          "assumed");

  /** Stroke of pecking, peak to peak, mm. */
  public static final Parameter PECK_STROKE =
      Parameter.number(
          "peck_stroke_mm", "mm", 3, "0", "5", "1", "Stroke of pecking, peak to peak", "assumed");

  /** Rate of pecking, 1/s. */
  public static final Parameter PECK_RATE =
      Parameter.number("peck_hz", "Hz", 2, "0.05", "10", "1", "Rate of pecking", "assumed");

  /** Longest stretch of feed or of pause while hesitating, ms. */
  public static final Parameter HESITATION =
      Parameter.number(
          "hesitation_ms",
          "ms",
          0,
          "10",
          "10000",
          "600",
          "Longest stretch of feed and of pause while hesitating",
          "assumed");

  /** Amplitude of tremor, µm. */
  public static final Parameter TREMOR =
      Parameter.number(
          "tremor_um", "µm", 0, "0", "500", "10", "Amplitude of tremor along the canal", "assumed");

  /** Rate of tremor, Hz. */
  public static final Parameter TREMOR_RATE =
      Parameter.number(
          "tremor_hz",
          "Hz",
          1,
          "1",
          "30",
          "10",
          "Rate of tremor",
          "physiological tremor 8 to 12 Hz, from memory");

  /** Whether an axis measures how deep the file is. */
  public static final Parameter DEPTH_AXIS =
      Parameter.choice(
          "depth_axis",
          List.of("absent", "present"),
          "Whether an axis tells the controller how deep the tip is below the orifice, as soundings"
              + " and depth limits need it",
          "design choice");

  /** Resolution of that axis, µm. */
  public static final Parameter DEPTH_STEP =
      Parameter.number(
          "depth_step_um",
          "µm",
          0,
          "1",
          "1000",
          "10",
          "Resolution of the depth axis",
          "assumed: a linear encoder of a simple stage");

  /** When somebody hits the emergency stop, ms; 0 is never. */
  public static final Parameter EMERGENCY_STOP =
      Parameter.number(
          "emergency_stop_ms",
          "ms",
          0,
          "0",
          "3600000",
          "0",
          "When somebody hits the emergency stop; 0 is never",
          "a quiet trial");

  /** Force on a file that the wall holds back, N. */
  public static final Parameter PRESS =
      Parameter.number(
          "press_n",
          "N",
          2,
          "0",
          "50",
          "1",
          "Force with which the hand presses a file that the wall holds back",
          "assumed; loads of 1 to 3 N were preset in Materials 2022;15:2724");

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
