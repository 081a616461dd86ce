package org.stopwell.rig.fault;

import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.rig.device.DeviceFault;

/**
 * Kinds of fault between the controller and the file, and of a device with a motor of its own.
 * Those of a device begin at a place, not at a time.
 */
public enum FaultKind {
  /** The cable is pulled. */
  PORT_GONE(Part.LINK, "the cable is pulled, so every exchange fails with PORT_GONE"),
  /** The board does not answer. */
  NO_ANSWER(Part.LINK, "the board does not answer, so every exchange fails with NO_ANSWER"),
  /** The board was reset. */
  SESSION_LOST(Part.LINK, "the board was reset, so every exchange fails with SESSION_LOST"),
  /** The line is damaged. */
  BAD_FRAMES(Part.LINK, "the line is damaged, so every exchange fails with BAD_FRAMES"),
  /** The board has cut the motor power by itself. */
  WATCHDOG(
      Part.LINK, "the board has cut the motor power by itself, so exchanges fail with WATCHDOG"),
  /** The board refuses the scene. */
  MOUNT_REFUSED(
      Part.LINK,
      "another network is mounted, or a switch of the ladder sticks; the board measures its ladder"
          + " and refuses the mount"),
  /** Old readings arrive. */
  OLD_READINGS(Part.LINK, "no new reading arrives; the last one ages"),
  /** Readings are lost or come twice. */
  LOST_READINGS(
      Part.LINK,
      "some readings are lost; the previous one comes twice",
      "share of the readings",
      0.3,
      0,
      1),
  /** The host stalls. */
  HOST_STALL(Part.HOST, "the host's computer stalls once", "ms", 200, 0, 60_000),
  /** No new sample comes. */
  SAMPLES_STOP(Part.SIGNAL, "the front end takes no more samples; other fields continue"),
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
  SHORT_CIRCUIT(Part.SIGNAL, "the measuring circuit is shorted", "ohm left", 20, 0, 100),
  /** The front end is saturated. */
  SATURATED(Part.SIGNAL, "the front end reports a saturated converter"),
  /** The sample does not change. */
  FROZEN_SIGNAL(Part.SIGNAL, "samples get new numbers and times, but keep their values"),
  /** One channel of the sample does not change. */
  FROZEN_CHANNEL(Part.SIGNAL, "the value at the highest frequency stays; the others change"),
  /** The signal jumps. */
  JUMP(Part.SIGNAL, "the impedance at the highest frequency jumps", "factor", 0.7, 0.01, 100),
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
  /** Impossible values. */
  NONSENSE(Part.SIGNAL, "values that no bench can send"),
  /** The motor runs against the command to rest. */
  RUNS_ON(
      Part.MOTOR,
      "the motor power stays on, and the motor continues with the last command to turn"),
  /** The motor turns the wrong way. */
  REVERSED(Part.MOTOR, "the leads are swapped, so the motor turns the wrong way"),
  /** The motor turns too fast. */
  OVERSPEED(
      Part.MOTOR,
      "the speed loop is lost, so the motor turns faster than commanded",
      "multiple of the commanded speed",
      3,
      1.1,
      10),
  /** The motor does not turn. */
  DEAD_MOTOR(Part.MOTOR, "a lead of the motor breaks"),
  /** The file is held fast. */
  JAM(Part.MOTOR, "the file is held fast, with torque at its limit and no speed"),
  /** The speed is not measured. */
  SPEED_LOST(Part.MOTOR, "the encoder is silent, so the speed reads 0"),
  /** The speed is measured badly. */
  SPEED_NOISE(
      Part.MOTOR,
      "the encoder loses and duplicates steps",
      "standard deviation of the speed as a share",
      0.3,
      0,
      5),
  /** The supply is low. */
  LOW_SUPPLY(Part.MOTOR, "the supply voltage falls", "volts left", 2, 0, 100),
  /** The emergency stop is pressed. */
  STOP_PRESSED(
      Part.STOP_LINE, "the emergency stop is pressed, a cover opened, or one of their wires cut"),
  /** The encoder of the truth is broken. */
  BAD_TRUTH(
      Part.TRUTH,
      "the encoder of the true distance jumps to and fro, or stays",
      "jump in mm; 0: it stays",
      3,
      0,
      100),
  /** The device never turns the file. */
  DEVICE_NEVER_STARTED(DeviceFault.NEVER_STARTED, "the device never turns the file"),
  /** The device turns the file above the orifice. */
  DEVICE_TURNED_EARLY(DeviceFault.TURNED_EARLY, "the device turns the file above the orifice"),
  /** The device starts and stops again and again at its target. */
  DEVICE_OSCILLATES(
      DeviceFault.OSCILLATES, "the device starts and stops again and again at its target"),
  /** The feed force rises 4 mm before the foramen, and the device stops. */
  DEVICE_TORQUE_STOP(
      DeviceFault.TORQUE_STOP,
      "the feed force rises 4 mm before the foramen, and the device stops"),
  /** The device acts, and its motor turns on for 1.2 s. */
  DEVICE_RUNS_ON(DeviceFault.RUNS_ON, "the device acts, and its motor turns on for 1.2 s"),
  /** The device never stops the file. */
  DEVICE_NO_STOP(DeviceFault.NO_STOP, "the device never stops the file"),
  /** The device stops the file 4 mm before the foramen. */
  DEVICE_FALSE_STOP(DeviceFault.FALSE_STOP, "the device stops the file 4 mm before the foramen"),
  /** The device turns the file back 4 mm before the foramen. */
  DEVICE_REVERSED_SHORT(
      DeviceFault.REVERSED_SHORT, "the device turns the file back 4 mm before the foramen"),
  /** The device turns the file again 1.5 s after it acted, without a withdrawal. */
  DEVICE_RESTARTED(
      DeviceFault.RESTARTED,
      "the device turns the file again 1.5 s after it acted, without a withdrawal"),
  /** The speed of the device sinks by 5 % a second. */
  DEVICE_BATTERY_LOW(DeviceFault.BATTERY_LOW, "the speed of the device sinks by 5 % a second"),
  /** The mark of the rotation sensor falls off. */
  DEVICE_MARK_OFF(DeviceFault.MARK_OFF, "the mark of the rotation sensor falls off"),
  /** The mark of the rotation sensor slips on the shank. */
  DEVICE_MARK_SLIPS(DeviceFault.MARK_SLIPS, "the mark of the rotation sensor slips on the shank"),
  /** Samples of 0.3 s are lost. */
  DEVICE_SAMPLES_LOST(DeviceFault.SAMPLES_LOST, "samples of 0.3 s are lost"),
  /** The clock of the board is 1 % fast. */
  DEVICE_CLOCK_SKEW(DeviceFault.CLOCK_SKEW, "the clock of the board is 1 % fast"),
  /** The network is open for 150 ms while it steps. */
  DEVICE_NETWORK_GLITCH(
      DeviceFault.NETWORK_GLITCH, "the network is open for 150 ms while it steps"),
  /** 20 MΩ lie between the network and its surroundings. */
  DEVICE_LEAK(DeviceFault.LEAK, "20 MΩ lie between the network and its surroundings"),
  /** A cable of the device comes off. */
  DEVICE_CABLE_OFF(DeviceFault.CABLE_OFF, "a cable of the device comes off"),
  /** The file slips in the chuck. */
  DEVICE_FILE_SLIPS(DeviceFault.FILE_SLIPS, "the file slips in the chuck"),
  /** The feed stands still. */
  DEVICE_STAGE_STALLS(DeviceFault.STAGE_STALLS, "the feed stands still"),
  /** The feed is 30 % too fast. */
  DEVICE_FEED_WRONG(DeviceFault.FEED_WRONG, "the feed is 30 % too fast"),
  /** The device reads nothing in the canal of the trial, and does in a known network. */
  DEVICE_NO_READING(
      DeviceFault.NO_READING,
      "the device reads nothing in the canal of the trial, and does in a known network");

