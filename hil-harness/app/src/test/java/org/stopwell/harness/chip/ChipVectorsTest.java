package org.stopwell.harness.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayOutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.trace.GoldenVectors;
import org.stopwell.harness.export.VectorFile;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.firmware.GoldenVector;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;
import org.stopwell.rig.weights.ShippedWeights;

/**
 * The exported controller on emulated chips has the output and the state hash of the Java machine
 * after every step: of every golden vector, and of recorded trials of each policy. {@code
 * -Dchip.steps=1000000} records so many steps.
 */
class ChipVectorsTest {
  private static final long PERIOD_NS = 1_000_000;
  private static final String REFUSED = "refuse/locator.swv";

  /**
   * Cycles for each instruction, assumed: a Cortex-M7 runs whole numbers below 1, and division in
   * double precision and misses of its caches cost more.
   */
  private static final double CYCLES = 1.5;

  private static final Pattern LOOP = Pattern.compile("loop of (\\d+) .* counted as (\\d+)");
  private static final Pattern STEPS =
      Pattern.compile("(\\d+) steps equal; instructions: mean (\\d+), worst (\\d+)");

  @TempDir static Path dir;

  private static final Map<Long, Firmware> EXPORTED = new LinkedHashMap<>();

  /** Vectors of one controller, one after the other. */
  private record Life(ControllerSettings settings, ByteArrayOutputStream vectors) {}

  /** What a chip counted. */
  private record Count(long steps, long mean, long worst) {
    double worstMs(double megahertz) {
      return worst * CYCLES / megahertz / 1_000;
    }
  }

  @ParameterizedTest
  @EnumSource
  void everyGoldenVectorLeavesTheSameStateAfterEveryStep(Chip chip) throws Exception {
    Map<Long, Life> lives = new LinkedHashMap<>();
    for (Map.Entry<String, byte[]> vector : VectorFile.shipped().entrySet()) {
      if (!vector.getKey().startsWith("refuse/")) {
        byte[] bytes = vector.getValue();
        add(lives, GoldenVector.settings(bytes, ShippedWeights.get()), bytes);
      }
    }
    long steps = 0;
    for (Life life : lives.values()) {
      steps += run(chip, life).steps();
    }
    assertTrue(steps > 20_000, () -> "only " + lives);
    System.out.println(chip + ": " + steps + " steps of golden vectors");
  }

  @ParameterizedTest
  @EnumSource
  void recordedTrialsOfEveryPolicyLeaveTheSameStateInTime(Chip chip) throws Exception {
    Map<String, Life> all = new LinkedHashMap<>();
    for (Map.Entry<String, Plan> each : plans().entrySet()) {
      all.put(each.getKey(), recorded(each.getValue()));
    }
    all.put("approach, canal known", knownCanal());
    for (Map.Entry<String, Life> each : all.entrySet()) {
      Count count = run(chip, each.getValue());
      System.out.printf(
          Locale.ROOT,
          "%s %s: %d steps, instructions mean %d, worst %d; %.3f ms at 100 MHz, %.3f at 400%n",
          chip,
          each.getKey(),
          count.steps(),
          count.mean(),
          count.worst(),
          count.worstMs(100),
          count.worstMs(400));
      boolean learned = each.getKey().startsWith("approach");
      assertTrue(
          count.worstMs(400) < (chip == Chip.M7 ? 0.5 : 2), () -> each.getKey() + ": " + count);
      assertTrue(learned || count.worstMs(100) < 1, () -> each.getKey() + ": " + count);
    }
  }

  @Test
  void aVectorThatIsWrongByOneMicrometreIsRefusedAndSoIsOneCutShort() throws Exception {
    byte[] wrong = Objects.requireNonNull(VectorFile.shipped().get(REFUSED));
    Life life = life(GoldenVector.settings(wrong, null), wrong);
    assertTrue(refusal(life).contains("vector 0, step 500: output differs"));
    byte[] hash = wrong.clone();
    int stepBytes = 138;
    hash[hash.length - 8 - 900 * stepBytes - 1] ^= 1;
    assertTrue(refusal(life(life.settings(), hash)).contains("step 99: state hash differs"));
    byte[] cut = Arrays.copyOf(wrong, wrong.length / 4);
    assertTrue(refusal(life(life.settings(), cut)).contains("the vectors are cut short"));
  }

  private static String refusal(Life life) {
    AssertionError refused = assertThrows(AssertionError.class, () -> run(Chip.M7, life));
    return String.valueOf(refused.getMessage());
  }

  private static Map<String, Plan> plans() throws Exception {
    Map<String, Plan> plans = new LinkedHashMap<>();
    plans.put("ratio", TestPlans.scale("ratio"));
    plans.put("resistance", Plan.read(Source.of(TestPlans.file("resistor-network"))));
    plans.put("locator", Plan.read(Source.of(TestPlans.file("locator"))));
    plans.put("approach", TestPlans.scale("approach"));
    return plans;
  }

