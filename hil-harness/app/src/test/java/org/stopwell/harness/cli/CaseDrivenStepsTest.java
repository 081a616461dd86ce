package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseEntry.Measured;
import org.stopwell.harness.casework.CaseEntry.Method;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.casework.CaseEntry.Radiographed;
import org.stopwell.harness.casework.CaseEntry.Shaped;
import org.stopwell.harness.casework.CaseLength;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseStamp;
import org.stopwell.harness.casework.CrownPoint;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepFile;
import org.stopwell.harness.length.DepthBy;
import org.stopwell.harness.trial.Verdict;

/** Opening and shaping one canal by commands, on the virtual bench. */
class CaseDrivenStepsTest {
  @TempDir Path dir;
  private Path tooth = Path.of("");

  private record Said(int code, String out, String err) {}

  @BeforeEach
  void aNewCase() {
    tooth = dir.resolve("tooth-36");
    said(0, "case", "new", tooth, "--tooth", "36", "--canal", "MB", "--operator", "A1");
  }

  @Test
  void openingRestsAtTheChosenDepthAndIsRecorded() throws Exception {
    Said open = said(0, "case", "open", tooth, "MB");
    assertTrue(open.out.contains("tooth 36, canal MB: open with 35/0.08, forward, simulated"));
    assertTrue(open.out.contains("The apical reaction is off by intent"), open.out);
    assertTrue(open.out.contains("depth limit     13.00 mm from the mesiobuccal cusp"), open.out);
    Opened entry = (Opened) entries().get(0).entry();
    assertEquals(Verdict.PASS, entry.verdict());
    assertEquals(13_000, entry.depthLimitMicrons(), "6 mm below the orifice, which is 7 mm deep");
    assertEquals(13_000, entry.restMicrons(), 150);
    assertEquals(20_000, entry.torqueLimitMicroNewtonMetres());
    assertTrue(entry.stamp().simulated());
  }

  @Test
  void shapingTakesItsDepthLimitFromTheRecordAndFileAfterFile() throws Exception {
    Said early = said(5, "case", "shape", tooth, "MB");
    assertTrue(early.err.contains("measure first"), early.err);
    append(
        new Measured(
            stamp(),
            new StepFile(15, 400, "nickel-titanium"),
            Method.MOTOR,
            Optional.of(
                new CaseLength(
                    19_700,
                    500,
                    CrownPoint.MB_CUSP,
                    7_000,
                    100,
                    DepthBy.AXIS,
                    0,
                    120,
                    200,
                    60,
                    "",
                    5,
                    5,
                    5,
                    100,
                    40,
                    0,
                    0)),
            5,
            Verdict.PASS,
            ""));
    Said shape =
        said(0, "case", "shape", tooth, "MB", "--less-mm", "0.2", "--file", "20/0.04,25/0.06");
    assertTrue(shape.out.contains("shape with 20/0.04, forward, simulated"), shape.out);
    assertTrue(shape.out.contains("depth limit     19.50 mm from the mesiobuccal cusp"), shape.out);
    Shaped last = (Shaped) entries().get(2).entry();
    assertEquals(new StepFile(25, 600, "nickel-titanium"), last.file());
    assertEquals(1, last.lengthEntry());
    assertEquals(19_500, last.restMicrons(), 150);
    Shaped first = (Shaped) entries().get(1).entry();
    assertTrue(
        first.torqueLimitMicroNewtonMetres() < last.torqueLimitMicroNewtonMetres(),
        "a weaker file has a lower limit");
    said(0, "case", "verify", tooth);
    append(
        new Radiographed(stamp(), 1, 4_000, 3_000, Finding.CONTRADICTS, Verdict.UNDECIDED, "far"));
    Said contradicted = said(5, "case", "shape", tooth, "MB");
    assertTrue(contradicted.err.contains("radiograph contradicts"), contradicted.err);
    assertEquals(4, entries().size(), "a refused step adds nothing");
  }

  @Test
  void aDepthThatIsNotReachedFailsAndIsRecordedAsItEnded() throws Exception {
    Path settings = tooth.resolve("settings.yaml");
    Files.writeString(
        settings, Files.readString(settings).replace("torque_ncm: 2\n", "torque_ncm: 0.05\n"));
    Path file = tooth.resolve("case.yaml");
    Files.writeString(
        file,
        Files.readString(file)
            .replace("{foramen_diameter_mm", "{taper: 0.02, foramen_diameter_mm"));
    Said open = said(1, "case", "open", tooth, "MB");
    assertTrue(open.out.contains("FAIL: The depth limit was not reached"), open.out);
    Opened entry = (Opened) entries().get(0).entry();
    assertEquals(Verdict.FAIL, entry.verdict());
    assertTrue(entry.restMicrons() < 13_000 - 150, entry.toString());
    assertTrue(entry.reason().startsWith("The depth limit was not reached"), entry.reason());
    said(2, "case", "shape", tooth, "MB", "--file", "25");
  }

  private CaseStamp stamp() throws Exception {
    return new CaseStamp(
        "2026-03-02T10:15:00Z",
        36,
        "MB",
        "A1",
        "virtual",
        true,
        "test",
        CaseReader.read(tooth).sha256(),
        "");
  }

  private void append(CaseEntry entry) throws Exception {
    try (CaseRecord record = CaseRecord.open(tooth)) {
      record.append(entry);
    }
  }

  private List<RecordedEntry> entries() throws Exception {
    return CaseRecord.verify(tooth).entries();
  }

  private static Said said(int code, Object... words) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] args = new String[words.length];
    for (int i = 0; i < args.length; i++) {
      args[i] = words[i].toString();
    }
    int ended = Main.run(args, new PrintWriter(out), new PrintWriter(err));
    assertEquals(code, ended, out.toString() + err);
    return new Said(ended, out.toString(), err.toString());
  }
}
