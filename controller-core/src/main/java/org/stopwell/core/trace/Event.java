package org.stopwell.core.trace;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/**
 * One change of state with the five numbers that decided: remaining distance, closing speed, age of
 * the signal, speed and torque.
 */
public final class Event {
  /** When, ns on the controller's time line. */
  public long timeNs;

  /** State before. */
  public State from = State.PARKED;

  /** State after. */
  public State to = State.PARKED;

  /** Why. */
  public Reason reason = Reason.STARTED_UP;

  /** Trust in the reading. */
  public Trust trust = Trust.NONE;

  /** Cause of lost trust. */
  public Cause cause = Cause.NO_CAUSE;

  /** Whether {@link #remainingMicrons} holds a reading. */
  public boolean readingPresent;

  /** Remaining distance, µm. */
  public int remainingMicrons;

  /** Stated bound of the reading, µm; 0: none stated. */
  public int boundMicrons;

  /** Speed at which the file came nearer to the foramen, µm/s. */
  public int closingMicronsPerSecond;

  /** Age of the newest sample, µs; -1 when none has come. */
  public int signalAgeMicros;

  /** Measured speed, milli-rpm. */
  public int speedMilliRpm;

  /** Measured torque, µN·m. */
  public int torqueMicroNewtonMetres;

  /** The standoff of the stage and what caution adds to it, µm. */
  public int standoffMicrons;

  /** The torque limit of the stage, µN·m. */
  public int torqueLimitMicroNewtonMetres;

  /** An event with nothing in it. */
  public Event() {}

  /**
   * Overwrites this event.
   *
   * @param other the event to copy
   */
  public void copyFrom(Event other) {
    timeNs = other.timeNs;
    from = other.from;
    to = other.to;
    reason = other.reason;
    trust = other.trust;
    cause = other.cause;
    readingPresent = other.readingPresent;
    remainingMicrons = other.remainingMicrons;
    boundMicrons = other.boundMicrons;
    closingMicronsPerSecond = other.closingMicronsPerSecond;
    signalAgeMicros = other.signalAgeMicros;
    speedMilliRpm = other.speedMilliRpm;
    torqueMicroNewtonMetres = other.torqueMicroNewtonMetres;
    standoffMicrons = other.standoffMicrons;
    torqueLimitMicroNewtonMetres = other.torqueLimitMicroNewtonMetres;
  }

  long mixInto(long hash) {
    long h = StateHash.mix(hash, timeNs);
    h = StateHash.mix(h, from.code() << 16 | to.code() << 8 | reason.code());
    h = StateHash.mix(h, trust.code() << 8 | cause.code());
    h = StateHash.mix(h, readingPresent ? remainingMicrons : Long.MIN_VALUE);
    h = StateHash.mix(h, boundMicrons);
    h = StateHash.mix(h, closingMicronsPerSecond);
    h = StateHash.mix(h, signalAgeMicros);
    h = StateHash.mix(h, speedMilliRpm);
    h = StateHash.mix(h, torqueMicroNewtonMetres);
    h = StateHash.mix(h, standoffMicrons);
    return StateHash.mix(h, torqueLimitMicroNewtonMetres);
  }
}
