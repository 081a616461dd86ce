package org.stopwell.harness.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.sense.LearnedCanal;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.trace.FrameCodec;
import org.stopwell.core.trace.GoldenVectors;
import org.stopwell.harness.firmware.Exported.Outcome;

/** The exported controller in C, against every golden vector that ships. */
class FirmwareTest {
  private static final String LOCATOR = "locator.swv";
  private static final int STEP_BYTES =
      2 * Long.BYTES + FrameCodec.INPUT_BYTES + FrameCodec.OUTPUT_BYTES;

  @TempDir static Path dir = Path.of("");
  private static Exported exported = new Exported(dir);

  @BeforeAll
  static void compileOnce() {
    exported = new Exported(dir);
  }

  @Test
  void everyGoldenVectorOfEveryPolicyLeavesTheSameStateAfterEveryStep() throws Exception {
    Map<Path, List<String>> files = new LinkedHashMap<>();
    Set<String> policies = new TreeSet<>();
    int vectors = 0;
    for (Map.Entry<String, byte[]> vector : Exported.vectors().entrySet()) {
      if (vector.getKey().startsWith("refuse/")) {
        continue;
      }
      byte[] bytes = vector.getValue();
      Path file = Files.write(dir.resolve(vector.getKey()), bytes);
      Path runner = exported.runner(bytes);
      if (!files.containsKey(runner)) {
        policies.add(GoldenVector.settings(bytes, Exported.weights()).sensingPolicy());
      }
      files.computeIfAbsent(runner, r -> new ArrayList<>()).add(file.toString());
      vectors++;
    }
    assertEquals(Set.of("ratio", "resistance", "locator", "approach"), policies);
    int agreeing = 0;
    for (Map.Entry<Path, List<String>> runner : files.entrySet()) {
      List<String> command = new ArrayList<>(List.of(runner.getKey().toString()));
      command.addAll(runner.getValue());
      Outcome outcome = Exported.start(dir, command);
      assertEquals(0, outcome.code(), outcome.text());
      agreeing += (int) outcome.text().lines().filter(l -> l.endsWith(" steps agree")).count();
    }
    assertEquals(vectors, agreeing);
  }

  @Test
  void oneMicrometreAndOneBitOfTheStateHashAreFound() throws Exception {
    assertEquals(
        "refuse/locator.swv: step 500, byte 71680: the remaining distance differs",
        refused("refuse/locator.swv", vector("refuse/locator.swv")));
    assertEquals(
        "refuse/hash.swv: step 500, byte 71680: the hash of the state differs",
        refused("refuse/hash.swv", vector("refuse/hash.swv")));
  }

  @Test
  void aDamagedACutAndAForeignVectorAreRefusedWithFileAndByte() throws Exception {
    byte[] whole = vector(LOCATOR);
    byte[] damaged = whole.clone();
    damaged[damaged.length / 2] ^= 1;
    assertEquals(
        "damaged.swv: damaged: the checksum does not fit", refused("damaged.swv", damaged));
    byte[] cut = Arrays.copyOf(whole, whole.length - 134);
    assertEquals(
        "cut.swv: cut short at byte 140554; byte 140688 is needed", refused("cut.swv", cut));
    seal(cut);
    assertEquals(
        "sealed.swv: cut short at byte 140554; byte 140688 is needed", refused("sealed.swv", cut));
    for (int length : new int[] {8, 20, 24, 100, 2_600}) {
      String said = refused("head.swv", Arrays.copyOf(whole, length));
      assertTrue(said.startsWith("head.swv: cut short at byte " + length + ";"), said);
    }
    assertEquals("text.swv: not a golden vector", refused("text.swv", new byte[40]));
    byte[] foreign = whole.clone();
    foreign[12] ^= 1;
    seal(foreign);
    String said = refused("foreign.swv", foreign);
    assertTrue(
        said.startsWith("foreign.swv: settings 007f6b1f99507cc4; this controller has"), said);
  }

  /** What the runner of the locator says of a file that it must refuse. */
  private String refused(String name, byte[] bytes) throws Exception {
    Path runner = exported.runner(vector(LOCATOR));
    Path file = dir.resolve(name);
    Files.createDirectories(file.getParent());
    Files.write(file, bytes);
    Outcome outcome = Exported.start(dir, List.of(runner.toString(), name));
    assertEquals(1, outcome.code(), outcome.text());
    return outcome.text();
  }

  private static void seal(byte[] bytes) {
    int at = bytes.length - Long.BYTES;
    ByteBuffer.wrap(bytes)
        .order(ByteOrder.LITTLE_ENDIAN)
        .putLong(at, GoldenVectors.checksum(bytes, at));
  }

  @Test
  void theFingerprintsAreThoseOfSettingsWeightsAndCode() throws Exception {
    byte[] vector = vector("approach.swv");
    ControllerSettings settings = GoldenVector.settings(vector, Exported.weights());
    Firmware firmware = Firmware.of(settings);
    assertEquals(settings.fingerprint(), firmware.settingsFingerprint());
    assertEquals(Exported.weights().fingerprint(), firmware.weightsFingerprint());
    String constants = firmware.files().getOrDefault("stopwell_settings.c", "");
    for (long each :
        new long[] {
          firmware.settingsFingerprint(), firmware.weightsFingerprint(), firmware.buildFingerprint()
        }) {
      assertTrue(constants.contains(String.format("UINT64_C(0x%016x)", each)));
    }
    assertEquals(firmware, Firmware.of(settings), "the same bytes each time");
    Firmware other = Firmware.of(GoldenVector.settings(vector("locator.swv"), null));
    assertTrue(other.buildFingerprint() != firmware.buildFingerprint());
  }

