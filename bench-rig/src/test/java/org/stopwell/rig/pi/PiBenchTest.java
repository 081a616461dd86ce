package org.stopwell.rig.pi;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.mockito.ArgumentMatchers.any;
import static org.mockito.ArgumentMatchers.anyLong;
import static org.mockito.Mockito.doAnswer;
import static org.mockito.Mockito.doThrow;
import static org.mockito.Mockito.mock;
import static org.mockito.Mockito.verify;
import static org.mockito.Mockito.when;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** What the pins do in a trial. The canal at the other end of the seam is a mock. */
class PiBenchTest {
  private static final long MS = 1_000_000;

  private final Bench canal = mock(Bench.class);
  private final PiRig rig = new PiRig(canal);
  private final ModelPins pins = rig.pins;
  private final ControllerInput reading = new ControllerInput();
  private long nowNs = -MS;

  @BeforeEach
  void mounted() throws Exception {
    when(canal.truth()).thenReturn(new Truth());
    when(canal.describe()).thenReturn(new BenchDescription("serial", "C-1", "f", false, false, MS));
    rig.open();
    rig.mount(Scene.of(Map.of(), 1));
  }

  @AfterEach
  void closed() {
    rig.close();
  }

  @Test
  void the_record_of_a_bench_holds_every_number_of_its_station_file() {
    String setup = rig.describe().setup();
    assertTrue(setup.startsWith("computer=pi5 enable_gpio=17 alive_gpio=27 "), setup);
    assertTrue(setup.contains(" torque_per_amp_ncm=2 "), setup);
    assertTrue(setup.endsWith(" watchdog_ms=100"), setup);
  }

  private static ControllerOutput command(Drive drive) {
    ControllerOutput command = new ControllerOutput();
    command.drive = drive;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 20_000;
    return command;
  }

  private void run(Drive drive, long ms) throws BenchException {
    for (long i = 0; i < ms; i++) {
      nowNs += MS;
      rig.exchange(nowNs, command(drive), reading);
    }
  }

  private boolean powered() {
    return pins.on("enable relay") || pins.power() > 0;
  }

  @Test
  void every_pin_is_safe_before_the_first_command() {
    assertEquals(
        Map.of("enable relay", false, "alive", false, "direction", false, "brake", false),
        pins.outputs);
    assertEquals(Map.of("motor power", 0.0), pins.shares);
  }

  @Test
  void a_press_of_the_stop_takes_the_power_before_the_next_exchange() throws Exception {
    run(Drive.FORWARD, 200);
    assertTrue(powered());

    pins.put("stop line", true);

    assertFalse(powered());
    run(Drive.FORWARD, 1);
    assertTrue(reading.stopLine);
    assertTrue(rig.truth().stopLine);
    assertFalse(powered());
  }

  /** A cut wire sends no edge to the program; only the level is high from then on. */
  @Test
  void a_cut_wire_takes_the_power_though_its_event_is_lost() throws Exception {
    run(Drive.FORWARD, 200);

    pins.levels.put("stop line", true);
    run(Drive.FORWARD, 1);

    assertTrue(reading.stopLine);
    assertFalse(powered());
  }

  @Test
  void a_contact_that_opens_for_an_instant_is_a_stop() throws Exception {
    run(Drive.FORWARD, 200);

    pins.put("stop line", true);
    pins.put("stop line", false);
    run(Drive.FORWARD, 500);

    assertTrue(reading.stopLine);
    assertFalse(powered());
    assertEquals(0, pins.rpm());
  }

  @Test
  void releasing_never_restarts_and_a_reset_waits_until_the_contact_has_ceased_to_bounce()
      throws Exception {
    run(Drive.FORWARD, 200);
    pins.put("stop line", true);
    run(Drive.FORWARD, 100);
    for (int bounce = 0; bounce < 5; bounce++) {
      pins.put("stop line", false);
      run(Drive.FORWARD, 50);
      pins.put("stop line", true);
    }
    pins.put("stop line", false);
    run(Drive.FORWARD, 50);
    press();
    assertTrue(reading.stopLine, "50 ms after the last bounce is too early");

    run(Drive.FORWARD, 100);
    assertTrue(reading.stopLine, "time alone clears nothing");
    assertFalse(powered());
  }

