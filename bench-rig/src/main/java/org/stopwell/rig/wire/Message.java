package org.stopwell.rig.wire;

import static org.stopwell.rig.wire.Field.choice;
import static org.stopwell.rig.wire.Field.flag;
import static org.stopwell.rig.wire.Field.list;
import static org.stopwell.rig.wire.Field.number;
import static org.stopwell.rig.wire.Field.string;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.rig.bench.FileCondition;
import org.stopwell.rig.wire.Field.Kind;

/** The table of messages: the only definition of what goes over the wire. */
public enum Message {
  /** Opens a session. */
  HELLO(
      0x01,
      true,
      "Opens a session. The motor goes off, nothing is mounted, and any other session ends."
          + " Answered by IDENTITY, whatever the version.",
      number("protocol", Kind.U16, "", "Version that the host speaks.")),
  /** Asks for the status of the board. */
  HEARTBEAT(
      0x02,
      true,
      "Asks for the status of the board. It does not keep the motor on. Answered by STATUS.",
      number("now_ns", Kind.I64, "ns", "Time of the host since the mount, for the record.")),
  /** Begins a mount. */
  MOUNT_BEGIN(
      0x03,
      true,
      "Begins the description of one trial. The motor goes off. Answered by OK.",
      number("seed", Kind.I64, "", "Seed of everything random in the trial."),
      number("values", Kind.U16, "", "Number of MOUNT_VALUE that follow."),
      number(
          "steps", Kind.U16, "", "Number of MOUNT_STEP that follow them; 0: no table of steps.")),
  /** One value of a mount. */
  MOUNT_VALUE(
      0x04,
      true,
      "One value of the trial: value × 10^-decimals, in the unit at the end of the key. Answered by"
          + " OK or REFUSED.",
      string("key", 64, "Section and name, such as canal.length_mm."),
      choice(
          "decimals",
          List.of("0", "1", "2", "3", "4", "5", "6", "7", "8", "9"),
          "Decimals of the value, in its unit."),
      number("value", Kind.I64, "", "The value; for a word, its index in the list of words."),
      string("word", 40, "Chosen word, or true or false; empty for a number.")),
  /** One step of the table of a mount. */
  MOUNT_STEP(
      0x0C,
      true,
      "One step of the table by position, in ascending order from past the foramen. Between two"
          + " steps the board interpolates linearly. It uses the nearest values that its parts give."
          + " Answered by OK or REFUSED.",
      number(
          "remaining_microns", Kind.I32, "µm", "Tip to foramen, greater than in the step before."),
      number("resistance_ohms", Kind.U16, "Ω", "Resistance between file and lip clip."),
      number("capacitance_picofarads", Kind.U16, "pF", "Capacitance in parallel.")),
  /** One place of the chain of a mount. */
  MOUNT_PLACE(
      0x0D,
      true,
      "One place of a chain, in place of MOUNT_STEP and counted like it, in ascending order from past"
          + " the foramen. Between two places the board interpolates linearly. Answered by OK or"
          + " REFUSED.",
      number(
          "remaining_microns", Kind.I32, "µm", "Tip to foramen, greater than in the place before."),
      list("ohms", 5, "Ω", "Resistance of each segment, the one without a capacitor first."),
      number(
          "capacitors",
          Kind.U16,
          "",
          "Switched capacitors that are in, the same in every place: two bits for each segment with"
              + " capacitors, the first one lowest; 1 its second capacitor, 2 its third.")),
  /** Ends a mount. */
  MOUNT_END(
      0x05,
      true,
      "Ends the description. The board prepares the trial; its time is 0 and the motor is off."
          + " Answered by READING or REFUSED."),
  /** One command, answered by one reading. */
  EXCHANGE(
      0x06,
      true,
      "Command to the motor since the last exchange, and the end of that interval. Answered by"
          + " READING.",
      number("now_ns", Kind.I64, "ns", "Time since the mount, greater than in the last one."),
      choice("drive", names(Drive.values()), "Command to the motor."),
      number("speed_milli_rpm", Kind.I32, "milli-rpm", "Speed at the file, never negative."),
      number(
          "torque_limit_micro_newton_metres",
          Kind.I32,
          "µN·m",
          "Torque at the file that the motor side must not exceed."),
      choice("state", names(State.values()), "State of the controller, for the record."),
      flag("reading_present", "Whether remaining_microns holds a reading."),
      number(
          "remaining_microns",
          Kind.I32,
          "µm",
          "The controller's reading: tip to foramen, positive short of it."),
      number(
          "bound_microns",
          Kind.I32,
          "µm",
          "Bound of the reading that holds 95 times in 100; 0: none stated."),
      choice("trust", names(Trust.values()), "Trust in the reading."),
      choice("cause", names(Cause.values()), "Cause of lost trust."),
      choice("reason", names(Reason.values()), "Reason for the state.")),
  /** Cuts the motor power. */
  SAFE_STOP(
      0x07,
      true,
      "The motor goes off and stays off until the next mount. Answered by READING, or by OK while no"
          + " trial is mounted."),
  /** Sends the stage home. */
  STAGE_HOME(
      0x08,
      true,
      "Sends the stage to its home switch: fast until the switch opens, a little further, then slowly"
          + " forward until it closes. The count starts at 0 there. Answered by STAGE at once, not at"
          + " the end."),
  /** Sends the stage to a place. */
  STAGE_MOVE(
      0x09,
      true,
      "Sends the stage to a place. It always arrives moving forward. Answered by STAGE at once, not"
          + " at the end.",
      number("position_microns", Kind.I32, "µm", "Place from home; positive: forward."),
      number("speed_microns_per_second", Kind.U32, "µm/s", "Speed, above 0.")),
  /** Stops the stage. */
  STAGE_STOP(0x0A, true, "Stops the stage. Answered by STAGE."),
  /** Asks for the state of the stage. */
  STAGE_ASK(0x0B, true, "Asks whether the stage is still busy. Answered by STAGE."),
  /** Feeds the file of a device under test. */
  STAGE_FEED(
      0x10,
      true,
      "Feeds the file of a device under test from the present place, as the hand of the mounted scene"
          + " does. The board itself goes on and stops by the two lines of the device board. Answered by"
          + " STAGE at once.",
      number("most_microns", Kind.I32, "µm", "Place from home that it does not pass.")),
  /** Takes the device off the chain and measures the chain. */
  VERIFY(
      0x0E,
      true,
      "Takes the device off the chain, until the next mount, and measures the chain. Answered by"
          + " NETWORK, or by ERROR BAD_ORDER from a board that watches no device."),
  /** Asks for the samples of a device. */
  WATCH(
      0x0F,
      true,
      "Asks for the samples of the device under test since the last WATCH. A repeated sequence gets"
          + " the same samples again. Answered by WATCHED, or by ERROR BAD_ORDER from a board that"
          + " watches no device."),
  /** Identity of the board. */
  IDENTITY(
      0x81,
      false,
      "Identity and abilities of the board.",
      number("protocol", Kind.U16, "", "Version that the board speaks."),
      string("board", 24, "Kind of board."),
      string("serial_number", 32, "Serial number of this board; the same on every port."),
      string("firmware", 32, "Name of the firmware."),
      string("firmware_version", 16, "Version of the firmware; empty when unknown."),
      string(
          "firmware_hash",
          40,
          "Hash of the running program and its calibration; empty when unknown."),
      flag("simulated", "Whether readings come from a model instead of hardware."),
      flag("lockstep", "Whether board time waits for the exchanges."),
      flag("has_truth", "Whether the true_ fields of READING are filled."),
      flag("has_position", "Whether READING contains the position of the tip."),
      flag("has_motor", "Whether a motor obeys EXCHANGE."),
      flag("has_stage", "Whether a stage obeys the STAGE requests."),
      flag("reads_tooth", "Whether it measures the impedance of an extracted tooth."),
      number("most_steps", Kind.U16, "", "Greatest number of MOUNT_STEP; 0: none."),
      number("period_ns", Kind.U32, "ns", "Control period of the board."),
      number(
          "watchdog_ns",
          Kind.I64,
          "ns",
          "Board time without EXCHANGE after which the motor goes off."),
      number("silence_ns", Kind.I64, "ns", "The same, by the board's own clock.")),
  /** Done. */
  OK(0x82, false, "Done."),
  /** The board cannot make this trial. */
  REFUSED(
      0x83,
      false,
      "The board cannot make this trial. Nothing is mounted.",
      string("key", 64, "The refused key; empty when it is not a single key."),
      string("why", 120, "Sentence with value, limit and unit.")),
  /** Input of the controller, and truth for the harness. */
  READING(
      0x84,
      false,
      "Input of the controller at board time time_ns. The true_ fields are for the harness only.",
      number("time_ns", Kind.I64, "ns", "Board time since the mount."),
      flag("watchdog", "The board has cut the motor power by itself since the mount."),
      choice("position_kind", names(PositionKind.values()), "Valid position fields."),
      number(
          "sample_sequence",
          Kind.I64,
          "",
          "Number of the sample, not of the exchange; with an outside locator, number of the display update."),
      number("sample_time_ns", Kind.I64, "ns", "Board time at which the sample was taken."),
      list("frequency_hz", ControllerInput.MAX_FREQUENCIES, "Hz", "Frequencies, ascending."),
      list(
          "z_real_milli_ohms",
          ControllerInput.MAX_FREQUENCIES,
          "mΩ",
          "Real part of the impedance from file to lip clip, per frequency."),
      list(
          "z_imag_milli_ohms",
          ControllerInput.MAX_FREQUENCIES,
          "mΩ",
          "Imaginary part, per frequency."),
      flag("railed", "The front end's converter was saturated during the sample."),
      number(
          "distance_microns",
          Kind.I32,
          "µm",
          "Tip to foramen by an outside locator, positive short of it; 0 unless position_kind is"
              + " DISTANCE."),
      flag("insertion_present", "Whether insertion_microns is measured."),
      number(
          "insertion_microns",
          Kind.I32,
          "µm",
          "Depth of the tip below the reference point, positive deeper."),
      number("speed_milli_rpm", Kind.I32, "milli-rpm", "Measured speed, positive when cutting."),
      number("torque_micro_newton_metres", Kind.I32, "µN·m", "Torque from the motor current."),
      number("current_milli_amps", Kind.I32, "mA", "Motor current."),
      number("supply_milli_volts", Kind.I32, "mV", "Motor supply; 0 when it is not measured."),
      flag("demand", "The operator demands motion; 1 without a pedal."),
      flag("stop_line", "The emergency-stop line is open."),
      flag(
          "reset",
          "The operator holds the reset. Only a change from 0 to 1 after the stop line has closed counts."),
      choice("stage", names(Stage.values()), "Stage of work chosen by the operator."),
      number("link_age_ns", Kind.I64, "ns", "Age of the content of this answer; 0 when fresh."),
      number("true_remaining_microns", Kind.I32, "µm", "True distance, or the stage encoder's."),
      number("true_speed_milli_rpm", Kind.I32, "milli-rpm", "True speed, or the motor encoder's."),
      number("true_torque_micro_newton_metres", Kind.I32, "µN·m", "True torque on the file."),
      number("true_fluid_level_microns", Kind.I32, "µm", "Fluid level above the foramen."),
      flag("true_chamber_wet", "There is fluid in the chamber."),
      flag("true_stop_line", "The emergency-stop contact holds the motor off."),
      choice("true_file", names(FileCondition.values()), "Condition of the file.")),
  /** Status of the board. */
  STATUS(
      0x85,
      false,
      "Status of the board.",
      number("time_ns", Kind.I64, "ns", "Board time since the mount."),
      flag("mounted", "A trial is mounted."),
      flag("motor_on", "The motor has power now."),
      flag("watchdog", "The board has cut the motor power by itself since the mount."),
      number("frames_good", Kind.U32, "", "Good frames received since power-up."),
      number("frames_bad", Kind.U32, "", "Damaged frames received since power-up."),
      number("frames_refused", Kind.U32, "", "Good frames that the board did not obey.")),
  /** The board does not obey. */
  ERROR(
      0x86,
      false,
      "The board does not obey this request. The motor goes off if the request was of the open"
          + " session; a request of any other session changes nothing.",
      choice("code", names(Refusal.values()), "Reason."),
      string("why", 120, "Sentence for people.")),
  /** State of the stage. */
  STAGE(
      0x87,
      false,
      "State of the stage.",
      choice("state", names(StageState.values()), "Activity, or reason for rest."),
      flag("homed", "The stage knows its place."),
      flag("at_home", "The home switch is open."),
      flag("at_far_limit", "The far limit switch is open."),
      number("position_microns", Kind.I32, "µm", "Present place from home; positive: forward."),
      number("least_microns", Kind.I32, "µm", "Least place that it accepts."),
      number("most_microns", Kind.I32, "µm", "Greatest place that it accepts."),
      number("fastest_microns_per_second", Kind.U32, "µm/s", "Greatest speed that it accepts.")),
  /** The chain as measured. */
  NETWORK(
      0x88,
      false,
      "The chain, measured with the device off it, and its parts.",
      choice(
          "fault",
          List.of("NONE", "STRAY", "LEAK", "PART"),
          "Why the chain is not in order; the later ones are measured only without the earlier."),
      number("leak_kilo_ohms", Kind.U32, "kΩ", "Leak of the floating chain, at least 100000."),
      number("stray_picofarads", Kind.U16, "pF", "Stray capacitance of the chain, at most 60."),
      number(
          "part",
          Kind.U16,
          "",
          "With PART: resistor that is off, counted from 1 over the segments; 0: with none in line."),
      number("measured_ohms", Kind.U32, "Ω", "Resistance of the whole chain, as last measured."),
      number("wanted_ohms", Kind.U32, "Ω", "The same by the calibration."),
      number("most_places", Kind.U16, "", "Greatest number of MOUNT_PLACE."),
      list(
          "picofarads",
          12,
          "pF",
          "The capacitors of each segment but the first, by the calibration: the fixed one, then two"
              + " that are switched."),
      list("least_ohms", 5, "Ω", "Least resistance of each segment."),
      list("most_ohms", 5, "Ω", "Greatest resistance of each segment.")),
  /** Samples of a device. */
  WATCHED(
      0x89,
      false,
      "Samples of the device under test, stamped by the board, without a gap. There are more when the"
          + " list is full. Each entry is two samples: bits 0 to 7 and 8 to 15, turn of the file before"
          + " each, signed, in steps of 1/4096 turn; bits 16 to 21, way of the shank, signed, in µm;"
          + " bit 22, the network was switching; bit 23, the second witness heard the motor; bits 24 to"
          + " 31, force in steps of 20 mN.",
      number("first_ns", Kind.I64, "ns", "Board time of the first sample."),
      number("each_ns", Kind.U32, "ns", "Time from sample to sample."),
      number(
          "first_steps", Kind.I32, "", "Angle before the first sample, 1/4096 turn, not wrapped."),
      number(
          "first_microns",
          Kind.I32,
          "µm",
          "Depth of the tip below the orifice by the shank, before the first sample."),
      number("lost", Kind.U32, "", "Samples lost since the mount, because no host took them."),
      list("entries", 40, "", "Pairs of samples."));

