package org.stopwell.rig.physics.motor;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

class DcMotorTest {
  /** Torque per twist of a file of 0.5 mm over a centimetre, N·m/rad. */
  private static final double STIFF = 5e-3;

  /** University of Michigan control tutorials, "DC Motor Speed". */
  private static final MotorConstants SPEED_EXAMPLE = new MotorConstants(0.01, 0.1, 0.01, 1, 0.5);

  /** University of Michigan control tutorials, "DC Motor Position": stiff. */
  private static final MotorConstants POSITION_EXAMPLE =
      new MotorConstants(3.2284e-6, 3.5077e-6, 0.0274, 4, 2.75e-6);

  /** Inertia and friction of the coast-down example; the electric part plays no role. */
  private static final MotorConstants COASTING = new MotorConstants(1e-7, 1e-7, 0.01, 1, 1e-6);

  @Test
  void the_textbook_motor_steps_as_published() {
    assertEquals(0.006855537, speedAt(0.1), 1e-9);
    assertEquals(0.026233641, speedAt(0.25), 1e-9);
    assertEquals(0.054170100, speedAt(0.5), 1e-9);
    assertEquals(0.083037111, speedAt(1), 1e-9);
    assertEquals(0.097623489, speedAt(2), 1e-9);
    assertEquals(0.099592764, speedAt(3), 1e-9);
    assertEquals(0.0999000999, speedAt(30), 1e-10);
    assertEquals(0.98 * 0.0999000999, speedAt(2.0651886), 1e-8);
  }

  private static double speedAt(double seconds) {
    DcMotor motor = new DcMotor(SPEED_EXAMPLE);
    motor.stepVoltage(1, 0, 0, seconds);
    return motor.radPerS();
  }

  @Test
  void many_steps_equal_one_step() {
    DcMotor once = new DcMotor(SPEED_EXAMPLE);
    DcMotor often = new DcMotor(SPEED_EXAMPLE);
    once.stepVoltage(1, 0, 0, 1);
    for (int i = 0; i < 1000; i++) {
      often.stepVoltage(1, 0, 0, 0.001);
    }
    assertEquals(once.radPerS(), often.radPerS(), 1e-13);
    assertEquals(once.amperes(), often.amperes(), 1e-12);
    assertEquals(once.radians(), often.radians(), 1e-12);
  }

  /** Explicit integration at this step diverges: the fast pole is at −1.45 million per second. */
  @Test
  void a_stiff_motor_does_not_diverge_at_one_millisecond() {
    DcMotor motor = new DcMotor(POSITION_EXAMPLE);
    for (int i = 0; i < 1000; i++) {
      motor.stepVoltage(1, 0, 0, 0.001);
    }
    assertEquals(35.8267908, motor.radPerS(), 1e-6);

    DcMotor rising = new DcMotor(POSITION_EXAMPLE);
    rising.stepVoltage(1, 0, 0, 1 / 59.2260385);
    assertEquals(35.8267908 * (1 - Math.exp(-1)), rising.radPerS(), 1e-2);
  }

  /** {@code t = (J/b)ln(1+bω0/T)}, {@code θ = (J/b)[ω0 − (T/b)ln(1+bω0/T)]}. */
  @Test
  void coasting_ends_after_the_published_time_and_angle() {
    assertEquals(18.910047656, coast(COASTING, 1e-5, 0.1).radPerS(), 1e-9);

    assertTrue(coast(COASTING, 1e-5, 0.27319).radPerS() > 0);
    Coasted still = coast(COASTING, 1e-5, 0.2732);
    assertEquals(0, still.radPerS());
    assertEquals(4.096214613, still.radians(), 1e-9);
  }

  @Test
  void coasting_under_dry_friction_alone_is_a_parabola() {
    MotorConstants dry = new MotorConstants(1e-7, 0, 0.01, 1, 1e-6);
    Coasted still = coast(dry, 1e-5, 0.32);
    assertEquals(0, still.radPerS());
    assertEquals(4.934802201, still.radians(), 1e-8);
    assertEquals(0.049348022, coast(dry, 1e-3, 0.004).radians(), 1e-9);
  }

  private record Coasted(double radPerS, double radians) {}

