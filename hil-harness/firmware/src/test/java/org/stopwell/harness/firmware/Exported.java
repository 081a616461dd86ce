package org.stopwell.harness.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.stopwell.core.StopController;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;

/** Exported sources on this computer: written, compiled by the real gcc, run. */
final class Exported {
  /** How a command ended, and what it said. */
  record Outcome(int code, String text) {}

  private final Path dir;
  private final Map<Long, Path> objects = new LinkedHashMap<>();
  private final Map<Long, Path> programs = new LinkedHashMap<>();

  Exported(Path dir) {
    this.dir = dir;
  }

  /** The golden vectors that ship, by name. */
  private static final Map<String, byte[]> VECTORS = readVectors();

  private static final DepthWeights WEIGHTS = readWeights();

  static Map<String, byte[]> vectors() {
    return VECTORS;
  }

  static DepthWeights weights() {
    return WEIGHTS;
  }

  private static Map<String, byte[]> readVectors() {
    Map<String, byte[]> vectors = new LinkedHashMap<>();
    Path file = Path.of("../../controller-core/port-c/vectors.zip");
    try (ZipInputStream zip = new ZipInputStream(Files.newInputStream(file))) {
      ZipEntry entry;
      while ((entry = zip.getNextEntry()) != null) {
        vectors.put(entry.getName(), zip.readAllBytes());
      }
    } catch (IOException e) {
      throw new AssertionError(e);
    }
    return vectors;
  }

  private static DepthWeights readWeights() {
    String name = "/stopwell-weights/shipped.weights";
    try (InputStream file =
        Objects.requireNonNull(StopController.class.getResourceAsStream(name))) {
      return DepthWeightsText.decode(
          "shipped.weights", new String(file.readAllBytes(), StandardCharsets.UTF_8));
    } catch (IOException | WeightsException e) {
      throw new AssertionError(e);
    }
  }

  /** The runner of the settings of a vector; what is equal is compiled once. */
  Path runner(byte[] vector) throws Exception {
    long fingerprint = GoldenVector.fingerprint(vector);
    Path known = programs.get(fingerprint);
    if (known != null) {
      return known;
    }
    var settings = GoldenVector.settings(vector, weights());
    assertEquals(fingerprint, settings.fingerprint());
    Firmware firmware = Firmware.of(settings);
    Path sources = write(firmware, Files.createTempDirectory(dir, "controller"));
    Path object = objects.get(firmware.buildFingerprint());
    if (object == null) {
      gcc(sources, "-c", "stopwell.c");
      object = sources.resolve("stopwell.o");
      objects.put(firmware.buildFingerprint(), object);
    }
    gcc(sources, "-o", "run", "run_vectors.c", "stopwell_settings.c", object.toString());
    programs.put(fingerprint, sources.resolve("run"));
    return sources.resolve("run");
  }

  static Path write(Firmware firmware, Path to) throws IOException {
    Files.createDirectories(to);
    for (Map.Entry<String, String> file : firmware.files().entrySet()) {
      Files.writeString(to.resolve(file.getKey()), file.getValue());
    }
    return to;
  }

  static void gcc(Path at, String... more) throws Exception {
    List<String> command =
        new ArrayList<>(
            List.of(
                "gcc",
                "-std=c99",
                "-O1",
                "-Wall",
                "-Wextra",
                "-pedantic",
                "-ffp-contract=off",
                "-DSTOPWELL_CHECKED",
                "-DSTOPWELL_TRAP()=__builtin_trap()"));
    command.addAll(List.of(more));
    assertEquals(new Outcome(0, ""), start(at, command));
  }

  static Outcome start(Path at, List<String> command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command).directory(at.toFile()).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    return new Outcome(process.waitFor(), said.strip());
  }
}
