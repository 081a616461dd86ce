package org.stopwell.rig.pi;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class EncoderTest {
  private static final long MS = 1_000_000;

  private final QuadratureDecoder encoder = new QuadratureDecoder(false, false);
  private long nowNs;

  /** Goes to a place on the circle of four, 1 ms after the one before. */
  private void at(int place) {
    nowNs += MS;
    encoder.levels(place == 1 || place == 2, place == 2 || place == 3, nowNs);
  }

  @Test
  void one_line_of_the_disc_is_four_steps_each_way() {
    for (int place : new int[] {1, 2, 3, 0}) {
      at(place);
    }
    assertEquals(4, encoder.newest().steps());
    for (int place : new int[] {3, 2, 1, 0, 3}) {
      at(place);
    }
    assertEquals(-1, encoder.newest().steps());
    assertEquals(0, encoder.lost());
  }

  @Test
  void trembling_on_an_edge_adds_nothing() {
    for (int i = 0; i < 1000; i++) {
      encoder.a(true, i);
      encoder.a(false, i);
    }
    assertEquals(0, encoder.newest().steps());
  }

  @Test
  void a_lost_step_is_counted_as_lost_and_not_guessed() {
    at(2);
    assertEquals(0, encoder.newest().steps());
    assertEquals(1, encoder.lost());
  }

  /** 64 steps to a turn, one each ms: 60 000 / 64 rpm = 937.5 rpm. */
  @Test
  void few_steps_to_a_turn_still_give_a_fine_speed() {
    SpeedMeter meter = new SpeedMeter(64);
    int speed = 0;
    for (int i = 1; i < 100; i++) {
      at(i % 4);
      speed = meter.look(encoder.newest(), nowNs);
    }
    assertEquals(937_500, speed);
  }

  @Test
  void a_shaft_that_stops_is_slower_with_every_look_and_then_stands() {
    SpeedMeter meter = new SpeedMeter(64);
    for (int i = 1; i < 100; i++) {
      at(i % 4);
      meter.look(encoder.newest(), nowNs);
    }
    assertEquals(93_750, meter.look(encoder.newest(), nowNs + 10 * MS), "one step in 10 ms");
    assertEquals(0, meter.look(encoder.newest(), nowNs + 101 * MS));
  }

  @Test
  void backwards_is_negative() {
    SpeedMeter meter = new SpeedMeter(64);
    int speed = 0;
    for (int i = 100; i > 0; i--) {
      at(i % 4);
      speed = meter.look(encoder.newest(), nowNs);
    }
    assertEquals(-937_500, speed);
  }
}