  /** A motor brought to 300 rpm within a second, and then left to itself. */
  private static Coasted coast(MotorConstants constants, double friction, double seconds) {
    DcMotor motor = new DcMotor(constants);
    double wanted = 10 * Math.PI;
    double x = constants.viscousNms() / constants.inertiaKgm2();
    double torque = wanted * constants.inertiaKgm2() * (x == 0 ? 1 : -x / Math.expm1(-x));
    motor.stepCurrent(torque / constants.torqueConstant(), 0, 0, 1);
    assertEquals(wanted, motor.radPerS(), 1e-12);
    double before = motor.radians();
    motor.stepCurrent(0, friction, 0, seconds);
    return new Coasted(motor.radPerS(), motor.radians() - before);
  }

  @Test
  void a_short_across_the_windings_stops_sooner_than_an_open_circuit() {
    GearMotor braked = spunUp();
    GearMotor coasting = spunUp();
    double before = braked.radians();
    int brakeTicks = 0;
    int coastTicks = 0;
    while (braked.radPerS() > 0) {
      braked.brake(0.001);
      brakeTicks++;
    }
    while (coasting.radPerS() > 0) {
      coasting.coast(0.001);
      coastTicks++;
    }
    assertTrue(brakeTicks < 15, "brake " + brakeTicks + " ms");
    assertTrue(coastTicks > 50 && coastTicks < 100, "coast " + coastTicks + " ms");
    assertTrue(braked.radians() - before < 0.2 * (coasting.radians() - before));
  }

  @Test
  void the_driver_reaches_its_speed_and_holds_it_under_load() {
    GearMotor motor = spunUp();
    assertEquals(10 * Math.PI, motor.radPerS(), 1e-3);

    motor.resist(4e-3, 0);
    for (int i = 0; i < 500; i++) {
      motor.turn(10 * Math.PI, 6e-3, 0.001);
    }
    assertEquals(10 * Math.PI, motor.radPerS(), 1e-2);
    assertEquals(4e-3, motor.fileTorque(), 1e-12);
    assertEquals(4e-3, motor.measuredTorque(), 1e-6);
  }

  @Test
  void a_load_above_the_limit_stalls_the_file() {
    GearMotor motor = spunUp();
    motor.resist(20e-3, 0);
    double most = 0;
    for (int i = 0; i < 1_000; i++) {
      motor.turn(10 * Math.PI, 6e-3, 0.001);
      most = Math.max(most, motor.fileTorque());
    }
    assertEquals(0, motor.radPerS());
    assertEquals(6e-3, motor.measuredTorque(), 1e-9, "what the driver believes");
    // the rotor's own swing winds the file up beyond the limit, ½Jω² over the gear, and friction of
    // the gear holds what lies within it
    assertTrue(most > 6e-3, most + " N·m");
    double swing = 0.5 * 6e-8 * Math.pow(100 * Math.PI, 2);
    assertTrue(most < 6e-3 + Math.sqrt(2 * STIFF * swing), most + " N·m");
    double friction = 2.5e-4 * 10 / 0.85;
    assertEquals(6e-3, motor.fileTorque(), 2 * friction);
  }

  @Test
  void a_slow_motor_stalls_at_its_limit() {
    GearMotor motor = new GearMotor(new Supply(12, 0, 0), 0, STIFF);
    motor.resist(20e-3, 0);
    for (int i = 0; i < 3_000; i++) {
      motor.turn(0.5, 6e-3, 0.001);
    }
    assertEquals(0, motor.radPerS());
    assertEquals(6e-3, motor.fileTorque(), 0.2e-3);
  }

  @Test
  void a_wound_file_springs_back_when_the_power_goes() {
    GearMotor motor = spunUp();
    motor.resist(20e-3, 20e-3);
    for (int i = 0; i < 500; i++) {
      motor.turn(10 * Math.PI, 6e-3, 0.001);
    }
    double wound = motor.radians();
    for (int i = 0; i < 500; i++) {
      motor.coast(0.001);
    }
    assertTrue(motor.radians() < wound - 0.2, (wound - motor.radians()) + " rad back");
    assertEquals(0, motor.radPerS());
    double friction = 2.5e-4 * 10 / 0.85;
    assertEquals(0, motor.fileTorque(), 1.01 * friction, "the gear's friction holds the rest");
  }

  @Test
  void a_reversal_passes_through_standstill() {
    GearMotor motor = spunUp();
    for (int i = 0; i < 500; i++) {
      motor.turn(-10 * Math.PI, 6e-3, 0.001);
    }
    assertEquals(-10 * Math.PI, motor.radPerS(), 1e-3);
  }

  private static GearMotor spunUp() {
    GearMotor motor = new GearMotor(new Supply(12, 0, 0), 0, STIFF);
    for (int i = 0; i < 500; i++) {
      motor.turn(10 * Math.PI, 6e-3, 0.001);
    }
    return motor;
  }
}
