package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Message.READING;

import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.bench.Truth;

/** {@link Message#READING} to and from the controller's input frame and the harness's truth. */
public final class ReadingFields {
  private static final int TIME = READING.index("time_ns");
  private static final int WATCHDOG = READING.index("watchdog");
  private static final int KIND = READING.index("position_kind");
  private static final int SAMPLE = READING.index("sample_sequence");
  private static final int SAMPLE_TIME = READING.index("sample_time_ns");
  private static final int FREQUENCY = READING.index("frequency_hz");
  private static final int Z_REAL = READING.index("z_real_milli_ohms");
  private static final int Z_IMAG = READING.index("z_imag_milli_ohms");
  private static final int RAILED = READING.index("railed");
  private static final int DISTANCE = READING.index("distance_microns");
  private static final int INSERTION_PRESENT = READING.index("insertion_present");
  private static final int INSERTION = READING.index("insertion_microns");
  private static final int SPEED = READING.index("speed_milli_rpm");
  private static final int TORQUE = READING.index("torque_micro_newton_metres");
  private static final int CURRENT = READING.index("current_milli_amps");
  private static final int SUPPLY = READING.index("supply_milli_volts");
  private static final int DEMAND = READING.index("demand");
  private static final int STOP_LINE = READING.index("stop_line");
  private static final int RESET = READING.index("reset");
  private static final int STAGE = READING.index("stage");
  private static final int LINK_AGE = READING.index("link_age_ns");
  private static final int TRUE_REMAINING = READING.index("true_remaining_microns");
  private static final int TRUE_SPEED = READING.index("true_speed_milli_rpm");
  private static final int TRUE_TORQUE = READING.index("true_torque_micro_newton_metres");
  private static final int TRUE_LEVEL = READING.index("true_fluid_level_microns");
  private static final int TRUE_WET = READING.index("true_chamber_wet");
  private static final int TRUE_STOP_LINE = READING.index("true_stop_line");
  private static final int TRUE_FILE = READING.index("true_file");

  /** A real part from here on means an open circuit, mΩ. */
  public static final int OPEN_MILLI_OHMS = 2_000_000_000;

  private ReadingFields() {}

  /**
   * What in a reading contradicts the protocol or its scene.
   *
   * @param packet a reading
   * @param hertz the frequencies of the scene, Hz
   * @return a clause with field, value and what is wanted; null when nothing does
   */
  public static @Nullable String contradiction(Packet packet, double[] hertz) {
    PositionKind kind = PositionKind.ofCode(packet.integer(KIND));
    if (kind == PositionKind.ABSENT) {
      return null;
    }
    if (packet.number(SAMPLE) < 1) {
      return "sample_sequence " + packet.number(SAMPLE) + ", wanted 1 or more";
    }
    if (kind != PositionKind.IMPEDANCE) {
      return null;
    }
    for (int list : new int[] {FREQUENCY, Z_REAL, Z_IMAG}) {
      if (packet.integer(list) != hertz.length) {
        return READING.fields().get(list).name()
            + " with "
            + packet.integer(list)
            + " entries, wanted "
            + hertz.length
            + ", one for each frequency of the scene";
      }
    }
    for (int i = 0; i < hertz.length; i++) {
      if (packet.entry(FREQUENCY, i) != hertz[i]) {
        return "frequency_hz " + packet.entry(FREQUENCY, i) + ", the scene has " + (int) hertz[i];
      }
    }
    return null;
  }

