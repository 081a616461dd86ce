package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.SampleRun;
import picocli.CommandLine;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class EvidenceCommandsTest {
  private final Path directory;
  private String out = "";
  private String err = "";

  EvidenceCommandsTest(@TempDir Path directory) {
    this.directory = directory;
  }

  @Test
  void verifyTellsAWholeRunFromAChangedOne() throws IOException {
    Path run = run("a", 0);
    assertEquals(0, stopwell("verify", run.toString()));
    assertTrue(out.startsWith("PASS: 30 trials and 0 traces are unchanged and sealed"), out);
    byte[] bytes = Files.readAllBytes(run.resolve(RunFile.NAME));
    bytes[bytes.length / 2] ^= 1;
    Files.write(run.resolve(RunFile.NAME), bytes);
    assertEquals(1, stopwell("verify", run.toString()));
    assertTrue(out.startsWith("FAIL: "), out);
    assertEquals(2, stopwell("verify", directory.resolve("none").toString()));
    assertTrue(err.contains("there is no run"), err);
  }

  @Test
  void compareGivesTheShiftAndTheVerdict() throws IOException {
    Path base = run("base", 0);
    Path same = run("same", 0);
    Path moved = run("moved", 80);
    assertEquals(0, stopwell("compare", same.toString(), base.toString()));
    assertTrue(out.contains("Same configuration."), out);
    assertEquals(1, stopwell("compare", moved.toString(), base.toString()));
    assertTrue(out.contains("moved by +0.080 mm"), out);
    assertEquals(
        0, stopwell("compare", moved.toString(), base.toString(), "--margin-mm", "0.1", "--json"));
    JsonNode json = new ObjectMapper().readTree(out);
    assertEquals("PASS", json.get("verdict").asString());
    assertEquals(80, json.get("conditions").get(0).get("shift_um").asDouble());
    assertTrue(json.get("simulated").booleanValue());
    assertEquals(2, stopwell("compare", same.toString(), base.toString(), "--margin-mm", "0"));
  }

  @Test
  void exportWritesATableAndItsDictionary() throws IOException {
    Path run = run("a", 0);
    assertEquals(0, stopwell("export", run.toString(), "--to", "csv"));
    assertEquals(31, Files.readAllLines(run.resolve("trials.csv")).size());
    Path other = directory.resolve("data");
    assertEquals(0, stopwell("export", run.toString(), "--to", "numpy", "--out", other.toString()));
    assertTrue(Files.exists(other.resolve("trials.npy")));
    assertTrue(Files.exists(other.resolve("trials.json")));
    assertEquals(2, stopwell("export", run.toString(), "--to", "parquet"));
    assertTrue(err.contains("CSV, NUMPY"), err);
    assertFalse(Files.exists(run.resolve("trials.parquet")));
    assertEquals(2, stopwell("export", run.toString(), "--to", "stone"));
    assertEquals(2, stopwell("export", "--to", "csv"));
  }

  @Test
  void exportWithoutARunWritesTheVectorsThatShip() throws IOException {
    Path vectors = directory.resolve("vectors");
    assertEquals(0, stopwell("export", "--to", "vectors", "--out", vectors.toString()));
    byte[] first = Files.readAllBytes(vectors.resolve("transitions-01.swv"));
    assertEquals("STOPWELL", new String(first, 0, 8, StandardCharsets.US_ASCII));
    assertTrue(Files.exists(vectors.resolve("refuse/locator.swv")));
  }

  /**
   * The run of this class has no traces, so the one example that needs them is left to
   * VectorFileTest.
   */
  @Test
  void theExamplesOfTheHelpOfExportWork() throws IOException {
    Path run = run("a", 0);
    int places = 0;
    for (String example :
        new CommandLine(new ExportCommand()).getCommandSpec().usageMessage().footer()) {
      // vectors and traces need recorded trials; tests of their own export those
      boolean recorded = example.contains("vectors") || example.contains("--to traces");
      if (!example.isBlank() && !example.startsWith("Examples") && !recorded) {
        List<String> words =
            new ArrayList<>(
                Arrays.stream(example.strip().split(" "))
                    .skip(1)
                    .filter(w -> !w.isEmpty())
                    .toList());
        words.replaceAll(w -> w.startsWith("runs/") ? run.toString() : w);
        words.replaceAll(w -> w.startsWith("docs/") ? "../../" + w : w);
        int out = words.indexOf("--out");
        if (out >= 0) {
          words.set(out + 1, directory.resolve("out" + places++).toString());
        }
        assertEquals(0, stopwell(words.toArray(new String[0])), example);
      }
    }
  }

  @Test
  void sizeSaysHowManyTrialsAClaimNeeds() {
    assertEquals(0, stopwell("size", "--share", "0.95"));
    assertTrue(out.contains("share with 0 misses") && out.contains("59"), out);
    assertEquals(
        0, stopwell("size", "--share", "0.95", "--per-canal", "5", "--icc", "0.3", "--json"));
    assertEquals(59, new ObjectMapper().readTree(out).get("canals without a miss").intValue());
    assertEquals(
        0,
        stopwell(
            "size", "--share=0.95", "--true-share=0.99", "--per-canal=5", "--icc=0.3", "--json"));
    int canals = new ObjectMapper().readTree(out).get("canals with power 0.9").intValue();
    assertTrue(canals > 80 && canals < 140, out);
    assertTrue(out.contains("standard error"), out);
    assertEquals(0, stopwell("size", "--margin-mm", "0.1", "--sd-mm", "0.1"));
    assertTrue(out.contains("13"), out);
  }

  @Test
  void sizePlansEveryMethodOfTheReport() {
    says("tolerance interval within band", "--band-mm", "0.5", "--sd-mm", "0.15");
    says("pairs for limits of agreement", "--limit-mm", "0.05", "--sd-mm", "0.1");
    says("in 5 looks", "--shift-mm", "0.05", "--sd-mm", "0.05", "--looks", "5");
    says("at 0.01 misses: mean trials", "--good", "0.01", "--bad", "0.05", "--cap", "300");
    says("every trial, mean trials", "--share", "0.95", "--true-share", "0.99", "--cap", "400");
    says("share with power 0.9 in 3 looks", "--share=.95", "--true-share=.995", "--looks=3");
    says("trials with power 0.9", "--good", "0.01", "--bad", "0.05");
    says("power of 20 trials", "--margin-mm", "0.1", "--sd-mm", "0.1", "--trials", "20");
  }

  private void says(String words, String... options) {
    List<String> command = new ArrayList<>(List.of("size"));
    command.addAll(List.of(options));
    assertEquals(0, stopwell(command.toArray(new String[0])));
    assertTrue(out.contains(words), out);
  }

  @Test
  void sizeRefusesAClaimThatIsNone() {
    assertEquals(2, stopwell("size"));
    assertTrue(err.contains("a claim is missing"), err);
    assertEquals(2, stopwell("size", "--margin-mm", "0.1"));
    assertEquals(2, stopwell("size", "--share", "NaN"));
    assertEquals(2, stopwell("size", "--share", "95"));
    assertEquals(2, stopwell("size", "--good", "0.05", "--bad", "0.01"));
    assertEquals(2, stopwell("size", "--good", "0.05"));
    assertEquals(2, stopwell("size", "--band-mm", "0.5"));
    assertEquals(2, stopwell("size", "--margin-mm=.1", "--sd-mm=.1", "--looks=5"));
  }

  private Path run(String name, int shiftMicrons) throws IOException {
    Path run = directory.resolve(name);
    try (RunFile file = RunFile.create(run, SampleRun.header(30, 0))) {
      for (int i = 0; i < 30; i++) {
        file.append(SampleRun.stop(i, i * 7 - 100 + shiftMicrons), null);
      }
      file.finish("2026-01-02T03:05:05Z");
    }
    return run;
  }

  private int stopwell(String... args) {
    StringWriter said = new StringWriter();
    StringWriter complained = new StringWriter();
    int code = Main.run(args, new PrintWriter(said), new PrintWriter(complained));
    out = said.toString();
    err = complained.toString();
    return code;
  }
}
