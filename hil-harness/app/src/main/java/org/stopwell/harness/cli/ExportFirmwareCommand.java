package org.stopwell.harness.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.firmware.Firmware;
import org.stopwell.harness.firmware.FirmwareException;
import org.stopwell.harness.plan.Plan;
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
      "  stopwell export firmware --plan PLAN --condition NAME --out board",
      "  make -C board CROSS=arm-none-eabi- CPU=\"-mcpu=cortex-m4 -mthumb\""
    },
    mixinStandardHelpOptions = true)
final class ExportFirmwareCommand extends StopwellCommand {
  @Option(
      names = "--settings",
      paramLabel = "FILE",
      description = "Settings of the controller. Only built-in policies become firmware.")
  @Nullable Path settingsFile;

  @Option(
      names = "--plan",
      paramLabel = "PLAN",
      description = "Plan whose settings are exported, in place of --settings.")
  @Nullable Path planFile;

  @Option(
      names = "--condition",
      paramLabel = "NAME",
      description = "With --plan: the condition; not needed where the plan has one.")
  @Nullable String condition;

  @Option(
      names = "--out",
      paramLabel = "DIR",
      required = true,
      description = "Output directory, new or empty.")
  Path out = Path.of("");

  @Override
  public Integer call() throws Exception {
    PrintWriter screen = out();
    if ((settingsFile == null) == (planFile == null) || (condition != null && planFile == null)) {
      throw new UsageException("name --settings FILE, or --plan PLAN with --condition NAME");
    }
    Path from = settingsFile != null ? settingsFile : Objects.requireNonNull(planFile);
    Settings settings =
        settingsFile != null
            ? Settings.read(Source.of(from), extensions().policies())
            : ofCondition(Plan.read(Source.of(from), extensions().policies()));
    Firmware firmware;
    try {
      firmware = Firmware.of(settings.controller());
    } catch (FirmwareException e) {
      throw new UsageException(from + ": " + e.getMessage());
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

  private Settings ofCondition(Plan plan) throws UsageException {
    String name = ConditionOption.of(plan, condition);
    return plan.plannedConditions().stream()
        .filter(each -> each.name().equals(name))
        .findFirst()
        .orElseThrow()
        .settings();
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
