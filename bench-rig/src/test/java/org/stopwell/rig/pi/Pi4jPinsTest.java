package org.stopwell.rig.pi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.pi4j.io.gpio.digital.DigitalInput;
import com.pi4j.io.gpio.digital.DigitalOutput;
import com.pi4j.io.gpio.digital.DigitalState;
import com.pi4j.io.gpio.digital.PullResistance;
import com.pi4j.io.pwm.Pwm;
import com.pi4j.io.spi.Spi;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalInput;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalInputProvider;
import com.pi4j.plugin.mock.provider.gpio.digital.MockDigitalOutputProvider;
import com.pi4j.plugin.mock.provider.pwm.MockPwmProvider;
import com.pi4j.plugin.mock.provider.spi.MockSpiProvider;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;

/** Our pins on the mock pins that come with the library. */
class Pi4jPinsTest {
  private final Pi4jPins pins =
      Pi4jPins.with(
          MockSpiProvider.newInstance(),
          MockDigitalInputProvider.newInstance(),
          MockDigitalOutputProvider.newInstance(),
          MockPwmProvider.newInstance());

  @AfterEach
  void close() {
    pins.close();
  }

  @Test
  void an_output_is_low_from_the_start_and_low_again_at_the_end() {
    Pins.Output enable = pins.output("enable", 17);
    DigitalOutput pin = pins.io(DigitalOutput.class, "enable");
    assertTrue(pin.isLow());

    enable.set(true);
    assertTrue(pin.isHigh());
    pins.close();
    pins.close();

    assertTrue(pin.isLow());
  }

  @Test
  void power_is_off_from_the_start_and_off_again_at_the_end() {
    Pins.Pwm power = pins.pwm("power", 0, 20_000);
    Pwm pin = pins.io(Pwm.class, "power");
    assertTrue(pin.isOff());

    power.set(0.25);
    assertEquals(25, pin.dutyCycle());
    assertTrue(pin.isOn());
    assertEquals(20_000, pin.frequency());
    pins.close();

    assertTrue(pin.isOff());
  }

  @Test
  void more_than_all_the_power_is_all_of_it_and_none_is_off() {
    Pins.Pwm power = pins.pwm("power", 0, 20_000);
    Pwm pin = pins.io(Pwm.class, "power");

    power.set(1.7);
    assertEquals(100, pin.dutyCycle());
    power.set(0);
    assertTrue(pin.isOff());
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.01, Double.NaN, Double.NEGATIVE_INFINITY})
  void a_share_that_cannot_be_is_refused_rather_than_ignored(double share) {
    Pins.Pwm power = pins.pwm("power", 0, 20_000);
    power.set(0.5);

    assertThrows(IllegalArgumentException.class, () -> power.set(share));
  }

  @Test
  void an_input_is_pulled_up_and_tells_of_its_changes() {
    Pins.Input line = pins.input("line", 24);
    List<Boolean> told = new ArrayList<>();
    line.onChange(told::add);
    MockDigitalInput pin = (MockDigitalInput) pins.io(DigitalInput.class, "line");
    assertEquals(PullResistance.PULL_UP, pin.pull());

    pin.mockState(DigitalState.HIGH);
    assertTrue(line.high());
    pin.mockState(DigitalState.HIGH);
    pin.mockState(DigitalState.LOW);

    assertFalse(line.high());
    assertEquals(List.of(true, false), told);
  }

  /** The library would refuse: for it, channel 0 and select line 0 are one address. */
  @Test
  void a_device_on_the_bus_has_its_bus_select_and_clock() {
    pins.pwm("power", 1, 20_000);
    pins.spi("converter", 0, 1, 1_000_000);
    Spi device = pins.io(Spi.class, "converter");

    assertEquals(0, device.config().bus().getBus());
    assertEquals(1, device.config().address());
    assertEquals(1_000_000, device.config().baud());
  }

  /** Through all our layers and the library's own. */
  @Test
  void a_press_on_the_mock_pin_drops_the_relay() throws Exception {
    PiStation station = PiRig.station();
    PiHardware hardware = new PiHardware(pins, station, () -> 0);
    MockDigitalInput line = (MockDigitalInput) pins.io(DigitalInput.class, "stop line");
    DigitalOutput relay = pins.io(DigitalOutput.class, "enable relay");
    hardware.ready();
    ControllerOutput forward = new ControllerOutput();
    forward.drive = Drive.FORWARD;
    forward.speedMilliRpm = 300_000;
    forward.torqueLimitMicroNewtonMetres = 1_000_000;
    hardware.exchange(0, forward, new ControllerInput());
    assertTrue(relay.isHigh());

    line.mockState(DigitalState.HIGH);

    assertTrue(relay.isLow());
    assertTrue(pins.io(Pwm.class, "motor power").isOff());
  }
}
