package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.firmware.FirmwareException;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;

/** Writes the controller of some settings as C99 sources. */
@Command(
    name = "firmware",
    description = {
      "Writes the whole controller of a settings file as C99 sources for a microcontroller:"
          + " interface, code, settings with curve and weights as constants, a Makefile and a check"
          + " against golden vectors.",
      "The code is made from the Java controller and has the same state after every step. It needs"
          + " no operating system, no heap and no C library. Bench and research use only."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell export firmware --settings docs/settings/reference-canal.yaml --out board",
      "  make -C board CROSS=arm-none-eabi- CPU=\"-mcpu=cortex-m4 -mthumb\""
    },
    mixinStandardHelpOptions = true)
final class ExportFirmwareCommand extends StopwellCommand {
  @Option(
      names = "--settings",
      paramLabel = "FILE",
      required = true,
      description = "Settings of the controller. Only built-in policies become firmware.")
  Path settingsFile = Path.of("");

  @Option(
      names = "--out",
      paramLabel = "DIR",
      required = true,
      description = "Output directory, new or empty.")
  Path out = Path.of("");

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    Settings settings = Settings.read(Source.of(settingsFile), extensions().policies());
    Firmware firmware;
    try {
      firmware = Firmware.of(settings.controller());
    } catch (FirmwareException e) {
      throw new UsageException(settingsFile + ": " + e.getMessage());
    }
    refuseFull(out);
    Files.createDirectories(out);
    for (Map.Entry<String, String> file : firmware.files().entrySet()) {
      screen.println(Files.writeString(out.resolve(file.getKey()), file.getValue()));
    }
    screen.printf(
        Locale.ROOT,
        "settings %016x, weights %016x, build %016x%n",
        firmware.settingsFingerprint(),
        firmware.weightsFingerprint(),
        firmware.buildFingerprint());
    screen.println("Next: make -C " + out);
    return 0;
  }

  private static void refuseFull(Path out) throws IOException, UsageException {
    if (Files.exists(out) && !Files.isDirectory(out)) {
      throw new UsageException("--out " + out + ": not a directory; name a new one");
    }
    if (Files.isDirectory(out)) {
      try (Stream<Path> inside = Files.list(out)) {
        if (inside.findAny().isPresent()) {
          throw new UsageException(
              "--out " + out + ": not empty; name a new directory, or remove its files");
        }
      }
    }
  }
}
