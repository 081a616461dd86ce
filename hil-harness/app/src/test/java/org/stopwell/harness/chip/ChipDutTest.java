package org.stopwell.harness.chip;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.CleanupMode;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.external.Acts;
import org.stopwell.harness.external.DeviceRunner;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.device.twin.MakersCurve;
import org.stopwell.rig.device.twin.Twin;
import org.stopwell.rig.device.twin.TwinInside;
import org.stopwell.rig.dut.DutBench;
import org.stopwell.rig.serial.SerialLink;
import org.stopwell.rig.time.Pace;
import org.stopwell.rig.virtual.VirtualBench;

/**
 * The template firmware with an exported controller decides behind the serial port of an emulated
 * chip, and each way in which it fails on purpose is named. Steps are 5 ms, to send fewer bytes.
 */
class ChipDutTest {
  private static final long PERIOD_NS = 5_000_000;

  @TempDir(cleanup = CleanupMode.ALWAYS)
  static Path dir;

  private Plan plan;
  private TrialSpec trial;
  private ControllerSettings settings;
  private ChipImages images;
  private long build;

  @BeforeEach
  void readPlan() throws Exception {
    plan = shortPlan();
    trial = plan.trial(0);
    settings = plan.controller(trial);
    images = new ChipImages(dir);
    build = Firmware.of(settings).buildFingerprint();
  }

  /** A stop within 4 s: a network of resistors and a quick hand. */
  private static Plan shortPlan() throws Exception {
    Path settings = TestPlans.root().resolve("docs/settings/resistance.yaml");
    String text =
        """
        plan: 1
        name: short
        settings: settings.yaml
        stage: length
        seed: 3
        trials: 1
        time_limit_s: 10
        scene:
          canal: {kind: resistors, length_mm: 4, body_ohm: 6500}
          hand: {feed_mm_per_s: 2, passive_mm: 2.5}
        """;
    return Plan.read(
        new Source("short.yaml", text), new Source("settings.yaml", Source.of(settings).text()));
  }

  @ParameterizedTest
  @EnumSource
  void theChipStopsAsTheCoreDoes(Chip chip) throws Exception {
    TraceRecorder alone = new TraceRecorder();
    TrialResult wanted = run(new VirtualBench(PERIOD_NS), settings, alone, Onlooker.NOBODY);
    assertEquals("AT_STANDOFF", wanted.code(), wanted.message());
    TraceRecorder trace = new TraceRecorder();
    try (EmulatedChip board = new EmulatedChip(chip, images.program(chip, settings))) {
      assertEquals(wanted, run(bench(board), settings, trace, Onlooker.NOBODY));
    }
    assertArrayEquals(alone.bytes(), trace.bytes());
  }

  /** The harness sees rotation and depth alone; what the core says is known to the test. */
  @ParameterizedTest
  @EnumSource
  void theStopOfTheChipIsRecoveredFromRotationAndDepth(Chip chip) throws Exception {
    Plan watched = TestPlans.device(1);
    ControllerSettings held = watched.written(watched.trial(0));
    VirtualBench beside = new VirtualBench(PERIOD_NS);
    CoreTwin core = new CoreTwin(held);
    beside.stand().hold(core);
    beside.open();
    watch(beside, watched);
    TwinInside wanted = beside.stand().inside();
    assertEquals(core.stoppedNs, wanted.actedNs);
    VirtualBench played = new VirtualBench(PERIOD_NS);
    long heldBuild = Firmware.of(held).buildFingerprint();
    try (EmulatedChip board = new EmulatedChip(chip, images.program(chip, held));
        DutBench bench =
            new DutBench(
                played, List.of(new SerialLink(board.port(), SerialLink.BAUD)), any -> heldBuild)) {
      bench.open();
      bench.decider().orElseThrow().beginAlone(held, watched.trial(0).stage());
      Acts acts = watch(bench, watched);
      TwinInside inside = played.stand().inside();
      assertEquals(wanted.actedNs, inside.actedNs, "the chip acts when the core does");
      assertEquals(wanted.actMicrons, inside.actMicrons);
      String both = acts + ", inside " + inside.actMicrons + " µm at " + inside.actedNs + " ns";
      assertEquals(Optional.empty(), acts.fault(), both);
      assertTrue(acts.acted(), both);
      assertEquals(inside.actMicrons, acts.actMicrons(), 20, both);
      assertEquals(inside.actedNs * 1e-6, acts.actNs() * 1e-6, 2, both);
      assertEquals((inside.stillNs - inside.actedNs) * 1e-6, acts.stillMicros() * 1e-3, 2, both);
      System.out.printf(
          "%s watched: trip %.1f µm off, act %.2f ms off, standstill %.2f ms off%n",
          chip,
          acts.actMicrons() - inside.actMicrons,
          (acts.actNs() - inside.actedNs) * 1e-6,
          acts.stillMicros() * 1e-3 - (inside.stillNs - inside.actedNs) * 1e-6);
    }
  }

  private static Acts watch(Bench bench, Plan watched) throws Exception {
    TrialSpec spec = watched.trial(0);
    return new DeviceRunner(bench, watched.device(spec).orElseThrow().clamped(), false)
        .run(spec, () -> Pace.lockstep(PERIOD_NS), () -> false)
        .orElseThrow()
        .acts();
  }

  /** The core in the place of the board: the same control period, and when it decided to stop. */
  private static final class CoreTwin implements Twin {
    private final ControllerSettings settings;
    private final StopController controller;
    private final ControllerOutput held = new ControllerOutput();
    private long dueNs;
    private long stoppedNs;

