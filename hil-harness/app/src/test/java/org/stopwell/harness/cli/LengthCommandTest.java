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
import org.stopwell.core.depth.LengthRecord;
import org.stopwell.harness.length.LengthFile;
import org.stopwell.harness.trial.TestPlans;

/** A length for the chart, from length readings on the virtual bench. */
class LengthCommandTest {
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @TempDir Path dir;
  private Path record;

  @BeforeEach
  void nameTheRecord() {
    record = dir.resolve("length.json");
  }

  @Test
  void readingsOfOneCanalAgreeAndAreNearTheTruth() throws Exception {
    assertEquals(0, measure("--out", record.toString()), err.toString());
    LengthRecord length = LengthFile.read(record);
    assertEquals(5, length.agreeing(), out.toString());
    // The canal is 16 mm from orifice to foramen, the standoff 0.5 mm.
    assertEquals(15_500, length.lengthMicrons(), 100, out.toString());
    assertTrue(
        length.uncertaintyMicrons() >= 115, "2 · 0.1 mm / √3 from the reference point alone");
  }

  @Test
  void theSameCanalHasNotChangedAndAnotherLengthHas() throws Exception {
    assertEquals(0, measure("--out", record.toString()), err.toString());
    assertEquals(0, measure("--recheck", record.toString()), err.toString());
    assertTrue(out.toString().contains("the length has not changed"), out.toString());
    Files.writeString(
        record,
        Files.readString(record).replaceFirst("\"length_mm\": [0-9.]+", "\"length_mm\": 15.0"));
    assertEquals(1, measure("--recheck", record.toString()), err.toString());
    assertTrue(out.toString().contains("the length has changed"), out.toString());
  }

  @Test
  void aRecordOfTheFirstVersionIsRead() throws Exception {
    assertEquals(0, measure("--out", record.toString()), err.toString());
    LengthRecord length = LengthFile.read(record);
    String first =
        Files.readString(record)
            .replace("\"length_record\": 2", "\"length_record\": 1")
            .replace("readings_", "soundings_");
    Files.writeString(record, first);
    assertEquals(length, LengthFile.read(record));
  }

  @Test
  void tooFewThatAgreeMakeNoLength() {
    assertEquals(5, measure("--passes", "2"), err.toString());
    assertTrue(out.toString().contains("fewer than three of"), out.toString());
  }

  @Test
  void aRecordThatWasTamperedWithIsRefusedWithEveryMistake() throws Exception {
    Files.writeString(
        record, "{\"length_record\": 3, \"length_mm\": \"long\", \"radiograph\": \"blurred\"}");
    assertEquals(2, measure("--recheck", record.toString()));
    for (String mistake :
        new String[] {
          "length_record: 3 is not a whole number from 1 to 2",
          "length_mm: long is not a number from -60 to 60 mm",
          "reference: missing; must be a text",
          "radiograph: blurred is not one of not taken, confirms, contradicts"
        }) {
      assertTrue(err.toString().contains(mistake), mistake + " in\n" + err);
    }
  }

  @Test
  void aPlanWithoutADepthAxisGivesNoLength() {
    assertEquals(2, stopwell("length", TestPlans.file("reference-canal").toString()));
    assertTrue(err.toString().contains("scene.hand.depth_axis must be present"), err.toString());
  }

  private int measure(String... options) {
    String[] line = new String[options.length + 2];
    line[0] = "length";
    line[1] = TestPlans.file("length-readings").toString();
    System.arraycopy(options, 0, line, 2, options.length);
    return stopwell(line);
  }

  private int stopwell(String... line) {
    return Main.run(line, new PrintWriter(out), new PrintWriter(err));
  }
}
