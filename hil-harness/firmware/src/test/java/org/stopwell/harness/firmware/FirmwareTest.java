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
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.trace.GoldenVectors;
import org.stopwell.harness.firmware.Exported.Outcome;

/** The exported controller in C, against every golden vector that ships. */
class FirmwareTest {
  private static final String LOCATOR = "locator.swv";

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
