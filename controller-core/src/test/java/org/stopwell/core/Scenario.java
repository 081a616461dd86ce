package org.stopwell.core;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.core.trace.Event;
import org.stopwell.core.trace.StateHash;

/**
 * A working day full of accidents, drawn from a seed: a file is led up and down, and every so often
 * something is wrong for a while. What the controller says and what it remembers are folded into
 * two numbers, which {@link GoldenScenariosTest} holds fast.
 */
final class Scenario {
  private static final int STEPS = 40_000;

  final String name;
  final Map<String, Map<String, Object>> settings;
  private final PositionKind kind;
  private final int[] hertz;
  private final Random random;
  final ControllerInput in = new ControllerInput();
  final ControllerOutput out = new ControllerOutput();
  long nowNs;

  private double remaining = 14_000;
  private double feed = 1_500;
  private double goal;
  private boolean withdrawing;
  private double width = 1;
  private double leakOhms = Double.POSITIVE_INFINITY;
  private long feedUntil;
  private long troubleUntil;
  private int trouble = -1;

  private Scenario(
      String name,
      int seed,
      PositionKind kind,
      int[] hertz,
      Map<String, Map<String, Object>> settings) {
    this.name = name;
    this.kind = kind;
    this.hertz = hertz.clone();
    this.settings = settings;
    random = new Random(seed);
  }

  static List<Scenario> all() {
    int[] two = {700, 7_000};
    int[] four = {300, 1_500, 7_000, 20_000};
    PositionKind z = PositionKind.IMPEDANCE;
    List<Scenario> all = new ArrayList<>();
    all.add(new Scenario("ratio, hold", 1, z, two, with(Map.of(), Map.of(), Map.of())));
    all.add(
        new Scenario(
            "ratio, back out, rock, reciprocate",
            2,
            z,
            two,
            with(
                Map.of(),
                Map.of("motor_continuous_ma", 500, "motor_heat_ms", 400, "supply_min_v", 5),
                Map.of("apical", "back-out", "on_torque", "rock", "motion", "reciprocate"))));
    all.add(
        new Scenario(
            "ratio, by load, ease in doubt, spent file",
            3,
            z,
            two,
            with(
                Map.of(),
                Map.of("jump_mm_s", 20),
                Map.of("motion", "by_load", "on_doubtful", "ease", "on_torque", "back-out"))));
    all.add(
        new Scenario(
            "resistance, depth limit",
            4,
            z,
            new int[] {700},
            with(
                Map.of("policy", "resistance"),
                Map.of(),
                Map.of("apical", "none", "on_none", "none", "depth_limit_mm", 15))));
    all.add(
        new Scenario(
            "locator",
            5,
            PositionKind.DISTANCE,
            new int[0],
            with(
                Map.of(
                    "policy",
                    "locator",
                    "locator_step_mm",
                    "0.001",
                    "locator_rate_hz",
                    200,
                    "locator_error_mm",
                    "0.2"),
                Map.of(),
                Map.of("learn_coast", false, "rearm_mm", 2))));
    all.add(
        new Scenario(
            "approach",
            6,
            z,
            four,
            with(
                Map.of("policy", "approach"),
                Map.of(),
                Map.of("on_doubtful", "ease", "tolerance_mm", "0.6", "torque_ncm", "0.1"))));
    all.get(all.size() - 1).settings.put("file", Map.of("size", 15, "taper", "0.02"));
    return all;
  }

  private static Map<String, Map<String, Object>> with(
      Map<String, Object> sense, Map<String, Object> guard, Map<String, Object> length) {
    Map<String, Map<String, Object>> all = new LinkedHashMap<>();
    all.put("file", Map.of("size", 25, "curve_radius_mm", 5, "turns_limit", 400));
    all.put("sense", sense);
    all.put("guard", guard);
    all.put("stages.length", length);
    all.put("stages.shape", length);
    return all;
  }

  /**
   * Runs it and says what came of it: changes of state, hash of the outputs, hash of the states.
   */
  String outcome() throws SettingsException {
    StopController controller =
        new StopController(TestWeights.settings(settings, TestBench.curve()));
    Event event = new Event();
    long said = StateHash.START;
    long known = StateHash.START;
    for (int i = 0; i < STEPS; i++) {
      lead();
      if (i % 10_000 == 9_999) {
        said = StateHash.mix(said, learned(controller));
      }
      controller.step(nowNs, in, out);
      obey();
      said = StateHash.mix(said, out.drive.code() << 8 | out.state.code());
      said = StateHash.mix(said, out.speedMilliRpm);
      said = StateHash.mix(said, out.torqueLimitMicroNewtonMetres);
      said = StateHash.mix(said, out.readingPresent ? out.remainingMicrons : Integer.MIN_VALUE);
      said =
          StateHash.mix(said, out.trust.code() << 16 | out.cause.code() << 8 | out.reason.code());
      said = StateHash.mix(said, (long) controller.standardErrorMicrons());
      said = StateHash.mix(said, out.boundMicrons);
      known = StateHash.mix(known, controller.stateHash());
      known = StateHash.mix(known, controller.mode());
    }
    long changes = controller.events().count();
    for (long i = controller.events().oldest(); i < changes; i++) {
      controller.events().get(i, event);
      said = StateHash.mix(said, event.timeNs ^ event.reason.code());
    }
    said = StateHash.mix(said, controller.monitorStops());
    said = StateHash.mix(said, controller.fileTurns());
    said = StateHash.mix(said, controller.coastNs());
    said = StateHash.mix(said, learned(controller));
    return changes
        + " events, said "
        + Long.toHexString(said)
        + ", known "
        + Long.toHexString(known);
  }

