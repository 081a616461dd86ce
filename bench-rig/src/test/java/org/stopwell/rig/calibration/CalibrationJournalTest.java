package org.stopwell.rig.calibration;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CalibrationJournalTest {
  private static final Instant NOON = Instant.parse("2026-03-02T12:00:00Z");

  @TempDir private Path directory;

  @Test
  void readingsComeBackInTheirOrderAndByQuantity() {
    Path file = directory.resolve("new").resolve("journal.txt");
    CalibrationJournal journal = new CalibrationJournal(file, Instant.now());
    assertEquals(List.of(), journal.taken(Quantity.LADDER), "no file yet");
    journal.take(Quantity.LADDER, 1_250);
    journal.take(Quantity.STAGE_SCALE, 7);
    journal.take(Quantity.LADDER, -2_000_001);
    assertEquals(List.of(1_250L, -2_000_001L), journal.taken(Quantity.LADDER));
    assertEquals(List.of(7L), journal.taken(Quantity.STAGE_SCALE));
    assertEquals(
        List.of(1_250L, -2_000_001L),
        new CalibrationJournal(file, Instant.now()).taken(Quantity.LADDER),
        "another program");
  }

  @Test
  void aLineSaysWhenWhatAndHowMuchInTheUnitOfTheQuantity() throws Exception {
    Path file = directory.resolve("journal.txt");
    new CalibrationJournal(file, NOON).take(Quantity.STAGE_BACKLASH, -1_500);
    String line = Files.readString(file);
    assertTrue(line.matches("20\\d\\d-\\d\\d-\\d\\dT[0-9:]{8}Z stage_backlash -1.500\n"), line);
  }

  @Test
  void whatIsFinishedOrStartedAnewBeginsWithNothing() throws Exception {
    Path file = directory.resolve("journal.txt");
    CalibrationJournal journal = new CalibrationJournal(file, Instant.now());
    journal.anew(Quantity.LADDER);
    assertTrue(Files.notExists(file), "nothing to start again");
    journal.take(Quantity.LADDER, 1);
    journal.take(Quantity.STAGE_SCALE, 2);
    journal.anew(Quantity.LADDER);
    assertEquals(List.of(), journal.taken(Quantity.LADDER));
    journal.take(Quantity.LADDER, 3);
    assertEquals(List.of(3L), journal.taken(Quantity.LADDER));
    journal.finished(Quantity.LADDER);
    assertEquals(List.of(), journal.taken(Quantity.LADDER));
    assertEquals(List.of(2L), journal.taken(Quantity.STAGE_SCALE), "another step goes on");
    assertEquals(5, Files.readAllLines(file).size(), "nothing is taken out of the file");
  }

  @Test
  void readingsOfMoreThanADayAgoAreNotOfTheSameCalibration() throws Exception {
    CalibrationJournal journal =
        written(
            "2026-03-01T11:59:59Z ladder 1.000",
            "2026-03-01T12:00:00Z ladder 2.000",
            "2026-03-02T11:00:00Z ladder 3.000");
    assertEquals(List.of(2_000L, 3_000L), journal.taken(Quantity.LADDER));
  }

  @Test
  void aLineThatIsNoReadingIsPassedOver() throws Exception {
    CalibrationJournal journal =
        written(
            "2026-03-02T11:00:00Z ladder 1.000",
            "2026-03-02T11:00:00Z ladder 1.0001",
            "2026-03-02T11:00:00Z ladder one",
            "yesterday ladder 1.000",
            "2026-03-02T11:00:00Z ladder 1.000 torn",
            "2026-03-02T11:00:00Z ladder",
            "",
            "2026-03-02T11:00:00Z ladder 4.000");
    assertEquals(List.of(1_000L, 4_000L), journal.taken(Quantity.LADDER));
  }

  /** The power went while the last line was written: it does not count, and the next one does. */
  @Test
  void aTornLineIsNeitherCountedNorCompletedByTheNext() throws Exception {
    Path file = directory.resolve("journal.txt");
    String whole = Instant.now() + " ladder 1.000\n";
    Files.writeString(file, whole + Instant.now() + " ladder 2.0");
    CalibrationJournal journal = new CalibrationJournal(file, Instant.now());
    assertEquals(List.of(1_000L), journal.taken(Quantity.LADDER));
    journal.take(Quantity.LADDER, 3_000);
    assertEquals(List.of(1_000L, 3_000L), journal.taken(Quantity.LADDER));
    assertEquals(3, Files.readAllLines(file).size());
  }

  private CalibrationJournal written(String... lines) throws Exception {
    Path file = directory.resolve("journal.txt");
    Files.writeString(file, String.join("\n", lines) + "\n");
    return new CalibrationJournal(file, NOON);
  }
}
