package org.stopwell.harness.casework;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseEntry.Opened;
import org.stopwell.harness.trial.Verdict;

/** Master cone and volume of a canal that was shaped with size 25, taper 0.06, 12.7 mm deep. */
class FillingTest {
  @TempDir Path dir;

  @SuppressWarnings("NullAway.Init")
  private CaseRecord record;

  @BeforeEach
  void aShapedCanal() throws Exception {
    CaseTemplate.write(dir, 36, List.of("MB"), "A1");
    record = CaseRecord.open(dir);
    record.append(Entries.measured("MB", 19_700));
    record.append(Entries.shaped("MB", 1, 19_700));
  }

  @AfterEach
  void close() throws Exception {
    record.close();
  }

  /**
   * By hand: d = 0.25 + 0.06 · 12.7 = 1.012; π · 12.7 / 12 · (0.0625 + 0.253 + 1.024144) = 4.4541.
   */
  @Test
  void theMatchedConeFillsWhatTheFileHasCut() throws Exception {
    Filling filling = filling(Optional.empty(), 0);
    assertEquals(25, filling.coneSize());
    assertEquals(600, filling.coneTaperPerMyriad());
    assertEquals(19_700, filling.coneLengthMicrons());
    assertEquals(12_700, filling.stopMicrons());
    assertEquals(4_454, filling.volumeNanolitres());
    assertEquals(filling.volumeNanolitres(), filling.coneNanolitres());
    String arithmetic = filling.lines().toString();
    assertTrue(arithmetic.contains("D0 + taper · z = 0.250 + 0.06 · 12.70"), arithmetic);
    assertTrue(
        arithmetic.contains("π · 12.70 / 12 · (0.250² + 0.250 · 1.012 + 1.012²)"), arithmetic);
    assertTrue(arithmetic.contains("1.012 mm") && arithmetic.contains("4.454 mm³"), arithmetic);
  }

  /**
   * 0.5 mm above the end the canal is 0.28 mm wide; size 30 binds (0.30 − 0.25) / 0.06 above it.
   */
  @Test
  void aConeThatStaysShortIsTheNextSizeAndBindsWhereItsTipFits() throws Exception {
    Filling filling = filling(Optional.empty(), 500);
    assertEquals(30, filling.coneSize());
    assertEquals(19_700 - 833, filling.coneLengthMicrons());
    assertEquals(12_700 - 833, filling.stopMicrons());
  }

  /** By hand: π · 12.7 / 12 · (0.0625 + 0.25 · 0.504 + 0.254016) = 1.4712. */
  @Test
  void aConeOfLessTaperLeavesRoomForSealer() throws Exception {
    Filling filling = filling(Optional.of(200), 0);
    assertEquals(1_471, filling.coneNanolitres());
    assertEquals(4_454, filling.volumeNanolitres());
  }

  @Test
  void aConeOfMoreTaperThanTheCanalIsRefused() {
    StepRefusedException refused =
        assertThrows(StepRefusedException.class, () -> filling(Optional.of(800), 0));
    assertTrue(
        String.valueOf(refused.getMessage()).contains("bind at the orifice"), refused.getMessage());
  }

  /**
   * An opener 60/0.10 with its tip 6 mm above the end: 0.60 there, where the shaping file has cut
   * 0.61; it is wider from 6.25 mm on. By hand: 0.25 to 0.625 over 6.25 mm, then 0.625 to 1.27 over
   * 6.45.
   */
  @Test
  void theWiderOfTwoFilesCountsAtEveryHeight() throws Exception {
    record.append(
        new Opened(
            Entries.stamp("MB"),
            new StepFile(60, 1_000, "steel"),
            "forward",
            13_700,
            13_700,
            13_700,
            20_000,
            0,
            Verdict.PASS,
            ""));
    double apical = Math.PI * 6.25 / 12 * (0.25 * 0.25 + 0.25 * 0.625 + 0.625 * 0.625);
    double coronal = Math.PI * 6.45 / 12 * (0.625 * 0.625 + 0.625 * 1.27 + 1.27 * 1.27);
    Filling filling = filling(Optional.empty(), 0);
    assertEquals((apical + coronal) * 1e3, filling.volumeNanolitres(), 0.5);
    assertTrue(filling.lines().toString().contains("from 0.00 to 6.25 mm, cut by 25/0.06"));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"missing", "radiograph", "recheck", "not shaped", "shaping failed", "apex"})
  void aFillingIsRefusedWhenTheRecordDoesNotSayWhereToFillTo(String why) throws Exception {
    switch (why) {
      case "radiograph" -> record.append(Entries.radiographed("MB", 1, Finding.CONTRADICTS));
      case "recheck" -> record.append(Entries.rechecked("MB", 1, Change.CHANGED, -400));
      case "not shaped" -> record.append(Entries.measured("MB", 19_600));
      case "shaping failed" -> record.append(failed());
      case "apex" ->
          Files.writeString(
              dir.resolve(ToothCase.FILE),
              Files.readString(dir.resolve(ToothCase.FILE)).replace("apex: closed", "apex: open"));
      default -> {
        record.close();
        Files.delete(dir.resolve(CaseRecord.FILE));
        record = CaseRecord.open(dir);
      }
    }
    String said =
        String.valueOf(
            assertThrows(StepRefusedException.class, () -> filling(Optional.empty(), 0))
                .getMessage());
    String expected =
        switch (why) {
          case "missing" -> "measure first";
          case "radiograph" -> "radiograph contradicts";
          case "recheck" -> "has changed";
          case "not shaped" -> "was not shaped";
          case "shaping failed" -> "ended as FAIL";
          default -> "apex is open";
        };
    assertTrue(said.startsWith("MB: ") && said.contains(expected), said);
  }

  private static CaseEntry.Shaped failed() {
    CaseEntry.Shaped good = Entries.shaped("MB", 1, 19_900);
    return new CaseEntry.Shaped(
        good.stamp(),
        good.file(),
        good.motion(),
        1,
        19_700,
        19_900,
        20_100,
        9_500,
        0,
        Verdict.FAIL,
        "past the limit");
  }

  private Filling filling(Optional<Integer> taper, int lessMicrons) throws Exception {
    CaseCanal canal = CaseReader.read(dir).canal("MB").orElseThrow();
    return Filling.of(canal, record.history("MB"), taper, lessMicrons);
  }
}
