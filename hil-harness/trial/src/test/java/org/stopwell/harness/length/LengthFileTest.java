package org.stopwell.harness.length;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class LengthFileTest {
  @TempDir Path dir;

  @Test
  void aRecordComesBackAsItWas() throws Exception {
    LengthReadings readings =
        new LengthReadings(
            new LengthMethod(
                "MB",
                new ReferencePoint("mesiobuccal \"cusp\"\n", 5_500, 250),
                DepthBy.RUBBER_STOP,
                250,
                500,
                MovedBy.HAND_FILE));
    for (int length : new int[] {21_000, 21_100, 21_290}) {
      readings.add(new LengthReading(0, length, 420, 500, 10));
    }
    LengthRecord written =
        readings
            .record()
            .orElseThrow()
            .with(Radiograph.measured(-200, 2_500, 500))
            .withPatency(430);
    LengthRecord read = LengthFile.read(LengthFile.write(dir.resolve("l.json"), written));
    assertEquals(written.uncertaintyMicrons(), read.uncertaintyMicrons());
    assertEquals(written.uncertainty().freedom(), read.uncertainty().freedom());
    assertEquals(LengthFile.values(written), LengthFile.values(read));
    assertEquals(written.method(), read.method());
    assertEquals(written.radiograph(), read.radiograph());
    assertEquals(written.patencyMicrons(), read.patencyMicrons());
  }

  @Test
  void aRecordKeepsItsFactorAndItsCaveat() throws Exception {
    LengthRecord record = LengthReadingsTest.of(0, 19_500, 19_500, 19_500).record().orElseThrow();
    String text = Files.readString(LengthFile.write(dir.resolve("l.json"), record));
    for (String part :
        List.of(
            "\"length_record\":3",
            "\"length_mm\":19.500",
            "\"uncertainty_mm\":0.076",
            "\"coverage\":0.95",
            "\"coverage_factor\":4.303",
            "\"degrees_of_freedom\":2",
            "\"caveat\":\"" + LengthRecord.CAVEAT)) {
      assertTrue(text.contains(part), part + " in " + text);
    }
  }

  @Test
  void olderVersionsAreReadAndTheirUncertaintyIsToldHonestly() throws Exception {
    String second =
        "{\"length_record\": 2, \"length_mm\": 19.520, \"uncertainty_mm\": 0.024,"
            + " \"coverage_factor\": 2, \"standoff_mm\": 0.500, \"readings_agreeing\": 3,"
            + " \"readings_taken\": 3, \"spread_mm\": 0.040, \"reference\": \"orifice\","
            + " \"reference_error_mm\": 0.000, \"file_size\": 15, \"radiograph\": \"confirms\"}";
    LengthRecord record = LengthFile.read(Files.writeString(dir.resolve("two.json"), second));
    assertEquals(19_520, record.lengthMicrons());
    assertEquals(2, record.uncertainty().freedom());
    // k = 2 of three readings becomes Student's 4.303: 12 · 4.303 = 51.6
    assertEquals(52, record.uncertaintyMicrons());
    assertEquals("", record.method().canal());
    String first = second.replace("record\": 2", "record\": 1").replace("readings_", "soundings_");
    assertEquals(record, LengthFile.read(Files.writeString(dir.resolve("one.json"), first)));
  }

  @Test
  void everyMistakeIsNamed() throws Exception {
    Path file =
        Files.writeString(
            dir.resolve("bad.json"),
            "{\"length_record\": 4, \"length_mm\": \"long\", \"radiograph\": \"blurred\","
                + " \"reference_error_mm\": -1, \"depth_by\": \"eye\"}");
    LengthFileException wrong =
        assertThrows(LengthFileException.class, () -> LengthFile.read(file));
    for (String mistake :
        List.of(
            "length_record: 4 is not a whole number from 1 to 3",
            "length_mm: long is not a number from -60 to 60 mm",
            "reference: missing; must be a text",
            "reference_error_mm: -1 is not a number from 0 to 10 mm",
            "radiograph: blurred is not one of not taken, confirms, contradicts")) {
      assertTrue(
          wrong.mistakes().stream().anyMatch(m -> m.endsWith(mistake)),
          mistake + " in " + wrong.mistakes());
    }
  }
}
