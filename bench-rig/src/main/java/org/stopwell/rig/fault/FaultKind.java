package org.stopwell.rig.fault;

/** What can go wrong between the controller and the file. */
public enum FaultKind {
  /** The cable is pulled. */
  PORT_GONE(Part.LINK, "the cable is pulled: every exchange fails with PORT_GONE", ""),
  /** The board does not answer. */
  NO_ANSWER(Part.LINK, "the board does not answer: every exchange fails with NO_ANSWER", ""),
  /** The board was reset. */
  SESSION_LOST(Part.LINK, "the board was reset: every exchange fails with SESSION_LOST", ""),
  /** The line is damaged. */
  BAD_FRAMES(Part.LINK, "the line is damaged: every exchange fails with BAD_FRAMES", ""),
  /** Old readings arrive. */
  OLD_READINGS(Part.LINK, "the newest reading does not get through; the last one ages", ""),
  /** No new sample comes. */
  SAMPLES_STOP(
      Part.SIGNAL, "the front end takes no more samples; the rest of the reading lives", ""),
  /** The circuit is open. */
  OPEN_CIRCUIT(Part.SIGNAL, "a lead of the measuring circuit breaks", ""),
  /** The front end is saturated. */
  SATURATED(Part.SIGNAL, "the front end says that its converter is saturated", ""),
  /** The sample does not change. */
  FROZEN_SIGNAL(Part.SIGNAL, "samples are counted and stamped on, their values stay", ""),
  /** The signal jumps. */
  JUMP(Part.SIGNAL, "the impedance at the highest frequency jumps", "share of it"),
  /** Noise bursts. */
  NOISE(Part.SIGNAL, "each sample is multiplied by a random factor", "standard deviation"),
  /** Numbers that cannot be. */
  NONSENSE(Part.SIGNAL, "numbers outside of what a bench can send", ""),
  /** The motor runs when it is told to rest. */
  RUNS_ON(Part.MOTOR, "the power stays on: the motor goes on as it was last told to turn", ""),
  /** The motor turns the wrong way. */
  REVERSED(Part.MOTOR, "the leads are swapped: the motor turns the wrong way", ""),
  /** The motor does not turn. */
  DEAD_MOTOR(Part.MOTOR, "a lead of the motor breaks", ""),
  /** The speed is not measured. */
  SPEED_LOST(Part.MOTOR, "the encoder is silent: the speed reads 0", ""),
  /** The supply is low. */
  LOW_SUPPLY(Part.MOTOR, "the supply sags", "volts"),
  /** The emergency stop is pressed. */
  STOP_PRESSED(Part.STOP_LINE, "the emergency stop is pressed, or its wire cut", "");

  /** Where a fault sits. */
  public enum Part {
    /** Between host and board. */
    LINK,
    /** The position signal. */
    SIGNAL,
    /** Motor, encoder and supply. */
    MOTOR,
    /** The emergency-stop line. */
    STOP_LINE
  }

  private final Part part;
  private final String text;
  private final String strength;

  FaultKind(Part part, String text, String strength) {
    this.part = part;
    this.text = text;
    this.strength = strength;
  }

  /**
   * Where it sits.
   *
   * @return the part
   */
  public Part part() {
    return part;
  }

  /**
   * What happens.
   *
   * @return a clause for tables
   */
  public String text() {
    return text;
  }

  /**
   * What the strength of an injection means.
   *
   * @return the quantity, empty when strength means nothing
   */
  public String strength() {
    return strength;
  }
}
