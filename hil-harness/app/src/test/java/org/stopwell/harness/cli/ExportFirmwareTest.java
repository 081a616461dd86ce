package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;

/** The controller of a settings file as C99 sources. */
class ExportFirmwareTest {
  private static final Path SETTINGS =
      TestPlans.file("first-stop").resolveSibling("../settings").normalize();

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @TempDir Path dir;

  @Test
  void theSourcesHoldTheFingerprintOfTheSettings() throws Exception {
    Path settings = SETTINGS.resolve("length.yaml");
    Path to = dir.resolve("controller");
    assertEquals(0, export(settings, to), err.toString());
    try (Stream<Path> files = Files.list(to)) {
      assertEquals(
          List.of(
              "Makefile",
              "README.md",
              "run_vectors.c",
              "stopwell.c",
              "stopwell.h",
              "stopwell_memory.c",
              "stopwell_model.h",
              "stopwell_settings.c"),
          files.map(f -> f.getFileName().toString()).sorted().toList());
    }
    long fingerprint = Settings.read(Source.of(settings)).controller().fingerprint();
    String text = String.format("%016x", fingerprint);
    assertTrue(out.toString().contains("settings " + text), out.toString());
    String constants = Files.readString(to.resolve("stopwell_settings.c"));
    assertTrue(constants.contains("UINT64_C(0x" + text + ")"));
    assertTrue(constants.contains("sense.policy: approach"));
    assertTrue(constants.contains("{300, 1500, 7000, 20000}"));
  }

  @Test
  void aDirectoryWithFilesIsLeftAsItIs() throws Exception {
    Files.writeString(dir.resolve("mine.c"), "mine");
    assertEquals(2, export(SETTINGS.resolve("ratio.yaml"), dir));
    assertTrue(err.toString().contains("not empty; name a new directory"), err.toString());
    try (Stream<Path> files = Files.list(dir)) {
      assertEquals(1, files.count());
    }
    Path file = dir.resolve("mine.c");
    assertEquals(2, export(SETTINGS.resolve("ratio.yaml"), file));
    assertTrue(err.toString().contains("mine.c: not a directory"), err.toString());
  }

  @Test
  void settingsThatDoNotHoldAreRefusedAndNothingIsWritten() throws Exception {
    Path settings = dir.resolve("settings.yaml");
    Files.writeString(
        settings,
        "settings: 1\nname: x\nfile: {}\nsense:\n  policy: guess\nstages:\n  length: {}\n");
    Path to = dir.resolve("controller");
    assertEquals(2, export(settings, to));
    assertTrue(err.toString().contains("settings.yaml:5: sense.policy: guess is not one of"));
    assertEquals(2, export(dir.resolve("none.yaml"), to));
    assertTrue(err.toString().contains("none.yaml: no such file"), err.toString());
    assertFalse(Files.exists(to));
  }

  private int export(Path settings, Path to) {
    String[] words = {
      "export", "firmware", "--settings", settings.toString(), "--out", to.toString()
    };
    return Main.run(words, new PrintWriter(out), new PrintWriter(err));
  }
}
