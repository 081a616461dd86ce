package org.stopwell.rig.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;
import org.stopwell.rig.wire.ReadingFields;

/**
 * The default of every fault, and what it does to readings beside those of a sound bench. The
 * defaults are assumed. They are copied here by hand, so that nothing else renews them.
 */
class FaultStrengthTest {
  private static final long MS = 1_000_000;

  private final ControllerOutput command = new ControllerOutput();
  private final ControllerInput sound = new ControllerInput();
  private final ControllerInput faulty = new ControllerInput();
  private final VirtualBench plain = new VirtualBench(MS);
  private FaultyBench bench = new FaultyBench(new VirtualBench(MS), new FaultPlan(1, List.of()));
  private int counted;
  private int open;

  @ParameterizedTest
  @CsvSource({
    "LOST_READINGS, 0.3, 0, 1",
    "HOST_STALL, 200, 0, 60000",
    "BOUNCE, 0.5, 0, 1",
    "SHORT_CIRCUIT, 20, 0, 100",
    "JUMP, 0.7, 0.01, 100",
    "NOISE, 0.4, 0, 5",
    "HUM, 0.3, 0, 0.99",
    "DRIFT, 0.01, -1, 1",
    "ADDED_RESISTANCE, 300, 0, 100000",
    "OVERSPEED, 3, 1.1, 10",
    "SPEED_NOISE, 0.3, 0, 5",
    "LOW_SUPPLY, 2, 0, 100",
    "BAD_TRUTH, 3, 0, 100",
  })
  void theDefaultAndItsLimitsAreTheStatedOnes(
      FaultKind kind, double usual, double least, double most) {
    FaultKind.Strength strength = kind.strength();
    assertEquals(usual, strength.usual());
    assertEquals(least, strength.least());
    assertEquals(most, strength.most());
  }

  @Test
  void noOtherKindHasAStrength() {
    Set<String> with =
        Arrays.stream(FaultKind.values())
            .filter(k -> !k.strength().meaning().isEmpty())
            .map(FaultKind::name)
            .collect(Collectors.toCollection(TreeSet::new));
    assertEquals(
        "[ADDED_RESISTANCE, BAD_TRUTH, BOUNCE, DRIFT, HOST_STALL, HUM, JUMP, LOST_READINGS,"
            + " LOW_SUPPLY, NOISE, OVERSPEED, SHORT_CIRCUIT, SPEED_NOISE]",
        with.toString());
  }

  @Test
  void theDefaultDriftIsOneInAHundredPerSecond() throws Exception {
    mount(FaultKind.DRIFT);
    run(0, 10_000);
    assertEquals(1.1, ratio(top()), 1e-4);
    run(10_001, 20_000);
    assertEquals(1.2, ratio(top()), 1e-4);
    assertEquals(1, ratio(0), 0, "the other frequencies stay");
  }

  @Test
  void theDefaultJumpTakesThreeTenths() throws Exception {
    mount(FaultKind.JUMP);
    run(0, 5_000);
    assertEquals(0.7, ratio(top()), 1e-4);
    assertEquals(1, ratio(0), 0);
  }

  @Test
  void theDefaultResistanceAddsThreeHundredOhm() throws Exception {
    mount(FaultKind.ADDED_RESISTANCE);
    run(0, 5_000);
    for (int i = 0; i <= top(); i++) {
      assertEquals(300_000, faulty.zRealMilliOhms[i] - sound.zRealMilliOhms[i]);
      assertEquals(sound.zImagMilliOhms[i], faulty.zImagMilliOhms[i]);
    }
  }

  @Test
  void theDefaultShortLeavesTwentyOhm() throws Exception {
    mount(FaultKind.SHORT_CIRCUIT);
    run(0, 5_000);
    for (int i = 0; i <= top(); i++) {
      assertEquals(20_000, faulty.zRealMilliOhms[i]);
      assertEquals(0, faulty.zImagMilliOhms[i]);
    }
  }

  @Test
  void theDefaultSupplyHasTwoVoltsLeft() throws Exception {
    mount(FaultKind.LOW_SUPPLY);
    run(0, 100);
    assertEquals(2_000, faulty.supplyMilliVolts);
    assertTrue(sound.supplyMilliVolts > 2_000);
  }

  @Test
  void theDefaultMotorTurnsThreeTimesAsFast() throws Exception {
    mount(FaultKind.OVERSPEED);
    turn();
    run(0, 500);
    assertEquals(3, (double) truth().speedMilliRpm / plain.truth().speedMilliRpm, 0.03);
  }

  @Test
  void theDefaultTruthJumpsByThreeMillimetresToAndFro() throws Exception {
    mount(FaultKind.BAD_TRUTH);
    for (long ms = 0; ms < 10; ms++) {
      run(ms, ms);
      assertEquals(
          ms % 2 == 0 ? 3_000 : 0, truth().remainingMicrons - plain.truth().remainingMicrons);
    }
  }

