package org.stopwell.rig.fault;

/** What can go wrong between the controller and the file. */
public enum FaultKind {
  /** The cable is pulled. */
  PORT_GONE(Part.LINK, "the cable is pulled: every exchange fails with PORT_GONE"),
  /** The board does not answer. */
  NO_ANSWER(Part.LINK, "the board does not answer: every exchange fails with NO_ANSWER"),
  /** The board was reset. */
  SESSION_LOST(Part.LINK, "the board was reset: every exchange fails with SESSION_LOST"),
  /** The line is damaged. */
  BAD_FRAMES(Part.LINK, "the line is damaged: every exchange fails with BAD_FRAMES"),
  /** The board has taken the power by itself. */
  WATCHDOG(Part.LINK, "the board has taken the power by itself: exchanges fail with WATCHDOG"),
  /** The board refuses the scene. */
  MOUNT_REFUSED(
      Part.LINK,
      "another network is mounted, or a switch of the ladder sticks: the board measures its ladder"
          + " and refuses the mount"),
  /** Old readings arrive. */
  OLD_READINGS(Part.LINK, "the newest reading does not get through; the last one ages"),
  /** Readings get lost or come twice. */
  LOST_READINGS(
      Part.LINK,
      "readings get lost now and then; the one before comes twice",
      "share of the readings",
      0.3,
      0,
      1),
  /** The host stands still. */
  HOST_STALL(Part.HOST, "the computer of the host stands still once", "ms", 200, 0, 60_000),
  /** No new sample comes. */
  SAMPLES_STOP(Part.SIGNAL, "the front end takes no more samples; the rest of the reading lives"),
  /** The circuit is open. */
  OPEN_CIRCUIT(Part.SIGNAL, "a lead of the measuring circuit breaks"),
  /** The circuit opens and closes. */
  BOUNCE(
      Part.SIGNAL,
      "a contact of the measuring circuit bounces",
      "share of the samples that are open",
      0.5,
      0,
      1),
  /** The circuit is short. */
  SHORT_CIRCUIT(Part.SIGNAL, "the measuring circuit is short", "ohm left", 20, 0, 100),
  /** The front end is saturated. */
  SATURATED(Part.SIGNAL, "the front end says that its converter is saturated"),
  /** The sample does not change. */
  FROZEN_SIGNAL(Part.SIGNAL, "samples are counted and stamped on, their values stay"),
  /** One channel of the sample does not change. */
  FROZEN_CHANNEL(Part.SIGNAL, "the value at the highest frequency stays, the others live on"),
  /** The signal jumps. */
  JUMP(
      Part.SIGNAL,
      "the impedance at the highest frequency jumps",
      "what it is multiplied by",
      0.7,
      0.01,
      100),
  /** Noise bursts. */
  NOISE(
      Part.SIGNAL,
      "each sample at the highest frequency is multiplied by a random factor",
      "standard deviation of its logarithm",
      0.4,
      0,
      5),
  /** Mains hum. */
  HUM(Part.SIGNAL, "mains hum of 50.2 Hz on all frequencies", "amplitude as a share", 0.3, 0, 0.99),
  /** The signal drifts away. */
  DRIFT(Part.SIGNAL, "the scale at the highest frequency drifts", "share per second", 0.01, -1, 1),
  /** Resistance is added. */
  ADDED_RESISTANCE(Part.SIGNAL, "the switches of the ladder wear", "ohm added", 300, 0, 100_000),
  /** Numbers that cannot be. */
  NONSENSE(Part.SIGNAL, "numbers outside of what a bench can send"),
  /** The motor runs when it is told to rest. */
  RUNS_ON(Part.MOTOR, "the power stays on: the motor goes on as it was last told to turn"),
  /** The motor turns the wrong way. */
  REVERSED(Part.MOTOR, "the leads are swapped: the motor turns the wrong way"),
  /** The motor turns too fast. */
  OVERSPEED(
      Part.MOTOR,
      "the speed loop is lost: the motor turns faster than told",
      "times the speed told",
      3,
      1.1,
      10),
  /** The motor does not turn. */
  DEAD_MOTOR(Part.MOTOR, "a lead of the motor breaks"),
  /** The file is held fast. */
  JAM(Part.MOTOR, "the file is held fast: torque at its limit, no speed"),
  /** The speed is not measured. */
  SPEED_LOST(Part.MOTOR, "the encoder is silent: the speed reads 0"),
  /** The speed is measured badly. */
  SPEED_NOISE(
      Part.MOTOR,
      "the encoder loses and doubles steps",
      "standard deviation of the speed as a share",
      0.3,
      0,
      5),
  /** The supply is low. */
  LOW_SUPPLY(Part.MOTOR, "the supply sags", "volts left", 2, 0, 100),
  /** The emergency stop is pressed. */
  STOP_PRESSED(
      Part.STOP_LINE, "the emergency stop is pressed, a cover opened, or the wire of either cut"),
  /** The encoder of the truth is broken. */
  BAD_TRUTH(
      Part.TRUTH,
      "the encoder that tells the true distance leaps to and fro, or stands still",
      "mm that it leaps; 0: it stands still",
      3,
      0,
      100);

  /** Where a fault sits. */
  public enum Part {
    /** Between host and board. */
    LINK,
    /** The host itself. */
    HOST,
    /** The position signal. */
    SIGNAL,
    /** Motor, encoder and supply. */
    MOTOR,
    /** The emergency-stop line. */
    STOP_LINE,
    /** What the harness alone sees: the true distance. */
    TRUTH
  }

  /**
   * How strong a fault is.
   *
   * @param meaning the quantity and its unit
   * @param usual the value unless told (assumed)
   * @param least least value
   * @param most greatest value
   */
  public record Strength(String meaning, double usual, double least, double most) {}

  private final Part part;
  private final String text;
  private final String meaning;
  private final double usual;
  private final double least;
  private final double most;

  FaultKind(Part part, String text) {
    this(part, text, "", 0, 0, 0);
  }

  FaultKind(Part part, String text, String meaning, double usual, double least, double most) {
    this.part = part;
    this.text = text;
    this.meaning = meaning;
    this.usual = usual;
    this.least = least;
    this.most = most;
  }

  /**
   * The word for it in plans.
   *
   * @return lower case with underscores
   */
  public String key() {
    return name().toLowerCase(java.util.Locale.ROOT);
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
   * @return the quantity and its limits; an empty meaning for a fault that is there or not
   */
  public Strength strength() {
    return new Strength(meaning, usual, least, most);
  }

  /**
   * Whether one trial can show it. What changes slowly, or only shifts the scale, looks like
   * another canal: known-answer trials find it, one trial does not.
   *
   * @return false for a drift and for worn switches
   */
  public boolean showsInOneTrial() {
    return this != DRIFT && this != ADDED_RESISTANCE;
  }
}
