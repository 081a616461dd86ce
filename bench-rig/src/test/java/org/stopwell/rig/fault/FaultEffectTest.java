package org.stopwell.rig.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.EnumMap;
import java.util.EnumSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.ForwardingBench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.fault.Injection.Since;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;
import org.stopwell.rig.wire.ReadingFields;

/** What each kind of fault does, beside the same trial without it. */
class FaultEffectTest {
  private static final long MS = 1_000_000;

  /** An outside locator, and a file that reaches the fluid within 2 s. */
  private static final Map<String, Map<String, ?>> LOCATOR =
      Map.of(
          "front_end", Map.of("signal", "distance", "locator_noise_um", 500),
          "fluid", Map.of("level_mm", 15),
          "hand", Map.of("feed_mm_per_s", 1));

  private final VirtualBench plain = new VirtualBench(MS);
  private final Obeying obeying = new Obeying();
  private FaultyBench bench = new FaultyBench(obeying, new FaultPlan(1, List.of()));
  private final ControllerOutput command = new ControllerOutput();
  private final ControllerInput sound = new ControllerInput();
  private final ControllerInput faulty = new ControllerInput();
  private long nowMs;

  @Test
  void whenTheSamplesStopNumberTimeAndValueOfTheLastOneStay() throws Exception {
    mount(Map.of(), FaultKind.SAMPLES_STOP, 1_000);
    run(1_000);
    long number = faulty.sampleSequence;
    long timeNs = faulty.sampleTimeNs;
    int value = faulty.zRealMilliOhms[0];
    turn();
    run(500);
    assertEquals(number, faulty.sampleSequence);
    assertEquals(timeNs, faulty.sampleTimeNs);
    assertEquals(value, faulty.zRealMilliOhms[0]);
    assertEquals(sound.positionKind, faulty.positionKind);
    assertEquals(sound.frequencyHz[1], faulty.frequencyHz[1]);
    assertEquals(sound.speedMilliRpm, faulty.speedMilliRpm, "the other fields live");
    assertTrue(sound.sampleSequence > number);
  }

  @Test
  void aFrozenLocatorShowsItsLastDistance() throws Exception {
    mount(LOCATOR, FaultKind.FROZEN_SIGNAL, 4_000);
    run(4_000);
    assertEquals(PositionKind.DISTANCE, faulty.positionKind, "the file is in the fluid");
    int held = faulty.distanceMicrons;
    for (int i = 0; i < 20; i++) {
      run(100);
      assertEquals(held, faulty.distanceMicrons);
      assertEquals(PositionKind.DISTANCE, faulty.positionKind);
    }
  }

  @Test
  void aBrokenLeadIsAnOpenCircuitAtEveryFrequency() throws Exception {
    mount(Map.of(), FaultKind.OPEN_CIRCUIT, 0);
    run(500);
    for (int i = 0; i < 2; i++) {
      assertEquals(ReadingFields.OPEN_MILLI_OHMS, faulty.zRealMilliOhms[i]);
      assertEquals(0, faulty.zImagMilliOhms[i]);
    }
  }

  @Test
  void aLocatorWithABrokenLeadReportsNoContact() throws Exception {
    mount(LOCATOR, FaultKind.OPEN_CIRCUIT, 0);
    run(4_000);
    assertEquals(PositionKind.DISTANCE, sound.positionKind);
    assertEquals(PositionKind.NO_CONTACT, faulty.positionKind);
    assertEquals(0, faulty.distanceMicrons);
  }

  @ParameterizedTest
  @EnumSource(
      value = FaultKind.class,
      names = {"DEAD_MOTOR", "STOP_PRESSED", "JAM"})
  void aMotorWithoutPowerRests(FaultKind kind) throws Exception {
    mount(Map.of(), kind, 300);
    turn();
    run(300);
    assertEquals(Drive.FORWARD, obeying.drive);
    run(700);
    assertEquals(Drive.OFF, obeying.drive);
    assertEquals(0, bench.truth().speedMilliRpm);
    assertEquals(0, faulty.speedMilliRpm);
    assertTrue(sound.speedMilliRpm > 290_000);
    assertEquals(kind == FaultKind.STOP_PRESSED, faulty.stopLine);
    assertEquals(kind == FaultKind.STOP_PRESSED, bench.truth().stopLine);
    assertEquals(
        kind == FaultKind.JAM ? 6_000 : 0, faulty.torqueMicroNewtonMetres, "a jam is at its limit");
    command.clear();
    run(1);
    assertEquals(0, faulty.torqueMicroNewtonMetres);
  }

