package org.stopwell.harness.casework;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseRecordException.Kind;

/** The record of a case: what it keeps, and what it finds when somebody has touched it. */
class CaseRecordTest {
  @TempDir Path dir;

  private Path file = Path.of("");

  @BeforeEach
  void fourEntries() throws Exception {
    file = dir.resolve(CaseRecord.FILE);
    try (CaseRecord record = CaseRecord.open(dir)) {
      record.append(Entries.measured("MB", 19_700));
      record.append(Entries.radiographed("MB", 1, Finding.CONFIRMS));
      record.append(Entries.shaped("MB", 1, 19_700));
      record.append(Entries.measured("ML", 19_200));
    }
  }

  @Test
  void anEntryComesBackAsItWasWritten() throws IOException {
    List<RecordedEntry> entries = CaseRecord.verify(dir).entries();
    assertEquals(Entries.measured("MB", 19_700), entries.get(0).entry());
    assertEquals(Entries.shaped("MB", 1, 19_700), entries.get(2).entry());
    String line = lines().get(0);
    assertTrue(
        line.startsWith(
            "{\"entry\":1,\"step\":\"measure\",\"date\":\"2026-03-02T10:15:00Z\",\"tooth\":36,"),
        line);
    for (String key :
        List.of(
            "\"simulated\":true",
            "\"length_um\":19700",
            "\"uncertainty_um\":120",
            "\"coverage_hundredths\":228",
            "\"standoff_um\":500",
            "\"reference\":\"mb_cusp\"")) {
      assertTrue(line.contains(key), key + " in " + line);
    }
  }

  @Test
  void aRecordGoesOnWhereItEnded() throws Exception {
    String before = CaseRecord.verify(dir).head();
    try (CaseRecord record = CaseRecord.open(dir)) {
      assertEquals(before, record.head());
      assertEquals(5, record.append(Entries.undecided("DB")).number());
    }
    RecordCheck found = CaseRecord.verify(dir);
    assertEquals(5, found.entries().size());
    assertTrue(found.fault().isEmpty());
    assertNotEquals(before, found.head());
  }

  @Test
  void nothingIsRecordedYetInANewCase() throws IOException {
    RecordCheck found = CaseRecord.verify(dir.resolve(".."));
    assertEquals(List.of(), found.entries());
    assertTrue(found.fault().isEmpty());
  }

  /** One digit of one line; a line taken out, put twice, moved; the hash itself. */
  @ParameterizedTest(name = "{0}: line {1}")
  @CsvSource({
    "edited, 1",
    "removed, 2",
    "doubled, 3",
    "swapped, 2",
    "hash, 4",
    "blank, 3",
    "text, 2",
    "first, 1"
  })
  void theFirstLineThatDoesNotFitIsNamed(String how, int line) throws Exception {
    List<String> lines = new ArrayList<>(lines());
    switch (how) {
      case "edited" -> lines.set(0, lines.get(0).replace("19700", "19800"));
      case "removed" -> lines.remove(1);
      case "doubled" -> lines.add(2, lines.get(1));
      case "swapped" -> lines.add(1, lines.remove(2));
      case "hash" -> lines.set(3, lines.get(3).replaceAll(".\"}$", "g\"}"));
      case "blank" -> lines.add(2, "");
      case "text" -> lines.set(1, "shaped to 19 mm, see my notes");
      default -> lines.remove(0);
    }
    Files.writeString(file, String.join("\n", lines) + "\n");
    RecordCheck found = CaseRecord.verify(dir);
    assertTrue(found.fault().orElseThrow().startsWith(line + ": "), found.fault().orElseThrow());
    assertEquals(line - 1, found.entries().size());
    CaseRecordException refused =
        assertThrows(CaseRecordException.class, () -> CaseRecord.open(dir).close());
    assertEquals(Kind.DAMAGED, refused.kind());
    assertTrue(String.valueOf(refused.getMessage()).contains(CaseRecord.FILE + ":" + line + ": "));
  }

  /** A chain that fits its lines does not make the lines right. */
  @ParameterizedTest(name = "{0} -> {1}")
  @CsvSource(
      delimiter = '|',
      value = {
        "\"length_um\":19700|\"length_um\":\"19700\"|length_um: 19700 is not a whole number",
        "\"length_um\":19700|\"length_um\":19.7|length_um: 19.7 is not a whole number",
        "\"length_um\":19700|\"length_um\":99999999999|is not a whole number",
        "\"simulated\":true|\"simulated\":\"no\"|simulated: no is not true or false",
        "\"verdict\":\"pass\"|\"verdict\":\"fine\"|verdict: fine is not one of",
        "\"agreeing\":5|\"agreed\":5|length.agreeing: missing; length.agreed: unknown key",
        "\"step\":\"measure\"|\"step\":\"extract\"|step: extract is not one of",
        "\"entry\":1|\"entry\":2|entry: must be 1",
        "\"canal\":\"MB\"|\"canal\":[\"MB\"]|canal: a list is not a text",
      })
  void aLineThatIsNoEntryIsRefusedThoughItsHashFits(String right, String wrong, String said)
      throws Exception {
    String line = lines().get(0);
    assertTrue(line.contains(right), line);
    String body = line.replace(right, wrong).replaceAll(",\"sha256\":\"[0-9a-f]*\"}$", "");
    String hash = RecordCheck.hash(RecordCheck.START, body);
    Files.writeString(file, body + ",\"sha256\":\"" + hash + "\"}\n");
    String fault = CaseRecord.verify(dir).fault().orElseThrow();
    assertTrue(fault.startsWith("1: ") && fault.contains(said), fault);
  }

