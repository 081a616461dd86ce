package org.stopwell.rig.pi;

import java.util.function.LongSupplier;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;

/** What is wired to the pins: motor driver, encoder, converter, stop line and reset button. */
final class PiHardware implements AutoCloseable {
  private final Pins pins;
  private final PiStation station;
  private final LongSupplier clock;
  private final MotorSide motor;
  private final Pins.Input stopContact;
  private final Pins.Input resetButton;
  private final StopLine stopLine;
  private final QuadratureDecoder encoder;
  private final SpeedMeter speed;
  private final CurrentSense current;
  private boolean resetHeld;

  PiHardware(Pins pins, PiStation station, LongSupplier clock) {
    this.pins = pins;
    this.station = station;
    this.clock = clock;
    motor = new MotorSide(pins, station);
    stopContact = pins.input("stop line", station.stopLineGpio());
    resetButton = pins.input("reset button", station.resetGpio());
    stopLine = new StopLine(station.releaseNs(), stopContact.high(), clock.getAsLong());
    stopContact.onChange(this::stopLine);
    Pins.Input a = pins.input("encoder A", station.encoderAGpio());
    Pins.Input b = pins.input("encoder B", station.encoderBGpio());
    encoder = new QuadratureDecoder(a.high(), b.high());
    a.onChange(high -> encoder.a(high, clock.getAsLong()));
    b.onChange(high -> encoder.b(high, clock.getAsLong()));
    speed = new SpeedMeter(station.stepsPerTurn());
    current =
        new CurrentSense(
            pins.spi("converter", station.spiBus(), station.spiSelect(), station.spiHz()),
            station.currentChannel(),
            station.currentFullScaleMilliAmps());
  }

  MotorSide motor() {
    return motor;
  }

  QuadratureDecoder encoder() {
    return encoder;
  }

  void ready() {
    speed.restart();
    motor.ready();
  }

  private void stopLine(boolean high) {
    stopLine.sample(high, clock.getAsLong());
    if (stopLine.tripped()) {
      motor.off();
    }
  }

  /** Reads the pins into a reading and obeys a command, unless the stop line forbids it. */
  void exchange(long stepNs, ControllerOutput command, ControllerInput reading) {
    long nowNs = clock.getAsLong();
    // An event may be lost; the level cannot.
    stopLine(stopContact.high());
    boolean pressed = !resetButton.high();
    reading.reset = pressed && !resetHeld && stopLine.reset(nowNs);
    resetHeld = pressed;
    reading.stopLine = stopLine.tripped();
    reading.speedMilliRpm = speed.look(encoder.newest(), nowNs);
    int milliAmps = current.milliAmps();
    long loadMilliAmps = Math.max(0, milliAmps - station.idleMilliAmps());
    reading.currentMilliAmps = milliAmps;
    reading.torqueMicroNewtonMetres =
        (int) (loadMilliAmps * station.torqueMicroNewtonMetresPerAmp() / 1000);
    if (!reading.stopLine) {
      motor.obey(command, reading.speedMilliRpm, reading.torqueMicroNewtonMetres, stepNs);
    }
  }

  @Override
  public void close() {
    motor.end();
    pins.close();
  }
}