  @Test
  void anEncoderThatIsSilentHidesATurningMotor() throws Exception {
    mount(Map.of(), FaultKind.SPEED_LOST, 0);
    turn();
    run(500);
    assertEquals(0, faulty.speedMilliRpm);
    assertEquals(300_000, bench.truth().speedMilliRpm, 3_000);
  }

  @ParameterizedTest
  @CsvSource({"FORWARD, BACKWARD", "BACKWARD, FORWARD", "OFF, OFF", "BRAKE, BRAKE"})
  void swappedLeadsTurnTheOtherWay(Drive ordered, Drive obeyed) throws Exception {
    mount(Map.of(), FaultKind.REVERSED, 0);
    turn();
    command.drive = ordered;
    run(1);
    assertEquals(obeyed, obeying.drive);
    assertEquals(ordered, command.drive, "the order itself stays");
  }

  @Test
  void nonsenseIsWhatNoBenchCanSend() throws Exception {
    mount(Map.of(), FaultKind.NONSENSE, 0);
    run(1);
    assertEquals(Integer.MIN_VALUE, faulty.speedMilliRpm);
    assertEquals(Integer.MAX_VALUE, faulty.frequencyCount);
  }

  @Test
  void aTruthThatStaysIsThatOfTheLastMomentBefore() throws Exception {
    Injection stays = new Injection(FaultKind.BAD_TRUTH, 1_000 * MS, 1_000 * MS, 0);
    mount(Map.of(), stays);
    run(1_000);
    int before = bench.truth().remainingMicrons;
    assertEquals(plain.truth().remainingMicrons, before);
    run(1_000);
    assertEquals(before, bench.truth().remainingMicrons);
    assertTrue(plain.truth().remainingMicrons < before - 100);
    run(1);
    assertEquals(plain.truth().remainingMicrons, bench.truth().remainingMicrons);
  }

  @Test
  void aRefusedMountMountsNothing() {
    BenchException e =
        assertThrows(BenchException.class, () -> mount(Map.of(), FaultKind.MOUNT_REFUSED, 0));
    assertEquals(RigFault.REFUSED, e.fault());
    assertFalse(obeying.mounted);
  }

  @Test
  void aLostLinkLeavesTheBoardWithoutPowerAndSaysWhenItWas() throws Exception {
    mount(Map.of(), FaultKind.WATCHDOG, 1_250);
    run(1_250);
    BenchException e = assertThrows(BenchException.class, () -> run(1));
    assertEquals(RigFault.WATCHDOG, e.fault());
    assertTrue(String.valueOf(e.getMessage()).startsWith("Injected at 1.250 s: "), e.getMessage());
    assertEquals(1, obeying.safeStops);
  }

  @Test
  void aStartFromTheFirstTurnWaitsForIt() throws Exception {
    mount(Map.of(), new Injection(FaultKind.SATURATED, Since.TURN, 50 * MS, 20 * MS, 0));
    Injection fault = new Injection(FaultKind.SATURATED, Since.TURN, 50 * MS, 20 * MS, 0);
    assertEquals(Long.MAX_VALUE, bench.onsetNs(fault), "it has not turned yet");
    run(200);
    assertFalse(faulty.railed);
    turn();
    for (int ms = 0; ms < 100; ms++) {
      run(1);
      assertEquals(ms >= 50 && ms < 70, faulty.railed, ms + " ms after the first turn");
    }
    assertEquals(250 * MS, bench.onsetNs(fault));
    assertEquals(
        50 * MS, bench.onsetNs(new Injection(FaultKind.SATURATED, 50 * MS, 1, 0)), "by the mount");
  }

  @Test
  void onlyAFaultOfTheSignalMakesTheReadingsUseless() {
    for (FaultKind kind : FaultKind.values()) {
      Injection one = new Injection(kind, 0, 1, kind.strength().usual());
      FaultyBench faulted = new FaultyBench(plain, new FaultPlan(1, List.of(one)));
      assertEquals(kind.part() == FaultKind.Part.SIGNAL, faulted.altersReadings(), kind.text());
    }
  }

  @Test
  void theNameOfASoundBenchComesBackOutOfItsLabel() {
    assertEquals("virtual with faults", FaultyBench.labelled(plain.describe()).kind());
    assertEquals("virtual", FaultyBench.soundKind("virtual with faults"));
    assertEquals("virtual", FaultyBench.soundKind("virtual"));
  }