  /** The power fails at any byte of the last line. */
  @Test
  void aTornLineIsNamedAndSetApartAndNothingBeforeItIsLost() throws Exception {
    byte[] whole = Files.readAllBytes(file);
    int third = whole.length - 1;
    while (whole[third - 1] != '\n') {
      third--;
    }
    for (int cut : List.of(third + 1, third + 40, whole.length - 70, whole.length - 1)) {
      Files.deleteIfExists(dir.resolve(CaseRecord.TORN_FILE));
      Files.write(file, Arrays.copyOf(whole, cut));
      RecordCheck found = CaseRecord.verify(dir);
      assertEquals(3, found.entries().size());
      assertFalse(found.torn().isEmpty());
      try (CaseRecord record = CaseRecord.open(dir)) {
        assertEquals(4, record.append(Entries.measured("ML", 19_300)).number());
      }
      String apart = Files.readString(dir.resolve(CaseRecord.TORN_FILE));
      assertEquals(new String(whole, third, cut - third, StandardCharsets.UTF_8) + "\n", apart);
      RecordCheck after = CaseRecord.verify(dir);
      assertTrue(after.fault().isEmpty() && after.torn().isEmpty());
      assertEquals(4, after.entries().size());
    }
  }

  /** A cut can go through a letter of two bytes, such as the ± of the caveat. */
  @Test
  void aLineThatIsCutWithinALetterIsSetApartByteByByte() throws Exception {
    byte[] letter = "{\"caveat\":\"±".getBytes(StandardCharsets.UTF_8);
    byte[] cut = Arrays.copyOf(letter, letter.length - 1);
    Files.write(file, cut, StandardOpenOption.APPEND);
    try (CaseRecord record = CaseRecord.open(dir)) {
      record.append(Entries.undecided("DB"));
    }
    byte[] apart = Files.readAllBytes(dir.resolve(CaseRecord.TORN_FILE));
    assertEquals('\n', apart[apart.length - 1]);
    assertTrue(Arrays.equals(cut, Arrays.copyOf(apart, apart.length - 1)));
    assertEquals(5, CaseRecord.verify(dir).entries().size());
  }

  /**
   * Removed lines at the end leave the chain whole; only the head that was written down differs.
   */
  @Test
  void linesRemovedAtTheEndShowInTheHeadAlone() throws Exception {
    String head = CaseRecord.verify(dir).head();
    Files.writeString(file, String.join("\n", lines().subList(0, 3)) + "\n");
    RecordCheck found = CaseRecord.verify(dir);
    assertTrue(found.fault().isEmpty());
    assertNotEquals(head, found.head());
  }

  @Test
  void twoCommandsCannotWriteAtOnce() throws Exception {
    try (CaseRecord first = CaseRecord.open(dir)) {
      CaseRecordException second =
          assertThrows(CaseRecordException.class, () -> CaseRecord.open(dir).close());
      assertEquals(Kind.HELD, second.kind());
      first.append(Entries.undecided("DB"));
    }
    CaseRecord.open(dir).close();
  }

  @Test
  void theLatestLengthCountsAndLeavesOlderFindingsBehind() throws Exception {
    try (CaseRecord record = CaseRecord.open(dir)) {
      CanalHistory mb = record.history("MB");
      assertEquals(1, mb.measured().orElseThrow().number());
      assertTrue(mb.shaped().isPresent() && mb.doubt().isEmpty());
      assertEquals(
          "no length is recorded; measure first", record.history("DB").doubt().orElseThrow());

      record.append(Entries.rechecked("MB", 1, Change.CHANGED, -400));
      assertTrue(record.history("MB").doubt().orElseThrow().contains("has changed"));
      record.append(Entries.undecided("MB"));
      assertEquals(1, record.history("MB").measured().orElseThrow().number());

      record.append(Entries.measured("MB", 19_300));
      CanalHistory again = record.history("MB");
      assertEquals(7, again.measured().orElseThrow().number());
      assertTrue(again.doubt().isEmpty());
      assertTrue(again.shaped().isEmpty() && again.radiographed().isEmpty());

      record.append(Entries.radiographed("MB", 7, Finding.CONTRADICTS));
      assertTrue(record.history("MB").doubt().orElseThrow().contains("radiograph contradicts"));
    }
  }

  private List<String> lines() throws IOException {
    return Files.readAllLines(file);
  }
}
