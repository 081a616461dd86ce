package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A directory of traces that carry the truth is scored. */
class ReplayDirectoryTest {
  @TempDir Path dir;
  private Path traces = Path.of("");
  private Path settings = Path.of("");
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @BeforeEach
  void writeFiles() throws IOException {
    traces = dir.resolve("teeth");
    settings = dir.resolve("approach.yaml");
    Files.writeString(
        settings,
        """
        settings: 1
        name: approach
        file: {size: 15, taper: 0.04}
        sense: {policy: approach}
        stages:
          length: {torque_ncm: 0.24, on_doubtful: ease}
          open: {torque_ncm: 0.24, apical: none}
        """);
  }

  private void survey(String... more) {
    List<Object> words = new ArrayList<>(List.of("assess", "--traces", traces));
    words.addAll(List.of("--teeth", "3", "--sample-ms", "50"));
    words.addAll(List.of(more));
    assertEquals(0, stopwell(words.toArray()), err.toString());
    out.getBuffer().setLength(0);
  }

  @Test
  void aSurveyIsScoredWithTheSameBytesForAnyNumberOfJobs() throws IOException {
    survey();
    for (String jobs : List.of("1", "2")) {
      int code =
          stopwell(
              "replay",
              traces,
              "--settings",
              settings,
              "--jobs",
              jobs,
              "--out",
              dir.resolve(jobs + ".csv"),
              "--page",
              dir.resolve(jobs + ".html"),
              "--json");
      assertEquals(0, code, err.toString());
      Files.writeString(dir.resolve(jobs + ".json"), out.toString());
      out.getBuffer().setLength(0);
    }
    for (String kind : List.of(".csv", ".html", ".json")) {
      assertEquals(
          Files.readString(dir.resolve("1" + kind)), Files.readString(dir.resolve("2" + kind)));
    }
    List<String> rows = Files.readAllLines(dir.resolve("1.csv"));
    assertEquals(10, rows.size(), "a head and three teeth in three fluids");
    assertTrue(rows.get(1).startsWith("tooth0001_brimful.csv,tooth0001,brimful,"), rows.get(1));
    String json = Files.readString(dir.resolve("1.json"));
    assertTrue(json.contains("\"simulated\" : true"), json);
    assertTrue(json.contains("\"fluid\" : \"half-wet\""), json);
    assertTrue(json.contains("\"sure_and_far_wrong\""), json);
    String page = Files.readString(dir.resolve("1.html"));
    assertTrue(page.contains("<h1>Scores of recorded traces (simulated)</h1>"), page);
    assertTrue(page.contains("past the foramen, of driven"), page);
  }

  @Test
  void theTableSaysWhatWasScoredAndHow() {
    survey("--condition", "brimful", "--canal", "meshed");
    assertEquals(0, stopwell("replay", traces, "--settings", settings), err.toString());
    String said = out.toString();
    assertTrue(said.startsWith("3 simulated traces of 3 teeth, settings " + settings), said);
    assertTrue(said.contains("within reaction_ms, 150 ms"), said);
    assertTrue(
        said.contains(
            "3 traces sampled slowly, up to every 50 ms: scored with guard.signal_age_ms"),
        said);
    assertTrue(said.contains("stated bound covers, of stated"), said);
    assertFalse(said.contains("  all"), "one fluid needs no sum");
    assertEquals(
        0, stopwell("replay", traces, "--settings", settings, "--coast-mm", "0.1"), "" + err);
    assertTrue(out.toString().contains("0.1 mm, as asked for"), out.toString());
  }

  @Test
  void whatCannotBeScoredIsRefused() throws IOException {
    Files.createDirectories(traces);
    Files.writeString(
        traces.resolve("T_1.csv"), "t_ms,distance_mm,true_remaining_mm\n0,1,1\n5,1,1\n");
    refused("needs --settings", "replay", traces);
    refused("holds distance_mm; the settings", "replay", traces, "--settings", settings);
    refused("apical: none", "replay", traces, "--settings", settings, "--stage", "open");
    refused("must be 0 to 5 mm", "replay", traces, "--settings", settings, "--coast-mm", "9");
    refused("must be 0 to 5 mm", "replay", traces, "--settings", settings, "--coast-mm", "NaN");
    refused("goes with a run directory", "replay", traces, "--settings", settings, "--trial", 1);
    Files.writeString(traces.resolve("manifest.csv"), "file,tooth,fluid\nT_2.csv,T,dry\n");
    refused("T_2.csv", "replay", traces, "--settings", settings);
    Path one = traces.resolve("T_1.csv");
    refused("goes with a directory", "replay", one, "--settings", settings, "--page", "x.html");
    refused("--canal resistors", "assess", "--traces", dir.resolve("x"), "--canal", "resistors");
  }

  private void refused(String message, Object... args) {
    err.getBuffer().setLength(0);
    assertEquals(2, stopwell(args), err.toString());
    assertTrue(err.toString().contains(message), err.toString());
  }

  private int stopwell(Object... args) {
    String[] words = new String[args.length];
    for (int i = 0; i < words.length; i++) {
      words[i] = args[i].toString();
    }
    return Main.run(words, new PrintWriter(out), new PrintWriter(err));
  }
}
