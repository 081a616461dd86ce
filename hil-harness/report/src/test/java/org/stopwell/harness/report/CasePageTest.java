package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.casework.SampleCase;
import tools.jackson.jr.ob.JSON;

/** What a person writes down of a tooth. */
class CasePageTest {
  @TempDir Path dir;

  @BeforeEach
  void aMolar() throws Exception {
    SampleCase.write(dir);
  }

  @Test
  void thePageHoldsTheLengthOfEveryCanalWithAllThatItIsWorth() throws Exception {
    String page = page();
    for (String said :
        List.of(
            "Tooth 36",
            "Bench and teaching. Not for use on a person.",
            "Every result on this page is simulated.",
            "19.72\u00a0mm",
            "± 0.12\u00a0mm (k = ",
            "mesiobuccal cusp",
            "0.50\u00a0mm",
            "file 15/0.04",
            "5 of 5 agree",
            "2026-03-02, operator A1",
            "tip to radiographic apex 0.70\u00a0mm",
            "−0.06\u00a0mm, limit ± 0.17\u00a0mm; file 25/0.06",
            "cone 25/0.06",
            "the radiograph contradicts the length; measure again",
            "the recheck found that the length has changed; measure again",
            CaseRecord.verify(dir).head())) {
      assertTrue(plain(page).contains(plain(said)), said);
    }
  }

  @Test
  void thePageNeedsNothingBesideItAndNothingInItIsMarkup() throws Exception {
    String page = page();
    for (String outside : List.of("<link", "<img", "<script", "@import", "url(", "src=", "://")) {
      assertFalse(page.contains(outside), outside);
    }
  }

  @Test
  void anEditedRecordIsSaidOnThePage() throws Exception {
    Path record = dir.resolve(CaseRecord.FILE);
    Files.writeString(record, Files.readString(record).replace("20110", "21110"));
    String page = plain(page());
    assertTrue(page.contains("The record does not fit from line "), page);
    assertFalse(page.contains("21.11"), "nothing of the edited line is shown");
  }

  @Test
  void theSameIsGivenToMachines() throws Exception {
    RecordCheck record = CaseRecord.verify(dir);
    Map<String, Object> values = CasePage.values(CaseReader.read(dir), record, "2026-03-03");
    assertEquals(true, values.get("simulated"));
    assertEquals(record.head(), values.get("head"));
    String json = JSON.std.asString(values);
    assertTrue(json.contains("\"canal\":\"MB\",\"usable\":true"), json);
    assertTrue(json.contains("\"canal\":\"ML\",\"usable\":false"), json);
    assertTrue(json.contains("\"length_um\":19720"), json);
  }

  private String page() throws Exception {
    return CasePage.html(CaseReader.read(dir), CaseRecord.verify(dir), "2026-03-03");
  }

  /** Which space stands between number and unit is no matter here. */
  private static String plain(String text) {
    return text.replace('\u00a0', ' ');
  }
}