  private static final @Nullable Message[] BY_CODE = byCode();

  private final int code;
  private final boolean fromHost;
  private final String text;

  @SuppressWarnings("ImmutableEnumChecker") // a List.of of records that copy theirs
  private final List<Field> fields;

  Message(int code, boolean fromHost, String text, Field... fields) {
    this.code = code;
    this.fromHost = fromHost;
    this.text = text;
    this.fields = List.of(fields);
  }

  /**
   * The message with a number.
   *
   * @param code one unsigned byte
   * @return the message, null for a number that means nothing
   */
  public static @Nullable Message ofCode(int code) {
    return BY_CODE[code & 0xFF];
  }

  /**
   * The number that stands for this message.
   *
   * @return 1 to 255; answers have the highest bit set
   */
  public int code() {
    return code;
  }

  /**
   * Whether the host sends it.
   *
   * @return true for the host, false for the board
   */
  public boolean fromHost() {
    return fromHost;
  }

  /**
   * Effect of the message.
   *
   * @return sentences for the protocol page
   */
  public String text() {
    return text;
  }

  /**
   * Its fields in the order of the wire.
   *
   * @return the fields behind the header
   */
  public List<Field> fields() {
    return fields;
  }

  /**
   * Index of a field. Callers look it up once, so that a misspelt name fails at start-up.
   *
   * @param name the field's name
   * @return its place from 0
   */
  public int index(String name) {
    for (int i = 0; i < fields.size(); i++) {
      if (fields.get(i).name().equals(name)) {
        return i;
      }
    }
    throw new IllegalArgumentException(this + " has no field " + name);
  }

  private static List<String> names(Enum<?>[] values) {
    return Arrays.stream(values).map(Enum::name).toList();
  }

  private static @Nullable Message[] byCode() {
    @Nullable Message[] table = new Message[256];
    for (Message message : values()) {
      if (table[message.code] != null) {
        throw new IllegalStateException("code " + message.code + " stands twice");
      }
      table[message.code] = message;
    }
    return table;
  }
}