  /** A stall of 200 ms at 10 ms: the step after it is late by as much, and no other one. */
  @Test
  void aStallMovesTheTimeOfEveryLaterStepOnce() {
    Injection stall = new Injection(FaultKind.HOST_STALL, 10 * MS, Long.MAX_VALUE, 200);
    Pace pace = new FaultyBench(plain, new FaultPlan(1, List.of(stall))).pace(Pace.lockstep(MS));
    for (int ms = 0; ms < 30; ms++) {
      assertEquals((ms < 10 ? ms : ms + 200) * MS, pace.next(), ms + " ms");
      assertEquals(ms == 10 ? 200 * MS : 0, pace.latenessNs(), ms + " ms");
    }
  }

  /** Every kind that one trial can show is drawn, with a strength as strong as the suite wants. */
  @Test
  void aRandomPlanDrawsEveryKindWithinItsStrengths() {
    Map<FaultKind, double[]> limits = new EnumMap<>(FaultKind.class);
    limits.put(FaultKind.JUMP, new double[] {0.5, 2});
    limits.put(FaultKind.NOISE, new double[] {0.3, 0.6});
    limits.put(FaultKind.HUM, new double[] {0.2, 0.5});
    limits.put(FaultKind.BOUNCE, new double[] {0.2, 0.8});
    limits.put(FaultKind.LOST_READINGS, new double[] {0.05, 0.4});
    limits.put(FaultKind.OVERSPEED, new double[] {2, 3.5});
    limits.put(FaultKind.SPEED_NOISE, new double[] {0.2, 0.5});
    limits.put(FaultKind.SHORT_CIRCUIT, new double[] {0, 100});
    limits.put(FaultKind.HOST_STALL, new double[] {50, 500});
    limits.put(FaultKind.LOW_SUPPLY, new double[] {0.5, 2.5});
    Set<FaultKind> drawn = EnumSet.noneOf(FaultKind.class);
    boolean late = false;
    for (long seed = 0; seed < 3_000; seed++) {
      Injection one = FaultPlan.random(seed, 5 * MS, 9 * MS).injections().get(0);
      double usual = one.kind().strength().usual();
      double[] allowed = limits.getOrDefault(one.kind(), new double[] {usual, usual});
      assertTrue(one.strength() >= allowed[0] && one.strength() <= allowed[1], one.toString());
      assertTrue(one.kind() != FaultKind.JUMP || Math.abs(one.strength() - 1) >= 0.1);
      assertTrue(one.startNs() >= 5 * MS && one.startNs() < 9 * MS, one.toString());
      assertEquals(Long.MAX_VALUE, one.durationNs());
      late |= one.startNs() > 8 * MS;
      drawn.add(one.kind());
    }
    Set<FaultKind> wanted = EnumSet.allOf(FaultKind.class);
    wanted.removeAll(EnumSet.of(FaultKind.DRIFT, FaultKind.ADDED_RESISTANCE, FaultKind.BAD_TRUTH));
    wanted.removeIf(kind -> kind.name().startsWith("DEVICE_")); // acts on a device, not on a motor
    assertEquals(wanted, drawn);
    assertTrue(late);
  }

  private void mount(Map<String, ? extends Map<String, ?>> scene, FaultKind kind, long fromMs)
      throws Exception {
    mount(scene, new Injection(kind, fromMs * MS, Long.MAX_VALUE, kind.strength().usual()));
  }

  private void mount(Map<String, ? extends Map<String, ?>> scene, Injection fault)
      throws Exception {
    bench = new FaultyBench(obeying, new FaultPlan(1, List.of(fault)));
    bench.open();
    plain.open();
    plain.mount(Scene.of(scene, 1));
    bench.mount(Scene.of(scene, 1));
  }

  private void turn() {
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6_000;
  }

  /** Both benches go on by so many exchanges of 1 ms. */
  private void run(int ms) throws BenchException {
    for (int i = 0; i < ms; i++) {
      bench.exchange(nowMs * MS, command, faulty);
      plain.exchange(nowMs * MS, command, sound);
      nowMs++;
    }
  }

  /** A virtual bench that shows what it was ordered. */
  private static final class Obeying extends ForwardingBench {
    private Drive drive = Drive.OFF;
    private boolean mounted;
    private int safeStops;

    Obeying() {
      super(new VirtualBench(MS));
    }

    @Override
    public void mount(Scene scene) throws BenchException {
      mounted = true;
      super.mount(scene);
    }

    @Override
    public void exchange(long nowNs, ControllerOutput order, ControllerInput reading)
        throws BenchException {
      drive = order.drive;
      super.exchange(nowNs, order, reading);
    }

    @Override
    public void safeStop() {
      safeStops++;
      super.safeStop();
    }
  }
}
