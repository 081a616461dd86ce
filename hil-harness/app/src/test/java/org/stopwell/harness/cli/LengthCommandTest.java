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
import org.stopwell.harness.length.LengthFile;
import org.stopwell.harness.length.LengthRecord;
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
        Files.readString(record).replaceFirst("\"length_mm\":[0-9.]+", "\"length_mm\":15.0"));
    assertEquals(1, measure("--recheck", record.toString()), err.toString());
    assertTrue(out.toString().contains("the length has changed"), out.toString());
  }

  @Test
  void tooFewThatAgreeMakeNoLength() {
    assertEquals(5, measure("--passes", "2"), err.toString());
    assertTrue(out.toString().contains("fewer than three of"), out.toString());
  }

  @Test
  void aRecordThatWasTamperedWithIsRefused() throws Exception {
    Files.writeString(record, "{\"length_record\": 4}");
    assertEquals(2, measure("--recheck", record.toString()));
    assertTrue(err.toString().contains("length_record: 4 is not a whole number from 1 to 3"));
  }

  /** A standoff of 1.0 mm against 0.5 mm once gave "has changed, -0.53 mm". */
  @Test
  void lengthsThatCannotBeComparedAreRefusedWithBothValuesBeforeAnythingMoves() throws Exception {
    assertEquals(0, measure("--out", record.toString()), err.toString());
    String sound = Files.readString(record);
    Files.writeString(record, sound.replace("\"standoff_mm\":0.500", "\"standoff_mm\":1.000"));
    refused("standoff: 1.000 mm before, 0.500 mm now");
    Files.writeString(
        record, sound.replace("\"reference\":\"orifice\"", "\"reference\":\"DB cusp\""));
    refused("reference point: DB cusp before, orifice now");
    Files.writeString(
        record, sound.replace("\"radiograph\":\"not taken\"", "\"radiograph\":\"contradicts\""));
    refused("radiograph: contradicts before, not taken now");
    Files.writeString(record, sound);
    refused("canal: not stated before, MB now", "--canal", "MB");
  }

  private void refused(String why, String... more) {
    out.getBuffer().setLength(0);
    String[] options = new String[more.length + 2];
    options[0] = "--recheck";
    options[1] = record.toString();
    System.arraycopy(more, 0, options, 2, more.length);
    assertEquals(2, measure(options));
    assertTrue(err.toString().contains(why), err.toString());
    assertEquals("", out.toString(), "nothing moved");
  }

  @Test
  void aRadiographThatContradictsLeavesTheLengthUndecided() throws Exception {
    assertEquals(5, measure("--radiograph", "contradicts"));
    assertEquals(5, measure("--tip-to-apex-mm", "3.4", "--out", record.toString()));
    assertTrue(out.toString().contains("3.40 mm short of the radiographic apex, limit 3.00 mm"));
    assertTrue(LengthFile.read(record).radiograph().contradicts());
    assertEquals(0, measure("--tip-to-apex-mm", "1.2"), out.toString());
    assertEquals(2, measure("--tip-to-apex-mm", "1.2", "--radiograph", "contradicts"));
  }

  @Test
  void aLengthFromACuspByARubberStopAndAHandFile() throws Exception {
    assertEquals(2, measure("--reference", "MB cusp"));
    assertTrue(err.toString().contains("needs --reference-to-orifice-mm"), err.toString());
    assertEquals(
        0,
        measure(
            "--canal",
            "MB",
            "--reference",
            "MB cusp",
            "--reference-to-orifice-mm",
            "5.5",
            "--rubber-stop",
            "--hand-file",
            "--out",
            record.toString()),
        err.toString());
    LengthRecord length = LengthFile.read(record);
    assertEquals(21_000, length.lengthMicrons(), length.uncertaintyMicrons(), out.toString());
    assertTrue(length.uncertaintyMicrons() >= 283, "1.96 · 0.25 mm / √3 from the stop alone");
  }

  @Test
  void patencyIsReachedOnPurposeAfterTheLengthAndTheFileComesBack() throws Exception {
    Path plan = dir.resolve("patency.yaml");
    String settings = TestPlans.root().resolve("docs/settings/reference-canal.yaml").toString();
    Files.writeString(
        plan,
        """
        plan: 1
        name: measure
        settings: %s
        stage: length
        seed: 1
        trials: 1
        time_limit_s: 120
        scene:
          fluid: {level_mm: 8}
          hand: {feed_mm_per_s: 2, after_stop: repeat, hold_ms: 2500, depth_axis: present}
        factors:
          aim:
            length:
            patency:
              expect: patency
              settings: {stages: {length: {standoff_mm: -0.5}}}
        """
            .formatted(settings));
    assertEquals(
        0,
        stopwell("length", plan.toString(), "--passes", "3", "--patency", "--out", "" + record),
        err.toString());
    assertTrue(out.toString().contains("it came back"), out.toString());
    LengthRecord length = LengthFile.read(record);
    assertEquals(500, length.standoffMicrons());
    assertEquals(500, length.patencyMicrons().orElseThrow(), 150);
    assertEquals(2, measure("--patency"));
    assertTrue(err.toString().contains("no condition expects patency"), err.toString());
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