  /** What the canal has taught; it is also given back, as a later sitting would. */
  private static int learned(StopController controller) {
    return controller
        .learned()
        .map(c -> Arrays.hashCode(c.numbers()) + (controller.recall(c) ? 1 : 0))
        .orElse(0);
  }

  /** The motor does what it was told. */
  void obey() {
    in.speedMilliRpm =
        switch (out.drive) {
          case FORWARD -> out.speedMilliRpm;
          case BACKWARD -> -out.speedMilliRpm;
          default -> 0;
        };
  }

  /** The next millisecond: where the file is led, what is measured, and what goes wrong. */
  void lead() {
    nowNs += TestBench.MS;
    if (remaining >= 13_500) {
      goal = GOALS[random.nextInt(GOALS.length)];
      withdrawing = false;
    } else if (remaining <= goal) {
      withdrawing = true;
    }
    if (nowNs >= feedUntil) {
      feed = FEEDS[random.nextInt(FEEDS.length)];
      feedUntil = nowNs + random.nextInt(700) * TestBench.MS;
    }
    if (nowNs >= troubleUntil) {
      mend();
      trouble = random.nextInt(3) == 0 ? random.nextInt(TROUBLES) : -1;
      troubleUntil = nowNs + (5 + random.nextInt(600)) * TestBench.MS;
    }
    remaining = Math.max(-800, Math.min(14_000, remaining - speed() / 1_000));
    in.reset = remaining > 12_500 && remaining <= 13_000;
    in.demand = remaining <= 13_000;
    in.insertionPresent = true;
    in.insertionMicrons = (int) (16_000 - remaining);
    in.currentMilliAmps = 300;
    in.supplyMilliVolts = 6_000;
    in.torqueMicroNewtonMetres = 200;
    if (nowNs % (5 * TestBench.MS) == 0 && trouble != 1) {
      sample();
    }
    disturb();
  }

  /** Quick where nothing happens. */
  private double speed() {
    return withdrawing ? -15_000 : remaining > 4_000 ? 9_000 : feed;
  }

  private static final double[] FEEDS = {4_000, 2_500, 1_500, 800, 0, -2_000};
  private static final double[] GOALS = {-300, 100, 480, 480, 480, 900, 3_000};
  private static final int TROUBLES = 17;

  private void mend() {
    in.stopLine = false;
    in.railed = false;
    in.linkAgeNs = 0;
    leakOhms = Double.POSITIVE_INFINITY;
  }

  /** The trouble of the moment; each number is one kind. */
  private void disturb() {
    switch (trouble) {
      case 0 -> in.railed = true;
      case 2 -> in.torqueMicroNewtonMetres = 6_000;
      case 3 -> in.torqueMicroNewtonMetres = 3_600 + (int) (nowNs / TestBench.MS % 7) * 100;
      case 4 -> in.speedMilliRpm = -in.speedMilliRpm;
      case 5 -> in.speedMilliRpm = 0;
      case 6 -> in.speedMilliRpm = 300_000;
      case 7 -> in.linkAgeNs = 50 * TestBench.MS + nowNs / TestBench.MS % 2;
      case 8 -> in.demand = false;
      case 9 -> leakOhms = 6_000;
      case 10 -> {
        in.stopLine = troubleUntil - nowNs > 300 * TestBench.MS;
        in.reset = !in.stopLine;
      }
      case 11 -> in.reset = true;
      case 12 -> in.currentMilliAmps = 1_500;
      case 13 -> in.supplyMilliVolts = 4_900;
      case 14 -> nowNs += nowNs % 97 == 0 ? 60 * TestBench.MS : 0;
      case 15 -> {
        in.stage = nowNs / TestBench.MS % 2 == 0 ? Stage.SHAPE : Stage.LENGTH;
        width = 1.3;
      }
      case 16 -> remaining -= 20;
      default -> {}
    }
  }

  private void sample() {
    in.sampleSequence++;
    in.sampleTimeNs = nowNs;
    in.positionKind = kind;
    double noise = 1 + 1e-4 * random.nextGaussian();
    in.distanceMicrons = (int) (remaining + 15 * random.nextGaussian());
    in.frequencyCount = hertz.length;
    double mm = remaining / 1_000;
    boolean inside = remaining < 12_000;
    for (int i = 0; i < hertz.length; i++) {
      in.frequencyHz[i] = hertz[i];
      if (hertz.length > 2) {
        likeTheBench(i, noise);
        continue;
      }
      double share = i == 1 ? Math.min(0.95, 0.5 + 0.1 * mm) : 1;
      double re = inside ? (20_000 + 2_000 * mm) * share * width : 5e6;
      double leak = Double.isInfinite(leakOhms) ? 1 : leakOhms / (leakOhms + re);
      in.zRealMilliOhms[i] = (int) Math.min(Integer.MAX_VALUE, re * leak * noise * 1e3);
      in.zImagMilliOhms[i] = 0;
    }
  }

  /** The impedance of a simulated canal, wider or leaking. */
  private void likeTheBench(int frequency, double noise) {
    double re = ApproachCanal.ohms(remaining, 2 * frequency);
    double dry = remaining > 8_000 ? 100 : 1;
    double leak = Double.isInfinite(leakOhms) ? 1 : leakOhms / (leakOhms + re);
    double by = 1e3 * width * noise * dry * leak;
    in.zRealMilliOhms[frequency] = (int) (by * re);
    in.zImagMilliOhms[frequency] =
        (int) (by * leak * ApproachCanal.ohms(remaining, 2 * frequency + 1));
  }
}