    CoreTwin(ControllerSettings settings) {
      this.settings = settings;
      controller = new StopController(settings);
    }

    @Override
    public Map<String, String> frontEnd() {
      Map<String, String> section = new LinkedHashMap<>();
      int[] hertz = settings.sensedHertz();
      for (int i = 0; i < 4; i++) {
        section.put("frequency_" + (i + 1) + "_hz", "" + (i < hertz.length ? hertz[i] : 0));
      }
      return section;
    }

    @Override
    public void learn(MakersCurve curve) {}

    @Override
    public void step(long nowNs, ControllerInput in, ControllerOutput out) {
      if (nowNs >= dueNs) {
        dueNs = nowNs + PERIOD_NS;
        in.stage = Stage.LENGTH;
        boolean turned = held.drive == Drive.FORWARD;
        controller.step(nowNs, in, held);
        stoppedNs = turned && held.drive != Drive.FORWARD ? nowNs : stoppedNs;
      }
      out.copyFrom(held);
    }

    @Override
    public long lagNs() {
      return -1;
    }
  }

  @ParameterizedTest
  @CsvSource({
    "1, DUT_HUNG, its watchdog reset it",
    "2, DUT_RESET, by an unknown cause",
    "3, DUT_LATE, for its step by its own clock; 5000 µs is allowed",
    "4, DUT_DIFFERS, gave another output",
    "5, DUT_DIFFERS, was in another state",
    "6, DUT_SILENT, The board or its line failed",
    "7, DUT_RESET, by a fault of its program"
  })
  void aFailureOfTheChipIsNamed(int trouble, String code, String words) throws Exception {
    Path image = images.troubled(Chip.M7, settings, trouble);
    try (EmulatedChip board = new EmulatedChip(Chip.M7, image)) {
      TrialResult result = run(bench(board), settings, new TraceRecorder(), Onlooker.NOBODY);
      assertEquals(code, result.code(), result.message());
      assertTrue(result.message().contains(words), result.message());
      assertEquals(code.equals("DUT_SILENT") ? Verdict.UNDECIDED : Verdict.FAIL, result.verdict());
      assertEquals(39, result.steps());
    }
  }

  @Test
  void aCutLineIsAFaultOfTheRig() throws Exception {
    try (EmulatedChip board = new EmulatedChip(Chip.M7, images.program(Chip.M7, settings))) {
      Onlooker cuts =
          new Onlooker() {
            private int steps;

            @Override
            public void begin(TrialSpec spec) {}

            @Override
            public void step(
                long nowNs, ControllerInput in, ControllerOutput out, Truth truth, long lateNs) {
              if (++steps == 40) {
                board.cut();
              }
            }

            @Override
            public void end() {}
          };
      TrialResult result = run(bench(board), settings, new TraceRecorder(), cuts);
      assertEquals(Verdict.RIG_FAULT, result.verdict(), result.message());
      assertEquals("PORT_GONE", result.code(), result.message());
    }
  }

  @Test
  void aChipWithOtherSettingsTakesNoStep() throws Exception {
    ControllerSettings others = plan.settings().with("guard: {step_gap_ms: 49}").controller();
    try (EmulatedChip board = new EmulatedChip(Chip.M7, images.program(Chip.M7, others))) {
      TrialResult result = run(bench(board), settings, new TraceRecorder(), Onlooker.NOBODY);
      assertEquals(Verdict.RIG_FAULT, result.verdict(), result.message());
      assertEquals("DUT_OTHER", result.code());
      assertEquals(0, result.steps());
    }
  }

  /** The chip itself refuses, whatever the program at the other end compares. */
  @Test
  void theChipStepsOnlyAfterItsOwnFingerprintsWereNamed() throws Exception {
    long needed = settings.fingerprint();
    try (EmulatedChip board = new EmulatedChip(Chip.M7, images.program(Chip.M7, settings));
        RawLine line = new RawLine(board.port())) {
      assertEquals(0xC4, line.ask(0x43, 108), "a step before any session");
      assertEquals(0xC1, line.ask(0x41, 2));
      assertEquals(0xC4, line.ask(0x43, 108), "a step before BEGIN");
      assertEquals(0xC4, line.ask(0x42, needed + 1, build));
      assertEquals(0xC4, line.ask(0x42, needed, build + 1));
      assertEquals(0xC4, line.ask(0x43, 108), "a step after a refused BEGIN");
      assertEquals(0xC2, line.ask(0x42, needed, build));
      assertEquals(0xC3, line.ask(0x43, 108));
      assertEquals(0xC2, line.ask(0x44, 0));
      assertEquals(0xC4, line.ask(0x43, 108), "a step after OFF");
      assertEquals(0xC4, line.ask(0x43, 107), "a step that is too short");
      assertEquals(0xC4, line.ask(0x55, 0), "an unknown message");
    }
  }

  private Bench bench(EmulatedChip board) {
    return new DutBench(
        new VirtualBench(PERIOD_NS),
        List.of(new SerialLink(board.port(), SerialLink.BAUD)),
        any -> build);
  }

  private TrialResult run(
      Bench bench, ControllerSettings needed, TraceRecorder trace, Onlooker onlooker)
      throws Exception {
    try (bench) {
      bench.open();
      return new TrialRunner(bench, needed)
          .watchedBy(onlooker)
          .run(trial, trace, () -> Pace.lockstep(PERIOD_NS), () -> false)
          .orElseThrow();
    }
  }
}