  private static byte[] vector(String name) throws Exception {
    return Exported.vectors().getOrDefault(name, new byte[0]);
  }

  /** A canal that the length stage learned, kept over a power cut, in C and in Java. */
  @Test
  void aLearnedCanalIsKeptOverAPowerCutAsInJava() throws Exception {
    ControllerSettings settings =
        ControllerSettings.of(
            Map.of(
                "file", Map.of("size", 15, "taper", "0.04"),
                "sense", Map.of("policy", "approach"),
                "stages.length", Map.of("torque_ncm", "0.1"),
                "stages.recheck", Map.of("torque_ncm", "0.1")),
            Calibration.NONE,
            PolicyTables.BUILT_IN,
            Exported.weights());
    byte[] vector = vector("approach.swv");
    StopController first = new StopController(settings);
    replay(first, vector, Stage.LENGTH);
    LearnedCanal canal = first.learned().orElseThrow();
    StopController second = new StopController(settings);
    assertTrue(second.recall(canal));
    long recalled = second.stateHash();
    replay(second, vector, Stage.RECHECK);
    Path sources = Exported.write(Firmware.of(settings), dir.resolve("learned"));
    Files.writeString(sources.resolve("learned.c"), LEARNED);
    Files.write(sources.resolve("approach.swv"), vector);
    Exported.gcc(sources, "-o", "learned", "learned.c", "stopwell.c", "stopwell_settings.c");
    assertEquals(
        new Outcome(
            0,
            String.format(
                "before 0 after 1 %016x other weights 0 no number 0 recall 1 %016x end %016x",
                Double.doubleToRawLongBits(canal.numbers()[LearnedCanal.NUMBERS - 1]),
                recalled,
                second.stateHash())),
        Exported.start(sources, List.of("./learned")));
  }

  /** The offset of the first step is where the steps of 138 bytes before the checksum begin. */
  private static final String LEARNED =
      """
      #define main vectors_main
      #include "run_vectors.c"
      #undef main

      static unsigned char bytes[1 << 22];
      static size_t n;

      static void replay(uint8_t stage) {
        size_t at = (n - CHECKSUM_BYTES) % STEP_BYTES;
        while (at < 4 || number(bytes + at - 4, 4) * STEP_BYTES + at + CHECKSUM_BYTES != n) at += STEP_BYTES;
        for (; at < n - CHECKSUM_BYTES; at += STEP_BYTES) {
          stopwell_input in;
          stopwell_output out;
          read_input(bytes + at + 8, &in);
          in.stage = stage;
          stopwell_step(i64(bytes + at), &in, &out);
        }
      }

      int main(void) {
        static stopwell_canal canal, other;
        FILE *f = fopen("approach.swv", "rb");
        uint64_t bits;
        n = fread(bytes, 1, sizeof bytes, f);
        stopwell_init();
        printf("before %d ", stopwell_learned(&canal));
        replay(STOPWELL_STAGE_LENGTH);
        printf("after %d ", stopwell_learned(&canal));
        memcpy(&bits, &canal.numbers[STOPWELL_CANAL_NUMBERS - 1], sizeof bits);
        printf("%016llx ", (unsigned long long)bits);
        stopwell_init();
        other = canal;
        other.weights_fingerprint++;
        printf("other weights %d ", stopwell_recall(&other));
        other = canal;
        other.numbers[3] = 0.0 / (other.numbers[3] - other.numbers[3]);
        printf("no number %d ", stopwell_recall(&other));
        stopwell_init();
        printf("recall %d ", stopwell_recall(&canal));
        printf("%016llx ", (unsigned long long)stopwell_hash());
        replay(STOPWELL_STAGE_RECHECK);
        printf("end %016llx", (unsigned long long)stopwell_hash());
        return 0;
      }
      """;

  private static void replay(StopController controller, byte[] vector, Stage stage) {
    ByteBuffer steps = ByteBuffer.wrap(vector).order(ByteOrder.LITTLE_ENDIAN);
    int at = (vector.length - Long.BYTES) % STEP_BYTES;
    while (at < 4 || (long) steps.getInt(at - 4) * STEP_BYTES + at + Long.BYTES != vector.length) {
      at += STEP_BYTES;
    }
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    for (; at < vector.length - Long.BYTES; at += STEP_BYTES) {
      FrameCodec.get(steps.position(at + Long.BYTES), in);
      in.stage = stage;
      controller.step(steps.getLong(at), in, out);
    }
  }

  @Test
  void aPolicyOfOnesOwnIsRefused() throws Exception {
    Policies policies =
        Policies.BUILT_IN.withStopping(
            "fixed-lead", new ParameterTable(List.of()), (all, own) -> (r, v, coast) -> r - 100);
    Map<String, Map<String, Object>> written =
        Map.of(
            "file", Map.of(),
            "sense", Map.of("policy", "locator", "locator_step_mm", "0.01", "locator_rate_hz", 200),
            "policies", Map.of("stopping", "fixed-lead"),
            "stages.length", Map.of());
    ControllerSettings settings =
        ControllerSettings.of(written, Calibration.NONE, policies.tables());
    FirmwareException e = assertThrows(FirmwareException.class, () -> Firmware.of(settings));
    assertEquals(
        "policies.stopping: fixed-lead is not a built-in policy, and only these become firmware;"
            + " choose one of predict, plain",
        e.getMessage());
  }
}
