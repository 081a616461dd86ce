package org.stopwell.harness.chip;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.trial.TestPlans;

/** Images for the emulated chips, made by the makefile of the template from exported sources. */
final class ChipImages {
  private static final Path ROOT = TestPlans.root();
  private static final Path PARTS = ROOT.resolve("bench-rig/firmware/chip");

  private final Path dir;

  ChipImages(Path dir) {
    this.dir = dir;
  }

  /** The program of the template. */
  Path program(Chip chip, ControllerSettings settings) throws Exception {
    return make("program", chip, Firmware.of(settings), List.of());
  }

  /** The same with a controller that fails on purpose at its 40th step. */
  Path troubled(Chip chip, ControllerSettings settings, int trouble) throws Exception {
    return make(
        "trouble-" + trouble,
        chip,
        Firmware.of(settings),
        List.of(
            "MORE=" + PARTS.resolve("trouble.c"),
            "LINK=-Wl,--wrap=stopwell_step,--defsym=trouble=" + trouble));
  }

  /** Runs golden vectors through the exported controller. */
  Path vectors(Chip chip, Firmware firmware) throws Exception {
    return make("vectors", chip, firmware, List.of("MAIN=" + PARTS.resolve("vectors.c")));
  }

  /** Everything of one build lies in one directory, so that equal code is compiled once. */
  private Path make(String name, Chip chip, Firmware firmware, List<String> more)
      throws IOException, InterruptedException {
    String build = Long.toHexString(firmware.buildFingerprint());
    Path sources = Files.createDirectories(dir.resolve(build));
    for (Map.Entry<String, String> file : firmware.files().entrySet()) {
      Path path = sources.resolve(file.getKey());
      if (!Files.exists(path) || !Files.readString(path).equals(file.getValue())) {
        Files.writeString(path, file.getValue());
      }
    }
    Path out = sources.resolve("out");
    Path image = out.resolve(chip.word() + ".elf");
    Files.deleteIfExists(image);
    List<String> command =
        new ArrayList<>(
            List.of(
                "make",
                "-s",
                "-C",
                ROOT.resolve("docs/templates/firmware").toString(),
                "CONTROLLER=" + sources,
                "OUT=" + out));
    command.addAll(more);
    command.add(image.toString());
    run(command);
    String settings = Long.toHexString(firmware.settingsFingerprint());
    Path kept = out.resolve(String.join("-", chip.word(), name, settings));
    return Files.move(image, kept, StandardCopyOption.REPLACE_EXISTING);
  }

  /**
   * Runs a program to its end; what it says, or a failure when it ends with another code than 0.
   */
  static String run(List<String> command) throws IOException, InterruptedException {
    Process process;
    try {
      process = new ProcessBuilder(command).redirectErrorStream(true).start();
    } catch (IOException e) {
      throw new AssertionError("this test needs gcc-arm-none-eabi and qemu-system-arm", e);
    }
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    if (process.waitFor() != 0) {
      throw new AssertionError(String.join(" ", command) + " said:\n" + said);
    }
    return said.strip();
  }
}
