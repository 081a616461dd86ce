package org.stopwell.rig.calibration;

/** What of a bench is calibrated, in the order in which it is done. */
public enum Quantity {
  /** Resistors of the ladder against a reference meter. */
  LADDER(
      "ladder",
      "ohm",
      Source.TYPED,
      "The resistors of the ladder against a reference meter: value that the bench uses, minus"
          + " what the meter shows."),
  /** Scale of the stage against a reference length. */
  STAGE_SCALE(
      "stage_scale",
      "um",
      Source.TYPED,
      "The scale of the stage against a reference length: travel by the bench's own encoder minus"
          + " the length."),
  /** Backlash of the stage against a reference. */
  STAGE_BACKLASH(
      "stage_backlash",
      "um",
      Source.TYPED,
      "The same place from both sides against an indicator: the indicator approached from"
          + " outside, minus approached from inside."),
  /** Zero of the stage encoder after each run to the home switch. */
  ENCODER_ZERO(
      "encoder_zero",
      "um",
      Source.TYPED,
      "The zero of the stage encoder: what the bench shows at the indicator's zero after each new"
          + " run to the home switch."),
  /** Time of one exchange over the link. */
  LINK_LATENCY(
      "link_latency",
      "ms",
      Source.MEASURED,
      "The time of one exchange over the link, request to answer, measured by the bench itself."),
  /** Time from the command to rest until the motor rests. */
  MOTOR_COAST(
      "motor_coast",
      "ms",
      Source.MEASURED,
      "The time from the command to rest until the motor rests, from 300 rpm without load, measured"
          + " by the bench itself."),
  /** Capacitors of the bank against a reference meter, where there is a bank. */
  CAPACITORS(
      "capacitors",
      "pf",
      Source.TYPED,
      "The capacitors of a canal board that carries them, against a reference meter: what the board"
          + " takes each for, minus what the meter shows.");

  /** Who gives the numbers. */
  public enum Source {
    /** A person types what a reference instrument shows. */
    TYPED,
    /** The bench measures by itself, against the clock of its host. */
    MEASURED
  }

  private final String key;
  private final String unit;
  private final Source source;
  private final String text;

  Quantity(String key, String unit, Source source, String text) {
    this.key = key;
    this.unit = unit;
    this.source = source;
    this.text = text;
  }

  /**
   * The word for it in files and on the command line.
   *
   * @return lower case with underscores
   */
  public String key() {
    return key;
  }

  /**
   * The unit of its readings, as at the end of keys.
   *
   * @return {@code ohm}, {@code um}, {@code ms} or {@code pf}
   */
  public String unit() {
    return unit;
  }

  /**
   * The unit as people write it.
   *
   * @return Ω, µm, ms or pF
   */
  public String sign() {
    return switch (unit) {
      case "ohm" -> "Ω";
      case "um" -> "µm";
      case "pf" -> "pF";
      default -> unit;
    };
  }

  /**
   * Who gives the numbers.
   *
   * @return a person or the bench
   */
  public Source source() {
    return source;
  }

  /**
   * Whether a bench may be without it.
   *
   * @return true for the capacitors, which only a network at two frequencies needs
   */
  public boolean isOptional() {
    return this == CAPACITORS;
  }

  /**
   * What one reading is.
   *
   * @return a sentence
   */
  public String text() {
    return text;
  }
}
