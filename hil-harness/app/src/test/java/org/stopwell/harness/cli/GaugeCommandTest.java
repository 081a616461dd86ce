package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.standing.GaugeTable;

/**
 * The worked study of AIAG, Measurement Systems Analysis, 4th edition, chapter III section B: 10
 * parts, 3 appraisers, 3 readings. Its report by averages and ranges, rounded on the way: EV
 * 0.20188, AV 0.22963, GRR 0.30575, PV 1.10456, TV 1.14610, 26.68 %, 5 categories. By analysis of
 * variance: 0.199933, 0.226838 and GRR 0.302373, PV 1.04233, TV 1.08530, 27.86 %, 4 categories.
 */
class GaugeCommandTest {
  private static final String[][] READINGS = {
    {
      "0.29 -0.56 1.34 0.47 -0.80 0.02 0.59 -0.31 2.26 -1.36",
      "0.41 -0.68 1.17 0.50 -0.92 -0.11 0.75 -0.20 1.99 -1.25",
      "0.64 -0.58 1.27 0.64 -0.84 -0.21 0.66 -0.17 2.01 -1.31"
    },
    {
      "0.08 -0.47 1.19 0.01 -0.56 -0.20 0.47 -0.63 1.80 -1.68",
      "0.25 -1.22 0.94 1.03 -1.20 0.22 0.55 0.08 2.12 -1.62",
      "0.07 -0.68 1.34 0.20 -1.28 0.06 0.83 -0.34 2.19 -1.50"
    },
    {
      "0.04 -1.38 0.88 0.14 -1.46 -0.29 0.02 -0.46 1.77 -1.49",
      "-0.11 -1.13 1.09 0.20 -1.07 -0.67 0.01 -0.56 1.45 -1.77",
      "-0.15 -0.96 0.67 0.11 -1.45 -0.49 0.21 -0.49 1.87 -2.16"
    },
  };

  @TempDir Path directory;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();
  private Path file;

  @BeforeEach
  void write() throws Exception {
    StringBuilder csv = new StringBuilder("part,appraiser,reading_mm\r\n");
    for (int a = 0; a < READINGS.length; a++) {
      for (String trial : READINGS[a]) {
        String[] parts = trial.split(" ", -1);
        for (int p = 0; p < parts.length; p++) {
          csv.append("part ").append(p + 1).append(",\"").append("ABC".charAt(a)).append("\",");
          csv.append(parts[p]).append("\r\n");
        }
      }
    }
    file = directory.resolve("study.csv");
    Files.writeString(file, csv);
  }

  @Test
  void theManualsReportByAveragesAndRanges() {
    assertEquals(0, stopwell("rig gauge " + file + " --method average-range"), err.toString());
    holds("σ repeatability              0.2019 mm");
    holds("σ appraisers                 0.2297 mm");
    holds("σ gauge together             0.3058 mm");
    holds("σ parts                      1.1046 mm");
    holds("The gauge causes 26.7 % of the total deviation and separates 5 groups of parts.");
  }

  @Test
  void theManualsReportByAnalysisOfVariance() {
    assertEquals(0, stopwell("rig gauge " + file + " --width 8"), err.toString());
    holds("10 parts, 3 appraisers (A, B, C), 3 readings of each pair");
    holds("σ repeatability              0.1999 mm");
    holds("σ appraisers                 0.2268 mm");
    holds("σ gauge together             0.3024 mm");
    holds("The gauge causes 27.9 % of the total deviation and separates 4 groups of parts.");
    holds("pooled with repeatability");
    // 6 · 0.302373 / 8
    holds("Six σ of the gauge are 22.7 % of the tolerance width");
  }

  @Test
  void aTableReadsAsItWasWritten() throws Exception {
    GaugeTable table = GaugeTable.read(Files.readString(file));
    assertEquals(table, GaugeTable.read(table.csv()));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "a,b,c; 1,A,2 | line 1: the head must be part,appraiser,reading_UNIT",
        "part,appraiser,reading; 1,A,x; 1,A,2 | line 2: x is not a number of at most 3 decimals",
        "part,appraiser,reading; 1,A,1; 1,A,2; 1,B,1 | 1, B: 1 readings, the first pair has 2",
        "part,appraiser,reading; 1,A,1; 1,A,2 | 1 parts, 1 appraisers, 2 readings of each pair: 2 or",
        "part,appraiser,reading | 0 parts, 0 appraisers",
        "part,appraiser,reading; 1,A | line 2: not part, appraiser, reading"
      })
  void aTableThatIsNoStudyIsRefusedWithWhatIsWrong(String csv, String message) throws Exception {
    Files.writeString(file, csv.replace("; ", "\n"));
    assertEquals(2, stopwell("rig gauge " + file));
    assertTrue(err.toString().contains(message), err.toString());
  }

  private void holds(String line) {
    assertTrue(out.toString().contains(line), out.toString());
  }

  private int stopwell(String line) {
    return Main.run(line.split(" ", -1), new PrintWriter(out, true), new PrintWriter(err, true));
  }
}
