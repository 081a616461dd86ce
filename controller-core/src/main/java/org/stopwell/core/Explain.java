package org.stopwell.core;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.trace.Event;

/** The one place where a reason code and the numbers that decided become a sentence. */
public final class Explain {
  private Explain() {}

  /**
   * Says in plain words what happened.
   *
   * @param event a change of state
   * @return one sentence
   */
  public static String event(Event event) {
    return lead(event) + ": " + numbers(event) + ".";
  }

  private static String lead(Event e) {
    return switch (e.reason) {
      case STARTED_UP -> "Nothing has happened yet";
      case CANAL_ENTERED -> "Started because the file entered the canal";
      case CANAL_LEFT -> "Stopped because the file left the canal";
      case APPROACHING -> "Slowed down because the standoff of " + standoff(e) + " is near";
      case CLEAR_AGAIN -> "Back to full speed because the standoff is far again";
      case STANDOFF_REACHED -> "Stopped so that the file rests at the standoff of " + standoff(e);
      case PAST_FORAMEN -> "Stopped because the file is past the foramen";
      case REARMED -> "Started again because the file was withdrawn far and long enough";
      case TORQUE_LIMIT -> "Reacted because the torque reached the limit of " + torqueLimit(e);
      case TORQUE_RELEASED -> "Turning again because the file is free";
      case RETRIES_SPENT ->
          "Stopped because the torque reached the limit of "
              + torqueLimit(e)
              + " too often in a row";
      case BACKED_OUT -> "Stopped because the file has turned back far enough";
      case TRUST_LOST ->
          (e.to == State.EASING ? "Slowed down because " : "Stopped because ") + why(e.cause);
      case TRUST_REGAINED -> "The reading is trusted again";
      case SIGNAL_STALE -> "Stopped because " + why(Cause.STALE);
      case STOP_LINE -> "Stopped and locked because the emergency-stop line is open";
      case LINK_LOST -> "Stopped because the bench is silent";
      case DEMAND_RELEASED -> "Stopped because the operator no longer demands motion";
      case BAD_INPUT -> "Stopped because the bench sent impossible values";
      case TIME_FAULT -> "Stopped because time went backwards or jumped";
      case MOTOR_FAULT -> "Stopped and locked because the motor does not follow the command";
      case RESET -> "Unlocked by the operator; the motor stays off until a new demand";
      case WRONG_DIRECTION -> "Stopped and locked because the file turns against the command";
      case STALLED -> "Stopped and locked because the file does not turn on command";
      case RUNAWAY -> "Stopped and locked because the file turns against the command to rest";
      case OVERHEATED -> "Stopped because the motor is too hot";
      case SUPPLY_LOW -> "Stopped because the motor supply is too low";
      case MONITOR_STOP -> "Stopped by the stop monitor, beyond the standoff";
      case DEPTH_LIMIT -> "Stopped because the depth limit was reached or cannot be measured";
      case LOAD_HIGH -> "Reciprocating because the load is high";
      case LOAD_LOW -> "Turning continuously again because the load is low";
      case FILE_SPENT -> "Stopped because the file has reached its limit of turns";
      case OVERSPEED -> "Stopped and locked because the file turns faster than commanded";
      case AXIS_DROPPED -> "The depth axis contradicts the readings and is no longer used";
      case STAGE_REFUSED ->
          "Kept the stage because the file was turning or the other stage has no settings";
    };
  }

  /**
   * Why a reading cannot be trusted, in plain words.
   *
   * @param cause the cause
   * @return a clause that can follow "because"
   */
  public static String why(Cause cause) {
    return switch (cause) {
      case NO_CAUSE -> "the reading is not yet sure";
      case LEAKING -> "current leaks around the canal (is the chamber wet?)";
      case UNWETTED -> "the file tip is out of the fluid";
      case OPEN -> "the measuring circuit is open";
      case JUMPY -> "the signal jumped faster than a file moves";
      case STALE -> "the newest sample is too old";
      case RAILED -> "the front end is saturated";
      case FROZEN -> "the signal does not change while the file moves";
      case VAGUE -> "the signal is unlike everything that was learned";
      case WIDE -> "the stated bound of the reading is wider than the tolerance, or none is stated";
    };
  }

  private static String numbers(Event e) {
    String remaining =
        e.readingPresent
            ? decimal(e.remainingMicrons, 1_000, 2) + " mm remaining" + bound(e)
            : "no reading";
    String age =
        e.signalAgeMicros < 0
            ? "no sample yet"
            : "signal " + decimal(e.signalAgeMicros, 1_000, 0) + " ms old";
    return remaining
        + (e.closingMicronsPerSecond < 0 ? ", receding at " : ", closing at ")
        + decimal(Math.abs((long) e.closingMicronsPerSecond), 1_000, 2)
        + " mm/s, "
        + age
        + ", "
        + decimal(e.speedMilliRpm, 1_000, 0)
        + " rpm, "
        + decimal(e.torqueMicroNewtonMetres, 10_000, 2)
        + " N·cm";
  }

  private static String bound(Event e) {
    return e.boundMicrons > 0
        ? " (within " + decimal(e.boundMicrons, 1_000, 2) + " mm 95 times in 100)"
        : "";
  }

  private static String standoff(Event e) {
    return decimal(e.standoffMicrons, 1_000, 2) + " mm";
  }

  private static String torqueLimit(Event e) {
    return decimal(e.torqueLimitMicroNewtonMetres, 10_000, 2) + " N·cm";
  }

  /** A whole number of a unit's parts as a decimal; half a last place is rounded away from 0. */
  private static String decimal(long value, int unit, int decimals) {
    long places = 1;
    for (int i = 0; i < decimals; i++) {
      places *= 10;
    }
    long rounded = (2 * Math.abs(value) * places + unit) / (2L * unit);
    String whole = (value < 0 && rounded != 0 ? "-" : "") + rounded / places;
    return decimals == 0
        ? whole
        : whole + "." + Long.toString(places + rounded % places).substring(1);
  }

  /**
   * Whether a reason ends motion.
   *
   * @param reason a reason
   * @return true for the reasons of a stop
   */
  public static boolean isStop(Reason reason) {
    return switch (reason) {
      case STARTED_UP,
          CANAL_ENTERED,
          APPROACHING,
          CLEAR_AGAIN,
          REARMED,
          TORQUE_RELEASED,
          TRUST_REGAINED,
          RESET,
          STAGE_REFUSED,
          AXIS_DROPPED,
          LOAD_HIGH,
          LOAD_LOW ->
          false;
      default -> true;
    };
  }
}
