package org.stopwell.rig.physics.motor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** What a battery and a gear do to a motor. */
class SupplyTest {
  private static final double FULL = 10 * Math.PI;

  /** A file that hardly twists, N·m/rad. */
  private static final double STIFF = 0.2;

  private static GearMotor running(Supply supply, double load) {
    GearMotor motor = new GearMotor(supply, 0, STIFF);
    motor.resist(load, 0);
    for (int i = 0; i < 1_000; i++) {
      motor.turn(2 * FULL, 20e-3, 0.001);
    }
    return motor;
  }

  @Test
  void a_supply_gives_what_the_driver_takes() {
    Supply supply = new Supply(12, 1, 0);
    double volts = supply.sagged(6, 0.4);
    assertEquals(6 * 0.4, volts * (12 - volts) / 1, 1e-12);
    assertEquals(12, supply.sagged(6, 0), 0);
    assertEquals(12, supply.sagged(-6, 0.4), 0, "it does not take power back");
    assertEquals(6, supply.sagged(60, 10), 0, "half of its voltage is the most it can give");
  }

  @Test
  void with_the_switch_always_on_source_driver_and_windings_are_one_loop() {
    Supply supply = new Supply(12, 2, 0);
    double most = supply.most(4, 6);
    assertEquals((12 - 4) / (6.0 + 2), (most - 4) / 6, 1e-12, "amperes");
    assertEquals(most, supply.sagged(most, (most - 4) / 6), 1e-12);
  }

  @Test
  void a_supply_sags_under_load_and_recovers() {
    Supply supply = new Supply(12, 1, 0.3);
    double idle = running(supply, 0).supplyVolts();
    double loaded = running(supply, 15e-3).supplyVolts();
    assertTrue(idle > 11.8, idle + " V idle");
    assertTrue(loaded < idle - 0.1, loaded + " V loaded");
  }

  @Test
  void a_tired_battery_cannot_hold_the_speed_that_a_fresh_one_holds() {
    double fresh = running(new Supply(7.8, 0.2, 0.3), 10e-3).radPerS();
    double tired = running(new Supply(7.8, 8, 0.3), 10e-3).radPerS();
    assertEquals(2 * FULL, fresh, 0.05);
    assertTrue(tired < 0.9 * fresh, tired + " against " + fresh + " rad/s");
    assertTrue(tired > 0);
  }

  @Test
  void the_file_follows_a_reversal_only_after_the_play_of_the_gear() {
    double play = Math.toRadians(2);
    GearMotor motor = new GearMotor(new Supply(12, 0, 0), play, STIFF);
    for (int i = 0; i < 300; i++) {
      motor.turn(FULL, 6e-3, 0.001);
    }
    assertEquals(motor.radians() - play / 2, motor.fileRadians(), 1e-12);
    double furthest = motor.fileRadians();
    while (motor.radians() > furthest - play / 4) {
      motor.turn(-FULL, 6e-3, 0.001);
      furthest = Math.max(furthest, motor.fileRadians());
    }
    assertEquals(furthest, motor.fileRadians(), 0, "the gear crosses its play, the file stands");
    for (int i = 0; i < 300; i++) {
      motor.turn(-FULL, 6e-3, 0.001);
    }
    assertEquals(motor.radians() + play / 2, motor.fileRadians(), 1e-12);
  }

  @Test
  void a_motor_that_crosses_its_play_feels_no_load() {
    GearMotor motor = new GearMotor(new Supply(12, 0, 0), Math.toRadians(20), STIFF);
    motor.resist(5e-3, 5e-3);
    motor.turn(FULL, 6e-3, 0.001);
    assertEquals(0, motor.fileTorque(), 0);
    assertEquals(0, motor.tipTurned(), 0);
    for (int i = 0; i < 500; i++) {
      motor.turn(FULL, 6e-3, 0.001);
    }
    assertEquals(5e-3, motor.fileTorque(), 1e-12);
  }
}
