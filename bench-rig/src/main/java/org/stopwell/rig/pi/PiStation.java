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

/** The section {@code pi} of a station file: which pin is wired to what. Checked and immutable. */
public final class PiStation {
  private static final String WIRING = "wiring of docs/build-a-bench.md";

  /** Which computer it is. */
  static final Parameter COMPUTER =
      Parameter.choice(
          "computer",
          List.of("pi5", "pi4"),
          "Raspberry Pi 4 or 5; they differ in the device behind the PWM pins",
          "design choice");

  static final Parameter ENABLE = gpio("enable_gpio", "17", "Enable relay of the motor driver");
  static final Parameter ALIVE =
      gpio("alive_gpio", "27", "Changes with every command; feeds the monostable at the relay");
  static final Parameter DIRECTION = gpio("direction_gpio", "22", "Direction; high is backward");
  static final Parameter BRAKE = gpio("brake_gpio", "23", "Brake; high shorts the motor");
  static final Parameter STOP_LINE =
      gpio("stop_line_gpio", "24", "Emergency-stop contact to ground, closed while all is well");
  static final Parameter RESET =
      gpio("reset_gpio", "25", "Reset button to ground, closed while it is pressed");
  static final Parameter ENCODER_A = gpio("encoder_a_gpio", "5", "Channel A of the motor encoder");
  static final Parameter ENCODER_B = gpio("encoder_b_gpio", "6", "Channel B of the motor encoder");

  static final List<Parameter> GPIOS =
      List.of(ENABLE, ALIVE, DIRECTION, BRAKE, STOP_LINE, RESET, ENCODER_A, ENCODER_B);

  static final Parameter PWM_CHANNEL =
      Parameter.number(
          "pwm_channel", "", 0, "0", "3", "0", "PWM channel of the motor driver", WIRING);

  static final Parameter PWM_FREQUENCY =
      Parameter.number(
          "pwm_hz",
          "Hz",
          0,
          "100",
          "100000",
          "20000",
          "Frequency of the PWM",
          "assumed: above hearing");

  static final Parameter SPI_BUS =
      Parameter.number("spi_bus", "", 0, "0", "1", "0", "SPI bus of the converter", WIRING);

  static final Parameter SPI_SELECT =
      Parameter.number(
          "spi_select", "", 0, "0", "1", "0", "Select line of the converter on its bus", WIRING);

  static final Parameter SPI_CLOCK =
      Parameter.number(
          "spi_hz", "Hz", 0, "10000", "2000000", "1000000", "Clock of the converter", "assumed");

  static final Parameter CURRENT_CHANNEL =
      Parameter.number(
          "current_channel",
          "",
          0,
          "0",
          "7",
          "0",
          "Converter channel of the motor current",
          WIRING);

  static final Parameter CURRENT_FULL_SCALE =
      Parameter.number(
              "current_full_scale_ma",
              "mA",
              0,
              "10",
              "100000",
              "3300",
              "Motor current at the full scale of the converter",
              "assumed: 1 V per A at a reference of 3.3 V")
          .asRequired();

  static final Parameter TORQUE_PER_AMP =
      Parameter.number(
              "torque_per_amp_ncm",
              "N·cm",
              4,
              "0.0001",
              "1000",
              "1",
              "Torque at the file per ampere of motor current, from the calibration",
              "none: to be measured")
          .asRequired();

  static final Parameter IDLE_CURRENT =
      Parameter.number(
          "idle_current_ma",
          "mA",
          0,
          "0",
          "10000",
          "0",
          "Current of the motor turning freely; taken off before it is made a torque",
          "none: to be measured");

  static final Parameter STEPS_PER_TURN =
      Parameter.number(
              "encoder_steps_per_turn",
              "",
              0,
              "4",
              "100000",
              "64",
              "Steps of the encoder, four to a line, in one turn of the file, gear included",
              "none: from the data sheet of the encoder and the gear")
          .asRequired();

  static final Parameter FULL_SPEED =
      Parameter.number(
              "full_speed_rpm",
              "rpm",
              3,
              "10",
              "50000",
              "1000",
              "Speed of the file at full power without load",
              "none: to be measured")
          .asRequired();

  static final Parameter RELEASE =
      Parameter.number(
          "stop_release_ms",
          "ms",
          0,
          "10",
          "5000",
          "100",
          "How long the stop line must be closed without a break before a reset clears it",
          "assumed: longer than contacts bounce");

  static final Parameter WATCHDOG =
      Parameter.number(
          "watchdog_ms",
          "ms",
          0,
          "10",
          "1000",
          "100",
          "Time without a command until the power goes",
          "assumed: as on the boards");

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
    return Parameter.number(
        key, "", 0, "4", "27", defaultNumber, text + "; number of the pin (BCM)", WIRING);
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

  /** Every key with its value, so that a record can tell what was changed since. */
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
