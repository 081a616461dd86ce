package org.stopwell.rig.pi;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;

/** The section {@code pi} of a station file: the pin map. Checked and immutable. */
public final class PiStation {
  private static final String WIRING = "wiring of docs/build-a-bench.md";

  /** The computer. */
  static final Parameter COMPUTER =
      Parameter.of("computer")
          .choice("pi5", "pi4")
          .text("Raspberry Pi model, 4 or 5; it sets the device behind the PWM pins.")
          .source("design choice");

  static final Parameter ENABLE = gpio("enable_gpio", "17", "Enable relay of the motor driver.");
  static final Parameter ALIVE =
      gpio(
          "alive_gpio",
          "27",
          "Alive signal to the monostable at the relay; it changes with every command.");
  static final Parameter DIRECTION = gpio("direction_gpio", "22", "Direction; high: backward.");
  static final Parameter BRAKE = gpio("brake_gpio", "23", "Brake; high shorts the motor.");
  static final Parameter STOP_LINE =
      gpio(
          "stop_line_gpio",
          "24",
          "Emergency-stop contact to ground; closed unless the stop is pressed.");
  static final Parameter RESET =
      gpio("reset_gpio", "25", "Reset button to ground; closed while pressed.");
  static final Parameter ENCODER_A = gpio("encoder_a_gpio", "5", "Motor encoder, channel A.");
  static final Parameter ENCODER_B = gpio("encoder_b_gpio", "6", "Motor encoder, channel B.");

  static final List<Parameter> GPIOS =
      List.of(ENABLE, ALIVE, DIRECTION, BRAKE, STOP_LINE, RESET, ENCODER_A, ENCODER_B);

  static final Parameter PWM_CHANNEL =
      Parameter.of("pwm_channel")
          .range("0", "3")
          .initially("0")
          .text("PWM channel of the motor driver.")
          .source(WIRING);

  static final Parameter PWM_FREQUENCY =
      Parameter.of("pwm_hz")
          .unit("Hz")
          .range("100", "100000")
          .initially("20000")
          .text("PWM frequency.")
          .source("assumed: above hearing");

  static final Parameter SPI_BUS =
      Parameter.of("spi_bus")
          .range("0", "1")
          .initially("0")
          .text("SPI bus of the converter.")
          .source(WIRING);

  static final Parameter SPI_SELECT =
      Parameter.of("spi_select")
          .range("0", "1")
          .initially("0")
          .text("Select line of the converter.")
          .source(WIRING);

  static final Parameter SPI_CLOCK =
      Parameter.of("spi_hz")
          .unit("Hz")
          .range("10000", "2000000")
          .initially("1000000")
          .text("Clock of the converter.")
          .source("assumed");

  static final Parameter CURRENT_CHANNEL =
      Parameter.of("current_channel")
          .range("0", "7")
          .initially("0")
          .text("Converter channel of the motor current.")
          .source(WIRING);

  static final Parameter CURRENT_FULL_SCALE =
      Parameter.of("current_full_scale_ma")
          .unit("mA")
          .range("10", "100000")
          .initially("3300")
          .required()
          .text("Motor current at full scale of the converter.")
          .source("assumed: 1 V per A at a reference of 3.3 V");

  static final Parameter TORQUE_PER_AMP =
      Parameter.of("torque_per_amp_ncm")
          .unit("N·cm", 4)
          .range("0.0001", "1000")
          .initially("1")
          .required()
          .text("Torque at the file per ampere of motor current, from the calibration.")
          .source("none: measure it");

  static final Parameter IDLE_CURRENT =
      Parameter.of("idle_current_ma")
          .unit("mA")
          .range("0", "10000")
          .initially("0")
          .text("Current of the motor without load; subtracted before the torque is computed.")
          .source("none: measure it");

  static final Parameter STEPS_PER_TURN =
      Parameter.of("encoder_steps_per_turn")
          .range("4", "100000")
          .initially("64")
          .required()
          .text("Encoder steps in one turn of the file: four per line, gear included.")
          .source("none: data sheets of encoder and gear");

  static final Parameter FULL_SPEED =
      Parameter.of("full_speed_rpm")
          .unit("rpm", 3)
          .range("10", "50000")
          .initially("1000")
          .required()
          .text("Speed of the file at full power without load.")
          .source("none: measure it");

  static final Parameter RELEASE =
      Parameter.of("stop_release_ms")
          .unit("ms")
          .range("10", "5000")
          .initially("100")
          .text(
              "Time for which the stop line must be closed without interruption before a "
                  + "reset clears it.")
          .source("assumed: longer than contacts bounce");

  static final Parameter WATCHDOG =
      Parameter.of("watchdog_ms")
          .unit("ms")
          .range("10", "1000")
          .initially("100")
          .text("Time without a command after which the motor loses power.")
          .source("assumed: as on the boards");

