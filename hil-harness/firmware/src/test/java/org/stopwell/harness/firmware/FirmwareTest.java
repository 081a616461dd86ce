package org.stopwell.harness.firmware;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.settings.ControllerSettings;

/** The exported controller lives every golden vector with the state of the Java controller. */
class FirmwareTest {
  private static final Path VECTORS = Path.of("../../controller-core/port-c/vectors.zip");

  @TempDir Path dir;

  @Test
  void everyGoldenVectorLeavesTheSameStateAfterEveryStep() throws Exception {
    Map<Long, Path> programs = new LinkedHashMap<>();
    Map<Long, List<String>> files = new LinkedHashMap<>();
    Map<Long, Path> codes = new LinkedHashMap<>();
    int vectors = 0;
    try (ZipInputStream zip = new ZipInputStream(Files.newInputStream(VECTORS))) {
      ZipEntry entry;
      while ((entry = zip.getNextEntry()) != null) {
        if (entry.getName().startsWith("refuse/")) {
          continue;
        }
        byte[] bytes = zip.readAllBytes();
        long fingerprint = GoldenVector.fingerprint(bytes);
        if (!programs.containsKey(fingerprint)) {
          ControllerSettings settings = GoldenVector.settings(bytes, null);
          assertEquals(fingerprint, settings.fingerprint());
          programs.put(fingerprint, program(Firmware.of(settings), codes));
        }
        Path vector = dir.resolve(entry.getName());
        Files.write(vector, bytes);
        files.computeIfAbsent(fingerprint, f -> new ArrayList<>()).add(vector.toString());
        vectors++;
      }
    }
    int agreeing = 0;
    for (Map.Entry<Long, Path> program : programs.entrySet()) {
      List<String> command = new ArrayList<>(List.of(program.getValue().toString()));
      command.addAll(files.getOrDefault(program.getKey(), List.of()));
      String said = run(dir, command);
      agreeing += (int) said.lines().filter(line -> line.endsWith(" steps agree")).count();
    }
    assertEquals(vectors, agreeing);
  }

  /** Compiles; equal code only once. */
  private Path program(Firmware firmware, Map<Long, Path> codes) throws Exception {
    Path sources = Files.createDirectories(dir.resolve(Integer.toString(codes.size())));
    Path own = Files.createTempDirectory(dir, "settings");
    for (Map.Entry<String, String> file : firmware.files().entrySet()) {
      Files.writeString(own.resolve(file.getKey()), file.getValue());
    }
    Path code = codes.get(firmware.buildFingerprint());
    if (code == null) {
      code = sources.resolve("stopwell.o");
      gcc(own, "-c", "-o", code.toString(), "stopwell.c");
      codes.put(firmware.buildFingerprint(), code);
    }
    gcc(own, "-o", "run", "run_vectors.c", "stopwell_settings.c", code.toString());
    return own.resolve("run");
  }

  private static void gcc(Path at, String... more) throws Exception {
    List<String> command =
        new ArrayList<>(
            List.of(
                "gcc",
                "-std=c99",
                "-O1",
                "-ffp-contract=off",
                "-DSTOPWELL_CHECKED",
                "-DSTOPWELL_TRAP()=__builtin_trap()"));
    command.addAll(List.of(more));
    assertEquals("", run(at, command));
  }

  private static String run(Path at, List<String> command)
      throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command).directory(at.toFile()).redirectErrorStream(true).start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, process.waitFor(), () -> String.join(" ", command) + ": " + said);
    return said.strip();
  }
}