  private void press() throws BenchException {
    pins.put("reset button", false);
    run(Drive.FORWARD, 1);
    pins.put("reset button", true);
  }

  @Test
  void after_the_reset_it_takes_a_new_demand_to_turn() throws Exception {
    run(Drive.FORWARD, 200);
    pins.put("stop line", true);
    run(Drive.FORWARD, 10);
    pins.put("stop line", false);
    run(Drive.FORWARD, 150);

    press();
    assertTrue(reading.reset);
    assertFalse(reading.stopLine);
    run(Drive.FORWARD, 100);
    assertFalse(powered(), "the old demand still stands, so nothing may turn");

    run(Drive.OFF, 1);
    run(Drive.FORWARD, 1);
    assertTrue(powered());
  }

  @Test
  void a_reset_button_that_is_stuck_resets_nothing() throws Exception {
    pins.put("reset button", false);
    run(Drive.FORWARD, 200);

    pins.put("stop line", true);
    pins.put("stop line", false);
    run(Drive.FORWARD, 300);

    assertTrue(reading.stopLine);
  }

  @Test
  void silence_takes_the_power_after_the_time_of_the_watchdog() throws Exception {
    run(Drive.FORWARD, 200);

    rig.silent(95 * MS);
    assertTrue(powered());
    rig.silent(15 * MS);
    assertFalse(powered());
    nowNs += 110 * MS;
    BenchException e = assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1));
    assertEquals(RigFault.WATCHDOG, e.fault());
  }

  @Test
  void when_the_canal_board_fails_the_motor_is_off_before_the_fault_is_told() throws Exception {
    run(Drive.FORWARD, 200);
    doThrow(new BenchException(RigFault.PORT_GONE, "port gone"))
        .when(canal)
        .exchange(anyLong(), any(), any());

    assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1));

    assertFalse(powered());
  }

  @Test
  void an_exchange_that_the_end_of_the_program_overtakes_finds_the_pins_let_go() throws Exception {
    run(Drive.FORWARD, 100);
    doAnswer(
            overtaken -> {
              rig.close();
              throw new BenchException(RigFault.PORT_GONE, "closed");
            })
        .when(canal)
        .exchange(anyLong(), any(), any());
    assertThrows(BenchException.class, () -> run(Drive.FORWARD, 1));
    assertFalse(powered());
    assertEquals(List.of(), pins.touchedAfterClose);
  }

  @Test
  void torque_comes_from_the_current_above_idle_and_its_limit_chops_the_power() throws Exception {
    pins.converterCode = 1000;
    run(Drive.FORWARD, 200);
    assertEquals(1000, reading.currentMilliAmps);
    assertEquals(18_000, reading.torqueMicroNewtonMetres, "0.9 A × 2 N·cm/A = 1.8 N·cm");
    assertTrue(pins.power() > 0);

    pins.converterCode = 1100;
    run(Drive.FORWARD, 1);
    assertEquals(0, pins.power(), "2.0 N·cm is the limit");
  }

  @Test
  void the_converter_is_asked_for_the_wanted_channel() {
    CurrentSense sense =
        new CurrentSense(
            bytes -> {
              assertEquals("07 40 00", "%02x %02x %02x".formatted(bytes[0], bytes[1], bytes[2]));
              bytes[1] = (byte) 0xFF;
              bytes[2] = (byte) 0xFF;
            },
            5,
            4096);
    assertEquals(4095, sense.milliAmps());
  }

  @Test
  void the_alive_pin_changes_with_every_command_and_only_then() throws Exception {
    run(Drive.OFF, 1);
    boolean level = pins.on("alive");
    run(Drive.OFF, 1);
    assertEquals(!level, pins.on("alive"));
    rig.silent(500 * MS);
    assertEquals(!level, pins.on("alive"));
  }

  @Test
  void closing_leaves_everything_low_and_stops_the_canal_too() throws Exception {
    run(Drive.BACKWARD, 100);
    rig.close();

    assertFalse(powered());
    assertTrue(pins.closed);
    verify(canal).close();
  }
}
