package org.stopwell.rig.pi;

import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;

/**
 * The motor driver: enable relay, direction, brake and PWM, and a pin that changes its level with
 * every command. A retriggerable monostable on that last pin holds the relay, so that the motor
 * loses its power in hardware when the program hangs or is killed.
 *
 * <p>Once {@link #off} has taken the power, it comes back only after a command that does not turn
 * and then one that does: a new demand, not the old one still standing.
 */
final class MotorSide {
  /** Share of the full speed that the loop adds per second and per unit of error (assumed). */
  private static final double INTEGRAL_PER_SECOND = 4;

  /** The most that the loop may add to or take from the share that the speed asks for (assumed). */
  private static final double INTEGRAL_LIMIT = 0.3;

  /** The loop adds only this near to the wanted speed, lest it wind up at a start (assumed). */
  private static final double NEAR = 0.5;

  private final Pins.Output enable;
  private final Pins.Output alive;
  private final Pins.Output direction;
  private final Pins.Output brake;
  private final Pins.Pwm power;
  private final double fullSpeedMilliRpm;
  private Drive drive = Drive.OFF;
  private boolean mustRest = true;
  private boolean ended;
  private boolean beat;
  private double integral;

  MotorSide(Pins pins, PiStation station) {
    enable = pins.output("enable relay", station.enableGpio());
    alive = pins.output("alive", station.aliveGpio());
    direction = pins.output("direction", station.directionGpio());
    brake = pins.output("brake", station.brakeGpio());
    power = pins.pwm("motor power", station.pwmChannel(), station.pwmHz());
    fullSpeedMilliRpm = station.fullSpeedMilliRpm();
  }

  /** Takes the power at once, from any thread. */
  synchronized void off() {
    if (ended) {
      return; // it is off already, and the pins may belong to somebody else by now
    }
    power.set(0);
    enable.set(false);
    brake.set(false);
    drive = Drive.OFF;
    integral = 0;
    mustRest = true;
  }

  /** Takes the power for good: from now on no pin is touched. */
  synchronized void end() {
    off();
    ended = true;
  }

  /** A new trial: the next command may turn. */
  synchronized void ready() {
    off();
    mustRest = false;
  }

  synchronized boolean turns() {
    return drive.turns();
  }

  /**
   * Does what the controller asks.
   *
   * @param command the command
   * @param speedMilliRpm measured speed, milli-rpm
   * @param torqueMicroNewtonMetres measured torque, µN·m; at or above the limit the power is
   *     chopped
   * @param stepNs time since the command before, ns
   */
  synchronized void obey(
      ControllerOutput command, int speedMilliRpm, int torqueMicroNewtonMetres, long stepNs) {
    if (ended) {
      return;
    }
    beat = !beat;
    alive.set(beat);
    if (mustRest) {
      mustRest = command.drive.turns();
      return;
    }
    if (command.drive != drive) {
      power.set(0);
      integral = 0;
      brake.set(command.drive == Drive.BRAKE);
      direction.set(command.drive == Drive.BACKWARD);
      enable.set(command.drive != Drive.OFF);
      drive = command.drive;
    }
    if (drive.turns()) {
      boolean chop = torqueMicroNewtonMetres >= command.torqueLimitMicroNewtonMetres;
      double share = share(command.speedMilliRpm, Math.abs(speedMilliRpm), chop ? 0 : stepNs);
      power.set(chop ? 0 : share);
    }
  }

  private double share(int wantedMilliRpm, int measuredMilliRpm, long stepNs) {
    double wanted = wantedMilliRpm / fullSpeedMilliRpm;
    double error = wanted - measuredMilliRpm / fullSpeedMilliRpm;
    if (Math.abs(error) < NEAR * wanted) {
      integral += INTEGRAL_PER_SECOND * error * stepNs * 1e-9;
      integral = Math.max(-INTEGRAL_LIMIT, Math.min(INTEGRAL_LIMIT, integral));
    }
    return Math.max(0, Math.min(1, wanted + integral));
  }
}