  /** As many trials as give the steps wanted of each policy, at least one. */
  private static Life recorded(Plan plan) throws Exception {
    long wanted = Long.getLong("chip.steps", 0) / plans().size();
    ControllerSettings settings = plan.controller(plan.trial(0));
    Life life = new Life(settings, new ByteArrayOutputStream());
    long steps = 0;
    for (int i = 0; i == 0 || steps < wanted; i++) {
      TrialSpec trial = plan.trial(i % plan.trials());
      if (plan.controller(trial).fingerprint() != settings.fingerprint()) {
        continue;
      }
      TraceRecorder trace = new TraceRecorder();
      try (VirtualBench bench = new VirtualBench(PERIOD_NS)) {
        bench.open();
        steps +=
            new TrialRunner(bench, settings)
                .run(trial, trace, () -> Pace.lockstep(PERIOD_NS), () -> false)
                .orElseThrow()
                .steps();
      }
      life.vectors().writeBytes(VectorFile.of(trace.bytes(), settings));
    }
    return life;
  }

  /**
   * The way down twice: the length stage learns the canal, and a later stage goes by what it has
   * learned. That takes a second network in the same step.
   */
  private static Life knownCanal() throws Exception {
    Plan plan = TestPlans.scale("approach");
    ControllerSettings settings =
        plan.settings()
            .with("stages: {recheck: {speed_rpm: 300, torque_ncm: 0.24, standoff_mm: 0.5}}")
            .controller();
    for (int i = 0; i < plan.trials(); i++) {
      TraceRecorder trace = new TraceRecorder();
      try (VirtualBench bench = new VirtualBench(PERIOD_NS)) {
        bench.open();
        new TrialRunner(bench, settings)
            .run(plan.trial(i), trace, () -> Pace.lockstep(PERIOD_NS), () -> false);
      }
      int steps = new TraceReader(trace.bytes()).steps();
      StopController controller = new StopController(settings);
      GoldenVectors vectors = GoldenVectors.begin(settings, 2 * steps);
      again(controller, trace, Stage.LENGTH, 0, vectors);
      if (controller.learned().isPresent()) {
        again(controller, trace, Stage.RECHECK, steps, vectors);
        Life life = new Life(settings, new ByteArrayOutputStream());
        life.vectors().writeBytes(vectors.close());
        return life;
      }
    }
    throw new AssertionError("no trial has taught its canal");
  }

  private static void again(
      StopController controller, TraceRecorder trace, Stage stage, int after, GoldenVectors to) {
    ControllerOutput out = new ControllerOutput();
    long laterNs = after * PERIOD_NS;
    TraceReader reader = new TraceReader(trace.bytes());
    while (reader.next()) {
      ControllerInput in = reader.in;
      in.stage = stage;
      in.sampleTimeNs += laterNs;
      in.sampleSequence += after;
      controller.step(reader.nowNs + laterNs, in, out);
      to.step(reader.nowNs + laterNs, in, out, controller.stateHash());
    }
  }

  private static void add(Map<Long, Life> lives, ControllerSettings settings, byte[] vector) {
    lives
        .computeIfAbsent(
            settings.fingerprint(), f -> new Life(settings, new ByteArrayOutputStream()))
        .vectors()
        .writeBytes(vector);
  }

  private static Life life(ControllerSettings settings, byte[] vector) {
    Life life = new Life(settings, new ByteArrayOutputStream());
    life.vectors().writeBytes(vector);
    return life;
  }

  /**
   * 64 ns of the emulated clock for each instruction and 40 ns for each tick are 1.6 ticks for each
   * instruction.
   */
  private static Count run(Chip chip, Life life) throws Exception {
    long fingerprint = life.settings().fingerprint();
    Firmware firmware = EXPORTED.get(fingerprint);
    if (firmware == null) {
      firmware = Firmware.of(life.settings());
      EXPORTED.put(fingerprint, firmware);
    }
    assertEquals(fingerprint, firmware.settingsFingerprint());
    Path image = new ChipImages(dir).vectors(chip, firmware);
    Path file = Files.write(dir.resolve("all.swv"), life.vectors().toByteArray());
    String said =
        ChipImages.run(
            List.of(
                "qemu-system-arm",
                "-M",
                chip.machine,
                "-display",
                "none",
                "-monitor",
                "none",
                "-serial",
                "none",
                "-icount",
                "shift=6,sleep=off",
                "-semihosting-config",
                "enable=on,target=native,arg=vectors,arg=" + file + ",arg=16000",
                "-kernel",
                image.toString()));
    Matcher loop = LOOP.matcher(said);
    assertTrue(loop.find(), said);
    long tooMany = Long.parseLong(loop.group(2)) - Long.parseLong(loop.group(1));
    assertTrue(tooMany >= 0 && tooMany <= 400, said);
    Matcher steps = STEPS.matcher(said);
    assertTrue(steps.find(), said);
    return new Count(
        Long.parseLong(steps.group(1)),
        Long.parseLong(steps.group(2)),
        Long.parseLong(steps.group(3)));
  }
}
