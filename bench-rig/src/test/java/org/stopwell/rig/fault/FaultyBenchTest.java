package org.stopwell.rig.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.RepeatableBenchContractTest;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.virtual.VirtualBench;

/** Without faults it is the bench behind it; with them, each does what it says and no more. */
class FaultyBenchTest extends RepeatableBenchContractTest {
  private static final long MS = 1_000_000;

  private final ControllerInput sound = new ControllerInput();
  private final ControllerInput faulty = new ControllerInput();
  private final ControllerOutput command = new ControllerOutput();

  @Override
  protected Bench newBench() {
    return new FaultyBench(new VirtualBench(MS), new FaultPlan(1, List.of()));
  }

  @Test
  void a_record_cannot_be_taken_for_that_of_a_sound_bench() {
    assertEquals("virtual with faults", newBench().describe().kind());
  }

  @Test
  void a_fault_begins_and_ends_when_the_plan_says() throws Exception {
    Bench bench = bench(new Injection(FaultKind.SATURATED, 50 * MS, 20 * MS, 0));
    for (long ms = 0; ms < 100; ms++) {
      bench.exchange(ms * MS, command, faulty);
      assertEquals(ms >= 50 && ms < 70, faulty.railed, "at " + ms + " ms");
    }
  }

  @Test
  void a_lost_link_says_which_loss_it_is() throws Exception {
    for (Map.Entry<FaultKind, RigFault> link :
        Map.of(
                FaultKind.PORT_GONE, RigFault.PORT_GONE,
                FaultKind.NO_ANSWER, RigFault.NO_ANSWER,
                FaultKind.SESSION_LOST, RigFault.SESSION_LOST,
                FaultKind.BAD_FRAMES, RigFault.BAD_FRAMES)
            .entrySet()) {
      Bench bench = bench(new Injection(link.getKey(), 5 * MS, Long.MAX_VALUE, 0));
      bench.exchange(4 * MS, command, faulty);
      BenchException e =
          assertThrows(BenchException.class, () -> bench.exchange(5 * MS, command, faulty));
      assertEquals(link.getValue(), e.fault());
    }
  }

  @Test
  void old_readings_stay_as_they_were_and_age() throws Exception {
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6000;
    Bench bench = bench(new Injection(FaultKind.OLD_READINGS, 10 * MS, Long.MAX_VALUE, 0));
    for (long ms = 0; ms < 10; ms++) {
      bench.exchange(ms * MS, command, faulty);
    }
    int speed = faulty.speedMilliRpm;
    bench.exchange(60 * MS, command, faulty);
    assertEquals(speed, faulty.speedMilliRpm);
    assertEquals(51 * MS, faulty.linkAgeNs);
    assertTrue(bench.truth().speedMilliRpm > speed);
  }

  @Test
  void a_frozen_signal_is_counted_and_stamped_on_but_stays() throws Exception {
    Bench frozen = bench(new Injection(FaultKind.FROZEN_SIGNAL, 2000 * MS, Long.MAX_VALUE, 0));
    Bench plain = bench(new Injection(FaultKind.SATURATED, Long.MAX_VALUE, 1, 0));
    for (long ms = 0; ms < 2000; ms++) {
      frozen.exchange(ms * MS, command, faulty);
      plain.exchange(ms * MS, command, sound);
    }
    int held = faulty.zRealMilliOhms[0];
    for (long ms = 2000; ms < 9000; ms++) {
      frozen.exchange(ms * MS, command, faulty);
      plain.exchange(ms * MS, command, sound);
      assertEquals(held, faulty.zRealMilliOhms[0]);
      assertEquals(sound.sampleSequence, faulty.sampleSequence);
      assertEquals(sound.sampleTimeNs, faulty.sampleTimeNs);
    }
    assertNotEquals(held, sound.zRealMilliOhms[0]);
  }

