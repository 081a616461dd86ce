package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Rechecked;
import org.stopwell.harness.casework.CaseLength;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.casework.StepFile;
import org.stopwell.harness.casework.ToothCase;
import org.stopwell.harness.trial.Verdict;

/** Steps 2, 4 and 6 of a case, by commands on the virtual bench. */
class CaseLengthTest {
  private static final int CUSP_TO_ORIFICE = 7_000;

  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @TempDir Path dir;

  @Test
  void theLengthCountsFromTheCuspAndTheRecordKeepsItsFactorAndCaveat() throws Exception {
    begin("");
    assertEquals(0, step("measure", "--patency"), err.toString());
    CaseLength length = history().length().orElseThrow();
    // 13.2 mm from orifice to foramen, 0.5 mm short of it
    assertEquals(CUSP_TO_ORIFICE + 12_700, length.lengthMicrons(), 250, out.toString());
    assertEquals(196, length.coverageHundredths(), 2);
    assertTrue(length.caveat().contains("does not include an error that all readings share"));
    assertEquals(500, length.patencyMicrons(), 250, "past the foramen, by the reading");
    assertEquals(5, step("measure", "--passes", "2"), "two readings make no length");
    assertEquals(length, history().length().orElseThrow(), "the earlier length still counts");
  }

  @Test
  void aRadiographConfirmsOrContradictsAndAContradictedLengthIsNotCompared() throws Exception {
    begin("");
    assertEquals(5, step("radiograph", "--tip-to-apex-mm", "1"), "no length is recorded");
    assertEquals(0, step("measure", "--passes", "3"), err.toString());
    assertEquals(0, step("radiograph", "--tip-to-apex-mm", "1"), err.toString());
    assertEquals(5, step("radiograph", "--tip-to-apex-mm", "-0.3"), "past the apex");
    assertTrue(out.toString().contains("tip 0.30 mm past the radiographic apex"), out.toString());
    assertEquals(5, step("recheck"));
    assertTrue(err.toString().contains("radiograph contradicts the length"), err.toString());
    assertEquals(3, history().entries().size(), "a refusal adds nothing");
  }

  /** An edited record with another cusp once gave "has not changed, +0.00 mm". */
  @Test
  void aLengthFromAnotherCuspIsNotCompared() throws Exception {
    begin("");
    assertEquals(0, step("measure", "--passes", "3"), err.toString());
    Path file = dir.resolve(ToothCase.FILE);
    Files.writeString(
        file, Files.readString(file).replace("reference: mb_cusp", "reference: ml_cusp"));
    assertEquals(2, step("recheck"));
    assertTrue(
        err.toString().contains("reference point: mesiobuccal cusp before, mesiolingual cusp now"),
        err.toString());
  }

  @Test
  void theRecheckFindsThatShapingHasStraightenedTheCanal() throws Exception {
    begin(", curve_deg: 75, curve_mm: 6, inside_share: 1");
    assertEquals(0, step("measure", "--reference-error-mm", "0.05"), err.toString());
    assertEquals(
        0, step("recheck", "--reference-error-mm", "0.05"), "nobody has shaped yet\n" + out);
    CanalHistory before = history();
    int length = before.length().orElseThrow().lengthMicrons();
    try (CaseRecord record = CaseRecord.open(dir)) {
      record.append(
          new CaseEntry.Shaped(
              before.measured().orElseThrow().entry().stamp(),
              new StepFile(25, 800, "nickel-titanium"),
              "forward",
              1,
              length,
              length,
              length,
              9_500,
              2_000,
              Verdict.PASS,
              ""));
    }
    assertEquals(1, step("recheck", "--reference-error-mm", "0.05"), out.toString());
    Rechecked found = history().rechecked().orElseThrow().entry();
    assertEquals(Change.CHANGED, found.change());
    // 0.15 mm of it is the canal, the rest the locator in a wider one
    assertEquals(-200, found.differenceMicrons(), 150, out.toString());
    assertTrue(out.toString().contains("nine times in ten"), out.toString());
  }

  private void begin(String more) throws Exception {
    assertEquals(
        0,
        stopwell("case", "new", dir.toString(), "--tooth", "36", "--operator", "A1"),
        err.toString());
    Path file = dir.resolve(ToothCase.FILE);
    Files.writeString(
        file, Files.readString(file).replace("{length_mm: 13.2}", "{length_mm: 13.2" + more + "}"));
  }

  private CanalHistory history() throws Exception {
    RecordCheck record = CaseRecord.verify(dir);
    assertTrue(record.fault().isEmpty(), record.toString());
    return CanalHistory.of(record.entries(), "MB");
  }

  private int step(String step, String... options) {
    List<String> line = new ArrayList<>(List.of("case", step, dir.toString(), "MB"));
    line.addAll(List.of(options));
    return stopwell(line.toArray(String[]::new));
  }

  private int stopwell(String... line) {
    return Main.run(line, new PrintWriter(out), new PrintWriter(err));
  }
}