  @Test
  void theDefaultHumSwingsByThreeTenths() throws Exception {
    mount(FaultKind.HUM);
    double[] ratios = samples(20_000, in -> in.zRealMilliOhms[0]);
    assertEquals(1.3, Arrays.stream(ratios).max().orElseThrow(), 0.005);
    assertEquals(0.7, Arrays.stream(ratios).min().orElseThrow(), 0.005);
  }

  @Test
  void theDefaultNoiseHasADeviationOfFourTenthsInItsLogarithm() throws Exception {
    mount(FaultKind.NOISE);
    double[] ratios = samples(20_000, in -> in.zRealMilliOhms[top()]);
    assertEquals(0.4, deviation(Arrays.stream(ratios).map(Math::log).toArray()), 0.03);
  }

  @Test
  void theDefaultContactIsOpenHalfOfTheSamples() throws Exception {
    mount(FaultKind.BOUNCE);
    samples(20_000, in -> in.zRealMilliOhms[0]);
    assertEquals(0.5, open / (double) counted, 0.05);
  }

  @Test
  void theDefaultLosesThreeReadingsInTen() throws Exception {
    mount(FaultKind.LOST_READINGS);
    int old = 0;
    for (long ms = 0; ms < 5_000; ms++) {
      run(ms, ms);
      old += faulty.linkAgeNs > 0 ? 1 : 0;
    }
    assertEquals(0.3, old / 5_000.0, 0.03);
  }

  @Test
  void theDefaultEncoderHasADeviationOfThreeTenthsOfTheSpeed() throws Exception {
    mount(FaultKind.SPEED_NOISE);
    turn();
    run(0, 500);
    double[] ratios = new double[5_000];
    for (int i = 0; i < ratios.length; i++) {
      run(501 + i, 501 + i);
      ratios[i] = (double) faulty.speedMilliRpm / sound.speedMilliRpm;
    }
    assertEquals(0.3, deviation(ratios), 0.02);
  }

  @Test
  void theDefaultHostStallsForTwoHundredMilliseconds() throws Exception {
    mount(FaultKind.HOST_STALL);
    Pace pace = bench.pace(Pace.lockstep(MS));
    long worstNs = 0;
    for (int i = 0; i < 1_000; i++) {
      long nowNs = pace.next();
      worstNs = Math.max(worstNs, pace.latenessNs());
      bench.exchange(nowNs, command, faulty);
    }
    assertEquals(200 * MS, worstNs);
  }

  private void mount(FaultKind kind) throws Exception {
    Injection one = new Injection(kind, 0, Long.MAX_VALUE, kind.strength().usual());
    bench = new FaultyBench(new VirtualBench(MS), new FaultPlan(1, List.of(one)));
    for (Bench each : List.of(bench, plain)) {
      each.open();
      each.mount(Scene.of(Map.of(), 1));
    }
  }

  private void turn() {
    command.drive = Drive.FORWARD;
    command.speedMilliRpm = 300_000;
    command.torqueLimitMicroNewtonMetres = 6_000;
  }

  private void run(long fromMs, long toMs) throws Exception {
    for (long ms = fromMs; ms <= toMs; ms++) {
      bench.exchange(ms * MS, command, faulty);
      plain.exchange(ms * MS, command, sound);
    }
  }

  private Truth truth() {
    return bench.truth();
  }

  private int top() {
    return sound.frequencyCount - 1;
  }

  /** Resistance of the faulty reading over that of the sound one. */
  private double ratio(int frequency) {
    return (double) faulty.zRealMilliOhms[frequency] / sound.zRealMilliOhms[frequency];
  }

  /** Faulty over sound of each new sample. */
  private double[] samples(long forMs, ToDoubleFunction<ControllerInput> value) throws Exception {
    List<Double> ratios = new ArrayList<>();
    long seen = -1;
    for (long ms = 0; ms < forMs; ms++) {
      run(ms, ms);
      if (faulty.sampleSequence != seen && sound.frequencyCount > 0) {
        seen = faulty.sampleSequence;
        counted++;
        open += faulty.zRealMilliOhms[0] == ReadingFields.OPEN_MILLI_OHMS ? 1 : 0;
        ratios.add(value.applyAsDouble(faulty) / value.applyAsDouble(sound));
      }
    }
    assertTrue(ratios.size() > 500, ratios.size() + " samples");
    return ratios.stream().mapToDouble(Double::doubleValue).toArray();
  }

  private static double deviation(double[] values) {
    double mean = Arrays.stream(values).average().orElseThrow();
    return Math.sqrt(
        Arrays.stream(values).map(v -> (v - mean) * (v - mean)).sum() / (values.length - 1));
  }
}
