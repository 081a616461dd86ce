package org.stopwell.rig.physics.motor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class GearMotorTest {
  private static final double STEP_S = 1e-3;
  private static final Supply SUPPLY = new Supply(6, 0.2, 0.1);

  private static GearMotor stopped() {
    GearMotor motor = new GearMotor(SUPPLY, Math.toRadians(1), 0.01);
    motor.resist(2e-3, 2e-3);
    for (int step = 0; step < 200; step++) {
      motor.turn(30, 5e-3, STEP_S);
    }
    for (int step = 0; step < 2000; step++) {
      motor.coast(STEP_S);
    }
    return motor;
  }

  @Test
  void without_power_it_comes_to_rest_and_stays() {
    GearMotor motor = stopped();
    double there = motor.radians();
    assertEquals(0, motor.radPerS());
    for (int step = 0; step < 100; step++) {
      motor.coast(STEP_S);
    }
    assertEquals(there, motor.radians());
    assertEquals(0, motor.measuredTorque());
  }

  @Test
  void a_resting_motor_turns_again_when_told_and_coasts_out() {
    GearMotor motor = stopped();
    double there = motor.tipRadians();
    motor.turn(30, 5e-3, STEP_S);
    assertTrue(motor.radPerS() > 0);
    motor.coast(STEP_S);
    motor.coast(STEP_S);
    assertTrue(motor.radians() > there);
  }

  @Test
  void a_resting_file_that_the_wall_lets_go_of_unwinds() {
    GearMotor motor = stopped();
    assertTrue(Math.abs(motor.fileTorque()) > 0, "wound " + motor.fileTorque());
    motor.resist(0, 0);
    motor.coast(STEP_S);
    assertEquals(0, motor.fileTorque());
  }
}
