package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
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

  /** The settings of a condition, with what the plan puts over the file. */
  @Test
  void theSettingsOfAConditionAreExported() throws Exception {
    Path plan = dir.resolve("plan.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: two
        settings: %s
        stage: length
        seed: 3
        trials: 1
        scene:
          canal: {kind: resistors, length_mm: 4, body_ohm: 6500}
        factors:
          gap:
            usual:
            short:
              settings: {guard: {step_gap_ms: 49}}
        """
            .formatted(SETTINGS.resolve("resistance.yaml").toAbsolutePath()));
    Path to = dir.resolve("board");
    String[] words = {"export", "firmware", "--plan", plan.toString(), "--out", to.toString()};
    assertEquals(2, Main.run(words, new PrintWriter(out), new PrintWriter(err)));
    assertTrue(err.toString().contains("--condition: name one of"), err.toString());
    String[] named = Arrays.copyOf(words, words.length + 2);
    named[words.length] = "--condition";
    named[words.length + 1] = "short";
    assertEquals(0, Main.run(named, new PrintWriter(out), new PrintWriter(err)), err.toString());
    String constants = Files.readString(to.resolve("stopwell_settings.c"));
    assertTrue(constants.contains("guard.step_gap_ms: 49"), constants);
    String[] neither = {"export", "firmware", "--out", dir.resolve("none").toString()};
    assertEquals(2, Main.run(neither, new PrintWriter(out), new PrintWriter(err)));
    assertTrue(err.toString().contains("name --settings FILE, or --plan PLAN"), err.toString());
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
