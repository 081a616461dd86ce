package org.stopwell.rig.calibration;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;

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
          + " takes each for, minus what the meter shows."),
  /** Resistance between the floating chain of a device board and everything else. */
  LEAK(
      "leak",
      "megohm",
      Limit.atLeast(100),
      Source.MEASURED,
      "The leak of the floating chain, measured by the device board with all cables in place."),
  /** Capacitance between the floating chain of a device board and everything else. */
  STRAY(
      "stray",
      "pf",
      new Limit(0, 60, 5),
      Source.MEASURED,
      "The stray capacitance of the floating chain, measured by the device board with all cables in"
          + " place. The fit of the chain uses it, so it must not change."),
  /** Magnitude that the chain of a device board shows. */
  CHAIN_MAGNITUDE(
      "chain_magnitude",
      "percent",
      Limit.within(3),
      Source.TYPED,
      "The magnitude of the chain at five places and four frequencies: what an impedance meter in"
          + " place of the device shows, relative to the simulated tooth."),
  /** Phase that the chain of a device board shows. */
  CHAIN_PHASE(
      "chain_phase",
      "deg",
      Limit.within(5),
      Source.TYPED,
      "The phase of the chain at the same places and frequencies: what the meter shows, minus that"
          + " of the simulated tooth."),
  /** Rotation sensor of a device board against a turned reference. */
  SHANK_ANGLE(
      "shank_angle",
      "deg",
      Limit.within(1),
      Source.TYPED,
      "The rotation sensor against a turned reference, or against whole turns: angle by the device"
          + " board, minus the angle of the reference."),
  /** Scale at the shank against gauge blocks. */
  SHANK_SCALE(
      "shank_scale",
      "um",
      Limit.within(10),
      Source.TYPED,
      "The scale at the shank against gauge blocks: travel by the device board, minus the length of"
          + " the block."),
  /** Axial play of the head that holds the file. */
  HEAD_PLAY(
      "head_play",
      "um",
      Limit.within(30),
      Source.TYPED,
      "The axial play of the head of the device: place of the file pulled out, minus place pushed"
          + " in, by a dial indicator at the file."),
  /** Load cell against masses. */
  FEED_FORCE(
      "feed_force",
      "n",
      Limit.within(0.1),
      Source.TYPED,
      "The load cell against masses from 0.5 to 4 N: force by the device board, minus the weight."),
  /** Time base of the samples. */
  TIME_BASE(
      "time_base",
      "ms",
      Limit.within(0.1),
      Source.MEASURED,
      "The one time base of the samples: greatest distance of a time stamp from even steps, in one"
          + " second, measured by the bench itself."),
  /** Second witness. */
  WITNESS(
      "witness",
      "percent",
      Limit.atLeast(95),
      Source.MEASURED,
      "The second witness: share of the samples that hear the motor while it turns, minus the share"
          + " while it rests.");

  /** Which board a quantity is of. */
  public enum Group {
    /** The bench that turns the file. */
    CONTROLLER,
    /** The board that plays a canal to a device and watches it. */
    DEVICE
  }

  /**
   * What the readings may be.
   *
   * @param least least allowed reading
   * @param most greatest allowed reading
   * @param range greatest allowed difference between two readings
   */
  public record Limit(double least, double most, double range) {
    private static final double NONE = Double.POSITIVE_INFINITY;

    /** No limit: the budget of uncertainty weighs the readings. */
    static final Limit NO_LIMIT = new Limit(-NONE, NONE, NONE);

    static Limit atLeast(double least) {
      return new Limit(least, NONE, NONE);
    }

    static Limit within(double most) {
      return new Limit(-most, most, NONE);
    }

    /**
     * Whether readings are within it.
     *
     * @param readingsThousandths the readings, thousandths of the unit
     * @return false when one is not
     */
    public boolean holds(List<Long> readingsThousandths) {
      double low = Collections.min(readingsThousandths) / 1e3;
      double high = Collections.max(readingsThousandths) / 1e3;
      return low >= least && high <= most && high - low <= range;
    }

    /**
     * The limit for people.
     *
     * @param sign unit
     * @return such as {@code 0 to 60 pF, stable to 5 pF}; empty without a limit
     */
    public String words(String sign) {
      if (least == -NONE) {
        return "";
      }
      String each =
          most == NONE
              ? "at least " + plain(least)
              : least == -most ? "±" + plain(most) : plain(least) + " to " + plain(most);
      return each + " " + sign + (range == NONE ? "" : ", stable to " + plain(range) + " " + sign);
    }

    private static String plain(double value) {
      return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }
  }

  /** Who gives the numbers. */
  public enum Source {
    /** A person types what a reference instrument shows. */
    TYPED,
    /** The bench measures by itself, against the clock of its host. */
    MEASURED
  }

  private final String key;
  private final String unit;
  private final double least;
  private final double most;
  private final double range;
  private final Source source;
  private final String text;

  Quantity(String key, String unit, Source source, String text) {
    this(key, unit, Limit.NO_LIMIT, source, text);
  }

  Quantity(String key, String unit, Limit limit, Source source, String text) {
    this.key = key;
    this.unit = unit;
    this.least = limit.least;
    this.most = limit.most;
    this.range = limit.range;
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
   * @return lower case, such as {@code um} or {@code megohm}
   */
  public String unit() {
    return unit;
  }

  /**
   * The unit as people write it.
   *
   * @return such as µm
   */
  public String sign() {
    return switch (unit) {
      case "ohm" -> "Ω";
      case "megohm" -> "MΩ";
      case "percent" -> "%";
      case "deg" -> "°";
      case "n" -> "N";
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
   * Which board it is of.
   *
   * @return the bench of the controller, or the board that watches a device
   */
  public Group group() {
    return compareTo(LEAK) < 0 ? Group.CONTROLLER : Group.DEVICE;
  }

  /**
   * The quantities of a board.
   *
   * @param group which board
   * @return in the order in which they are calibrated
   */
  public static List<Quantity> of(Group group) {
    return Arrays.stream(values()).filter(q -> q.group() == group).toList();
  }

  /**
   * What its readings may be.
   *
   * @return the limit; one that always holds where the budget weighs the readings
   */
  public Limit limit() {
    return new Limit(least, most, range);
  }

  /**
   * Standard deviation of the simulated reference.
   *
   * @return in its unit (assumed: a good meter, dividing head or mass)
   */
  public double simulatedDeviation() {
    return switch (this) {
      case SHANK_ANGLE -> 0.1;
      case FEED_FORCE -> 0.005;
      default -> 0.5;
    };
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