  /**
   * Fills a packet that has begun as a reading.
   *
   * @param packet receives the fields
   * @param watchdog whether the board has taken the power by itself since the mount
   * @param in what the controller may know
   * @param truth the truth; its time is the time of the reading
   */
  public static void put(Packet packet, boolean watchdog, ControllerInput in, Truth truth) {
    packet
        .set(TIME, truth.timeNs)
        .set(WATCHDOG, watchdog)
        .set(KIND, in.positionKind.code())
        .set(SAMPLE, in.sampleSequence)
        .set(SAMPLE_TIME, in.sampleTimeNs)
        .set(FREQUENCY, in.frequencyHz, in.frequencyCount)
        .set(Z_REAL, in.zRealMilliOhms, in.frequencyCount)
        .set(Z_IMAG, in.zImagMilliOhms, in.frequencyCount)
        .set(RAILED, in.railed)
        .set(DISTANCE, in.distanceMicrons)
        .set(INSERTION_PRESENT, in.insertionPresent)
        .set(INSERTION, in.insertionMicrons)
        .set(SPEED, in.speedMilliRpm)
        .set(TORQUE, in.torqueMicroNewtonMetres)
        .set(CURRENT, in.currentMilliAmps)
        .set(SUPPLY, in.supplyMilliVolts)
        .set(DEMAND, in.demand)
        .set(STOP_LINE, in.stopLine)
        .set(RESET, in.reset)
        .set(STAGE, in.stage.code())
        .set(LINK_AGE, in.linkAgeNs)
        .set(TRUE_REMAINING, truth.remainingMicrons)
        .set(TRUE_SPEED, truth.speedMilliRpm)
        .set(TRUE_TORQUE, truth.torqueMicroNewtonMetres)
        .set(TRUE_LEVEL, truth.fluidLevelMicrons)
        .set(TRUE_WET, truth.chamberWet)
        .set(TRUE_STOP_LINE, truth.stopLine)
        .set(TRUE_FILE, truth.file.ordinal());
  }

  /**
   * Whether the board has taken the power by itself.
   *
   * @param packet a reading
   * @return true once its watchdog has bitten since the mount
   */
  public static boolean watchdog(Packet packet) {
    return packet.flag(WATCHDOG);
  }

  /**
   * Reads what the controller may know. The three lists are read as far as the shortest goes.
   *
   * @param packet a reading
   * @param in overwritten
   */
  public static void get(Packet packet, ControllerInput in) {
    in.positionKind = PositionKind.ofCode(packet.integer(KIND));
    in.sampleSequence = packet.number(SAMPLE);
    in.sampleTimeNs = packet.number(SAMPLE_TIME);
    in.frequencyCount =
        Math.min(
            packet.integer(FREQUENCY), Math.min(packet.integer(Z_REAL), packet.integer(Z_IMAG)));
    for (int i = 0; i < in.frequencyCount; i++) {
      in.frequencyHz[i] = packet.entry(FREQUENCY, i);
      in.zRealMilliOhms[i] = packet.entry(Z_REAL, i);
      in.zImagMilliOhms[i] = packet.entry(Z_IMAG, i);
    }
    in.railed = packet.flag(RAILED);
    in.distanceMicrons = packet.integer(DISTANCE);
    in.insertionPresent = packet.flag(INSERTION_PRESENT);
    in.insertionMicrons = packet.integer(INSERTION);
    in.speedMilliRpm = packet.integer(SPEED);
    in.torqueMicroNewtonMetres = packet.integer(TORQUE);
    in.currentMilliAmps = packet.integer(CURRENT);
    in.supplyMilliVolts = packet.integer(SUPPLY);
    in.demand = packet.flag(DEMAND);
    in.stopLine = packet.flag(STOP_LINE);
    in.reset = packet.flag(RESET);
    in.stage = Stage.ofCode(packet.integer(STAGE));
    in.linkAgeNs = packet.number(LINK_AGE);
  }

  /**
   * Reads the truth.
   *
   * @param packet a reading
   * @param truth overwritten
   */
  public static void get(Packet packet, Truth truth) {
    truth.timeNs = packet.number(TIME);
    truth.remainingMicrons = packet.integer(TRUE_REMAINING);
    truth.speedMilliRpm = packet.integer(TRUE_SPEED);
    truth.torqueMicroNewtonMetres = packet.integer(TRUE_TORQUE);
    truth.fluidLevelMicrons = packet.integer(TRUE_LEVEL);
    truth.chamberWet = packet.flag(TRUE_WET);
    truth.stopLine = packet.flag(TRUE_STOP_LINE);
    truth.file = FileCondition.ofCode(packet.integer(TRUE_FILE));
  }
}
