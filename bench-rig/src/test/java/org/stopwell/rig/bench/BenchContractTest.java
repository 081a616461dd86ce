package org.stopwell.rig.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;

/** What every bench must keep. A bench's own test extends this and says how to make one. */
public abstract class BenchContractTest {
  private static final long MS = 1_000_000;

  /** The motor must be without power after this silence, and then come to rest, ns. */
  private static final long SILENCE_NS = 1_000 * MS;

  final ControllerInput reading = new ControllerInput();
  final ControllerOutput off = new ControllerOutput();
  final ControllerOutput forward = new ControllerOutput();
  Bench bench = newBench();
  private long nowNs;

  /** A bench that has not been opened. */
  protected abstract Bench newBench();

  /** A scene that this bench can make: a file that starts in air and goes into a half-wet canal. */
  protected Scene scene(long seed) throws Exception {
    return Scene.of(Map.of(), seed);
  }

  /** From one exchange to the next, ns. */
  protected long stepNs() {
    return MS;
  }

  @BeforeEach
  void commandForward() {
    forward.drive = Drive.FORWARD;
    forward.speedMilliRpm = 300_000;
    forward.torqueLimitMicroNewtonMetres = 6_000;
  }

  @AfterEach
  void closeBench() {
    bench.close();
  }

  void mounted(long seed) throws Exception {
    bench.open();
    bench.mount(scene(seed));
    nowNs = 0;
    bench.exchange(nowNs, off, reading);
  }

  void run(ControllerOutput command, long forNs) throws Exception {
    for (long endNs = nowNs + forNs; nowNs < endNs; ) {
      nowNs += stepNs();
      bench.exchange(nowNs, command, reading);
    }
  }

  @Test
  void it_says_what_it_is_once_open() throws Exception {
    bench.open();
    BenchDescription description = bench.describe();

    assertFalse(description.kind().isBlank());
    assertFalse(description.firmware().isBlank());
    assertTrue(description.periodNs() > 0);
  }

  @Test
  void the_motor_is_off_after_mounting() throws Exception {
    mounted(1);
    run(off, 100 * MS);

    assertEquals(0, bench.truth().speedMilliRpm);
    assertEquals(0, reading.speedMilliRpm);
  }

  @Test
  void the_motor_turns_at_the_speed_it_is_told() throws Exception {
    mounted(1);
    run(forward, 500 * MS);

    assertEquals(300_000, bench.truth().speedMilliRpm, 3_000);
    assertEquals(300_000, reading.speedMilliRpm, 6_000);
  }

  @Test
  void it_turns_backwards_when_told() throws Exception {
    mounted(1);
    forward.drive = Drive.BACKWARD;
    run(forward, 500 * MS);

    assertEquals(-300_000, bench.truth().speedMilliRpm, 3_000);
  }

  @Test
  void braking_ends_at_standstill() throws Exception {
    mounted(1);
    run(forward, 500 * MS);
    ControllerOutput brake = new ControllerOutput();
    brake.drive = Drive.BRAKE;
    run(brake, 300 * MS);

    assertEquals(0, bench.truth().speedMilliRpm);
  }

  @Test
  void the_motor_stops_by_itself_when_the_host_is_silent() throws Exception {
    mounted(1);
    run(forward, 500 * MS);
    nowNs += SILENCE_NS;
    try {
      bench.exchange(nowNs, forward, reading);
    } catch (BenchException e) {
      // A bench with a watchdog of its own may say so, after it has read.
      assertEquals(BenchException.RigFault.WATCHDOG, e.fault(), e.toString());
    }

    assertEquals(0, bench.truth().speedMilliRpm);
  }

  @Test
  void a_safe_stop_holds_until_the_next_scene() throws Exception {
    mounted(1);
    run(forward, 500 * MS);
    bench.safeStop();
    bench.safeStop();
    run(forward, 500 * MS);
    assertEquals(0, bench.truth().speedMilliRpm);

    bench.mount(scene(2));
    nowNs = 0;
    run(forward, 500 * MS);
    assertEquals(300_000, bench.truth().speedMilliRpm, 3_000);
  }

  @Test
  void a_new_scene_finds_the_motor_off_and_time_at_nought() throws Exception {
    mounted(1);
    run(forward, 500 * MS);
    bench.mount(scene(2));
    bench.exchange(0, off, reading);
    bench.exchange(stepNs(), off, reading);

    assertEquals(0, bench.truth().speedMilliRpm);
    assertEquals(stepNs(), bench.truth().timeNs);
  }

  @Test
  void time_must_ascend() throws Exception {
    mounted(1);
    run(off, 5 * MS);

    assertThrows(BenchException.class, () -> bench.exchange(nowNs, off, reading));
    assertThrows(BenchException.class, () -> bench.exchange(nowNs - MS, off, reading));
  }

  @Test
  void nothing_is_exchanged_without_a_scene() throws Exception {
    bench.open();

    assertThrows(BenchException.class, () -> bench.exchange(0, off, reading));
  }

  @Test
  void nothing_is_mounted_before_opening_or_after_closing() throws Exception {
    Scene scene = scene(1);
    assertThrows(BenchException.class, () -> bench.mount(scene));

    bench.open();
    bench.close();
    assertThrows(BenchException.class, () -> bench.mount(scene));
  }

  @Test
  void stopping_and_closing_never_throw() throws Exception {
    bench.safeStop();
    bench.close();
    bench = newBench();
    mounted(1);
    bench.safeStop();
    bench.close();
    bench.safeStop();
    bench.close();
  }

  @Test
  void samples_are_counted_stamped_and_never_from_the_future() throws Exception {
    mounted(1);
    long sequence = 0;
    long sampleTimeNs = 0;
    for (int i = 0; i < 200; i++) {
      run(off, stepNs());
      assertTrue(reading.sampleTimeNs <= nowNs, "sample at " + reading.sampleTimeNs);
      assertTrue(reading.sampleSequence >= sequence);
      if (reading.sampleSequence == sequence) {
        assertEquals(sampleTimeNs, reading.sampleTimeNs);
      } else {
        assertTrue(reading.sampleTimeNs > sampleTimeNs || sequence == 0);
      }
      sequence = reading.sampleSequence;
      sampleTimeNs = reading.sampleTimeNs;
    }
    assertTrue(sequence > 1, "samples " + sequence);
    assertEquals(PositionKind.IMPEDANCE, reading.positionKind);
  }

  @Test
  void the_file_starts_out_of_the_fluid_and_goes_in() throws Exception {
    mounted(1);
    run(off, 10 * MS);
    int start = bench.truth().remainingMicrons;
    run(off, 1000 * MS);

    assertTrue(start > bench.truth().fluidLevelMicrons);
    assertTrue(bench.truth().remainingMicrons < start);
  }

  @Test
  void the_reading_never_holds_the_true_distance() throws Exception {
    mounted(1);
    run(off, 1000 * MS);

    assertEquals(0, reading.distanceMicrons);
  }

  @Test
  void truth_is_one_reused_frame() throws Exception {
    mounted(1);
    Truth truth = bench.truth();
    run(off, 10 * MS);

    assertNotNull(truth);
    assertTrue(truth == bench.truth());
    assertEquals(nowNs, truth.timeNs);
  }
}