  /** Place of a fault. */
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
    /** The true distance, which only the harness sees. */
    TRUTH,
    /** A device with a motor of its own. */
    DEVICE,
    /** What plays the canal to such a device, feeds its file and watches it. */
    DEVICE_BENCH
  }

  /**
   * Strength of a fault.
   *
   * @param meaning the quantity and its unit
   * @param usual default (assumed)
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
  private final @Nullable DeviceFault device;

  FaultKind(Part part, String text) {
    this(part, text, "", 0, 0, 0);
  }

  FaultKind(DeviceFault device, String text) {
    this(device.ofDevice() ? Part.DEVICE : Part.DEVICE_BENCH, text, "", 0, 0, 0, device);
  }

  FaultKind(Part part, String text, String meaning, double usual, double least, double most) {
    this(part, text, meaning, usual, least, most, null);
  }

  FaultKind(
      Part part,
      String text,
      String meaning,
      double usual,
      double least,
      double most,
      @Nullable DeviceFault device) {
    this.part = part;
    this.text = text;
    this.meaning = meaning;
    this.usual = usual;
    this.least = least;
    this.most = most;
    this.device = device;
  }

  /**
   * Its name in plans.
   *
   * @return lower case with underscores
   */
  public String key() {
    return name().toLowerCase(java.util.Locale.ROOT);
  }

  /**
   * Its place.
   *
   * @return the part
   */
  public Part part() {
    return part;
  }

  /**
   * Description of the event.
   *
   * @return a clause for tables
   */
  public String text() {
    return text;
  }

  /**
   * Quantity of the strength.
   *
   * @return the quantity and its limits; an empty meaning for a fault without strength
   */
  public Strength strength() {
    return new Strength(meaning, usual, least, most);
  }

  /**
   * What it is attributed to in a trial of a device with a motor of its own.
   *
   * @return empty for a kind that acts on a controller of this program
   */
  public Optional<DeviceFault> ofDevice() {
    return this == HOST_STALL ? Optional.of(DeviceFault.LATE_HOST) : Optional.ofNullable(device);
  }

  /**
   * Whether it acts on a controller of this program.
   *
   * @return false for what happens to or around a device with a motor of its own
   */
  public boolean ofController() {
    return device == null;
  }

  /**
   * Whether one trial can show it. A slow change, or a shift of the scale, looks like another
   * canal: only known-answer trials find it.
   *
   * @return false for a drift and for worn switches
   */
  public boolean showsInOneTrial() {
    return this != DRIFT && this != ADDED_RESISTANCE;
  }
}