  @Test
  void a_frozen_channel_stays_beside_channels_that_live() throws Exception {
    Bench frozen = bench(new Injection(FaultKind.FROZEN_CHANNEL, 2000 * MS, Long.MAX_VALUE, 0));
    Bench plain = bench(new Injection(FaultKind.SATURATED, Long.MAX_VALUE, 1, 0));
    for (long ms = 0; ms < 2000; ms++) {
      frozen.exchange(ms * MS, command, faulty);
      plain.exchange(ms * MS, command, sound);
    }
    int held = faulty.zRealMilliOhms[1];
    for (long ms = 2000; ms < 9000; ms++) {
      frozen.exchange(ms * MS, command, faulty);
      plain.exchange(ms * MS, command, sound);
      assertEquals(held, faulty.zRealMilliOhms[1]);
      assertEquals(sound.zRealMilliOhms[0], faulty.zRealMilliOhms[0]);
    }
    assertNotEquals(held, sound.zRealMilliOhms[1]);
  }

  @Test
  void swapped_leads_turn_the_motor_that_is_there() throws Exception {
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6000;
    Bench bench = bench(new Injection(FaultKind.REVERSED, 0, Long.MAX_VALUE, 0));
    for (long ms = 0; ms < 500; ms++) {
      bench.exchange(ms * MS, command, faulty);
    }
    assertEquals(-300_000, bench.truth().speedMilliRpm, 3000);
  }

  @Test
  void a_lost_speed_loop_turns_the_motor_faster_than_told() throws Exception {
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6000;
    Bench bench = bench(new Injection(FaultKind.OVERSPEED, 0, Long.MAX_VALUE, 3));
    for (long ms = 0; ms < 500; ms++) {
      bench.exchange(ms * MS, command, faulty);
    }
    assertEquals(900_000, bench.truth().speedMilliRpm, 9000);
    assertEquals(bench.truth().speedMilliRpm, faulty.speedMilliRpm, 9000);
  }

  @Test
  void a_motor_that_runs_on_turns_only_if_it_was_told_to_before() throws Exception {
    Bench bench = bench(new Injection(FaultKind.RUNS_ON, 0, Long.MAX_VALUE, 0));
    bench.exchange(0, command, faulty);
    bench.exchange(100 * MS, command, faulty);
    assertEquals(0, bench.truth().speedMilliRpm);
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6000;
    bench.exchange(200 * MS, command, faulty);
    command.clear();
    bench.exchange(300 * MS, command, faulty);
    assertTrue(bench.truth().speedMilliRpm > 100_000);
  }

  @Test
  void a_pressed_stop_takes_the_power_and_is_seen() throws Exception {
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    Bench bench = bench(new Injection(FaultKind.STOP_PRESSED, 0, Long.MAX_VALUE, 0));
    bench.exchange(50 * MS, command, faulty);
    assertTrue(faulty.stopLine && bench.truth().stopLine);
    assertEquals(0, bench.truth().speedMilliRpm);
  }

  @Test
  void the_same_seed_draws_the_same_faults() {
    for (long seed = 0; seed < 100; seed++) {
      assertEquals(FaultPlan.random(seed, 5 * MS, 9 * MS), FaultPlan.random(seed, 5 * MS, 9 * MS));
      Injection one = FaultPlan.random(seed, 5 * MS, 9 * MS).injections().get(0);
      assertTrue(one.startNs() >= 5 * MS && one.startNs() <= 9 * MS, "seed " + seed);
    }
  }

  @Test
  void an_injection_that_cannot_be_is_refused() {
    assertThrows(IllegalArgumentException.class, () -> new Injection(FaultKind.JUMP, -1, 1, 0.5));
    assertThrows(
        IllegalArgumentException.class, () -> new Injection(FaultKind.JUMP, 0, 1, Double.NaN));
  }

  private static Bench bench(Injection fault) throws Exception {
    FaultyBench bench = new FaultyBench(new VirtualBench(MS), new FaultPlan(1, List.of(fault)));
    bench.open();
    bench.mount(Scene.of(Map.of(), 1));
    return bench;
  }
}