  /** All keys. */
  public static final ParameterTable TABLE = table();

  /** Pins that the PWM channels (12, 13, 18, 19) and the first SPI bus (7 to 11) use. */
  private static final List<Long> TAKEN = List.of(7L, 8L, 9L, 10L, 11L, 12L, 13L, 18L, 19L);

  private final ParameterValues values;

  private PiStation(ParameterValues values) {
    this.values = values;
  }

  private static ParameterTable table() {
    List<Parameter> all = new ArrayList<>();
    all.add(COMPUTER);
    all.addAll(GPIOS);
    all.addAll(List.of(PWM_CHANNEL, PWM_FREQUENCY, SPI_BUS, SPI_SELECT, SPI_CLOCK));
    all.addAll(List.of(CURRENT_CHANNEL, CURRENT_FULL_SCALE, TORQUE_PER_AMP, IDLE_CURRENT));
    all.addAll(List.of(STEPS_PER_TURN, FULL_SPEED, RELEASE, WATCHDOG));
    return new ParameterTable(all);
  }

  private static Parameter gpio(String key, String defaultNumber, String text) {
    return Parameter.of(key)
        .range("4", "27")
        .initially(defaultNumber)
        .unit("BCM pin")
        .text(text)
        .source(WIRING);
  }

  /**
   * Checks a pin map.
   *
   * @param written what a person wrote, by key
   * @return the station
   * @throws SettingsException with every mistake, keys as {@code pi.key}
   */
  public static PiStation of(Map<String, ?> written) throws SettingsException {
    List<Fault> faults = new ArrayList<>();
    ParameterValues values = TABLE.resolve(written, faults);
    Map<Long, String> used = new HashMap<>();
    TAKEN.forEach(pin -> used.put(pin, "PWM and SPI"));
    for (Parameter gpio : GPIOS) {
      long pin = values.get(gpio);
      String other = used.putIfAbsent(pin, gpio.key());
      if (other != null) {
        faults.add(
            new Fault(gpio.key(), gpio.key() + ": pin " + pin + " is already used by " + other));
      }
    }
    if (!faults.isEmpty()) {
      throw new SettingsException(
          faults.stream().map(f -> new Fault("pi." + f.key(), f.message())).toList());
    }
    return new PiStation(values);
  }

  /** Every key with its value, so that a record shows later changes. */
  String setup() {
    return TABLE.parameters().stream()
        .map(p -> p.key() + "=" + p.human(values.get(p)))
        .collect(Collectors.joining(" "));
  }

  /** The device behind the PWM pins, by its address in the memory map of the chip. */
  String pwmDevice() {
    return values.choice(COMPUTER).equals("pi5") ? "1f00098000.pwm" : "fe20c000.pwm";
  }

  int enableGpio() {
    return values.getInt(ENABLE);
  }

  int aliveGpio() {
    return values.getInt(ALIVE);
  }

  int directionGpio() {
    return values.getInt(DIRECTION);
  }

  int brakeGpio() {
    return values.getInt(BRAKE);
  }

  int stopLineGpio() {
    return values.getInt(STOP_LINE);
  }

  int resetGpio() {
    return values.getInt(RESET);
  }

  int encoderAGpio() {
    return values.getInt(ENCODER_A);
  }

  int encoderBGpio() {
    return values.getInt(ENCODER_B);
  }

  int pwmChannel() {
    return values.getInt(PWM_CHANNEL);
  }

  int pwmHz() {
    return values.getInt(PWM_FREQUENCY);
  }

  int spiBus() {
    return values.getInt(SPI_BUS);
  }

  int spiSelect() {
    return values.getInt(SPI_SELECT);
  }

  int spiHz() {
    return values.getInt(SPI_CLOCK);
  }

  int currentChannel() {
    return values.getInt(CURRENT_CHANNEL);
  }

  int currentFullScaleMilliAmps() {
    return values.getInt(CURRENT_FULL_SCALE);
  }

  /** 1 N·cm per A is 10 000 µN·m per A, and a value holds 10^-4 N·cm: so µN·m per A as it is. */
  long torqueMicroNewtonMetresPerAmp() {
    return values.get(TORQUE_PER_AMP);
  }

  int idleMilliAmps() {
    return values.getInt(IDLE_CURRENT);
  }

  int stepsPerTurn() {
    return values.getInt(STEPS_PER_TURN);
  }

  int fullSpeedMilliRpm() {
    return values.getInt(FULL_SPEED);
  }

  long releaseNs() {
    return values.get(RELEASE) * 1_000_000;
  }

  long watchdogNs() {
    return values.get(WATCHDOG) * 1_000_000;
  }
}
