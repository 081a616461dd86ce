package org.stopwell.rig.physics.file;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

/** A file stuck in its own cone. */
class WedgeTest {
  /** Taper 0.06: a slope of 0.03, α = 1.7183°. */
  private static final double SLOPE = 0.03;

  private static Wedge pressed(double newtons, double friction) {
    Wedge wedge = new Wedge(SLOPE, friction);
    wedge.press(newtons, 1e-3, false, 0.2e-3, 0.5e-3);
    return wedge;
  }

  @Test
  void the_torque_is_that_of_a_cone_clutch() {
    double alpha = Math.atan(SLOPE);
    double normal = 10 / (Math.sin(alpha) + 0.3 * Math.cos(alpha));
    double arm = 2.0 / 3 * (Math.pow(0.5, 3) - Math.pow(0.2, 3)) / (0.25 - 0.04) * 1e-3;
    assertEquals(0.3 * normal * arm, pressed(10, 0.3).torque(), 1e-12);
  }

  @Test
  void a_file_that_was_pressed_in_stays_locked_when_the_hand_lets_go() {
    Wedge wedge = pressed(10, 0.3);
    double locked = wedge.torque();
    wedge.release(1e-3, false);
    assertEquals(locked, wedge.torque(), 0);
    wedge.press(1, 1e-3, false, 0.2e-3, 0.5e-3);
    assertEquals(locked, wedge.torque(), 0, "a lighter push does not loosen it");
  }

  @Test
  void turning_it_or_drawing_it_out_sets_it_free() {
    Wedge turned = pressed(10, 0.3);
    turned.release(1e-3, true);
    assertEquals(0, turned.torque());
    Wedge trembling = pressed(10, 0.3);
    trembling.release(1e-3 + 250e-6, false);
    assertTrue(trembling.torque() > 0, "a tremor does not");
    trembling.release(1e-3 + 350e-6, false);
    assertEquals(0, trembling.torque());
  }

  @Test
  void a_cone_steeper_than_its_friction_does_not_lock() {
    Wedge slippery = pressed(10, 0.02);
    assertTrue(slippery.torque() > 0);
    slippery.release(1e-3, false);
    assertEquals(0, slippery.torque());
    assertEquals(0, pressed(10, 0).torque(), "without friction there is no torque at all");
  }

  @Test
  void a_longer_contact_needs_more_torque() {
    Wedge near = new Wedge(SLOPE, 0.3);
    near.press(10, 1e-3, false, 0.2e-3, 0.2e-3);
    assertTrue(pressed(10, 0.3).torque() > near.torque());
  }
}
