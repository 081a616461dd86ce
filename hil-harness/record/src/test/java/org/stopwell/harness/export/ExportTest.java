package org.stopwell.harness.export;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.record.TrialColumn;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class ExportTest {
  private static final String ODD = "said \"stop\", twice\nμ \uD83D\uDE42 ";

  private final Path directory;

  ExportTest(@TempDir Path directory) {
    this.directory = directory;
  }

  @Test
  void theReaderForPythonOnTheDataPageReadsTheArray() throws Exception {
    Files.write(directory.resolve("trials.npy"), NumpyFile.of(trials(), TrialColumn.EXPORTED));
    String said = run("/usr/bin/python3", "-c", block("python"));
    assertEquals("4 15.0", said.strip());
  }

  @Test
  void theReaderForROnTheDataPageReadsTheTable() throws Exception {
    String csv = CsvFile.of(trials(), TrialColumn.EXPORTED);
    assertTrue(csv.lines().toList().get(1).startsWith("1,"), "trials are numbered from 1");
    Files.writeString(directory.resolve("trials.csv"), csv);
    String said = run("Rscript", "-e", block("r"));
    assertEquals("4 15", said.strip());
  }

  @Test
  void numpySeesEveryValueOfEveryColumn() throws Exception {
    Files.write(directory.resolve("trials.npy"), NumpyFile.of(trials(), TrialColumn.EXPORTED));
    String said =
        run(
            "/usr/bin/python3",
            "-c",
            """
            import numpy, json, sys
            a = numpy.load("trials.npy")
            sys.stdout.reconfigure(encoding="utf-8")
            print(json.dumps([a.dtype.names] + [list(r) for r in a.tolist()], ensure_ascii=True))
            """);
    JsonNode rows = new ObjectMapper().readTree(said);
    List<TrialResult> trials = trials();
    for (int c = 0; c < TrialColumn.EXPORTED.size(); c++) {
      TrialColumn column = TrialColumn.EXPORTED.get(c);
      assertEquals(column.name(), rows.get(0).get(c).asString());
      for (int r = 0; r < trials.size(); r++) {
        JsonNode cell = rows.get(r + 1).get(c);
        Object value = column.value().apply(trials.get(r));
        Object seen =
            switch (column.kind()) {
              case INTEGER -> cell.longValue();
              case FLAG -> cell.booleanValue() ? 1L : 0L;
              case TEXT -> cell.asString();
            };
        assertEquals(value, seen, column.name() + " of trial " + r);
      }
    }
  }

  @Test
  void rSeesTheOddTextWhole() throws Exception {
    Files.writeString(directory.resolve("trials.csv"), CsvFile.of(trials(), TrialColumn.EXPORTED));
    String said =
        run(
            "Rscript",
            "-e",
            "t <- read.csv('trials.csv', encoding='UTF-8');"
                + " cat(nrow(t), ncol(t), nchar(t$message[4]), t$remaining_um[2])");
    assertEquals(
        "4 " + TrialColumn.EXPORTED.size() + " " + ODD.codePointCount(0, ODD.length()) + " 510",
        said.strip());
  }

  @Test
  void anEmptyRunHasATableWithoutLines() throws Exception {
    Files.write(directory.resolve("trials.npy"), NumpyFile.of(List.of(), TrialColumn.EXPORTED));
    assertEquals(
        "(0,)",
        run("/usr/bin/python3", "-c", "import numpy; print(numpy.load('trials.npy').shape)")
            .strip());
    assertEquals(1, CsvFile.of(List.of(), TrialColumn.EXPORTED).lines().count());
  }

  @Test
  void theDictionaryExplainsEveryColumn() {
    RunHeader header = SampleRun.header(3, 1);
    JsonNode dictionary =
        new ObjectMapper().readTree(DataDictionary.of(header, trials(), "ab".repeat(32)));
    assertTrue(dictionary.get("simulated").booleanValue());
    assertEquals("ab".repeat(32), dictionary.get("fingerprint").asString());
    assertEquals(4, dictionary.get("trials").intValue());
    List<String> names = new ArrayList<>();
    dictionary.get("columns").forEach(column -> names.add(column.get("name").asString()));
    assertEquals(TrialColumn.EXPORTED.stream().map(TrialColumn::name).toList(), names);
  }

  /** Written in C++ by others than those of the format's own library; fetches nothing. */
  private static List<TrialResult> trials() {
    return List.of(
        SampleRun.stop(0, 20),
        SampleRun.stop(1, 10),
        SampleRun.rigFault(2, "PORT_GONE"),
        SampleRun.unstopped(3, "dry", Expectation.REFUSE, Verdict.PASS, "UNWETTED", ODD));
  }

  private static String block(String language) throws IOException {
    String page = Files.readString(Path.of("..", "..", "docs", "data.md"));
    Matcher block = Pattern.compile("```" + language + "\n(.*?)```", Pattern.DOTALL).matcher(page);
    assertTrue(block.find(), "docs/data.md has a reader for " + language);
    assertEquals(3, block.group(1).lines().count(), "three lines");
    return block.group(1);
  }

  private String run(String... command) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder(command)
            .directory(directory.toFile())
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, process.waitFor(), String.join(" ", command));
    return said;
  }
}
