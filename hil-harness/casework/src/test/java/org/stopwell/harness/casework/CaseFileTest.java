package org.stopwell.harness.casework;

import static java.util.Objects.requireNonNull;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.plan.PlanException;

/** What a case file states, and what it refuses. */
class CaseFileTest {
  @TempDir Path dir;

  @BeforeEach
  void aMolarWithFourCanals() throws IOException {
    CaseTemplate.write(dir, 36, List.of("MB", "ML", "DB", "DL"), "A1");
  }

  @Test
  void aNewCaseIsValidAndNamesTheCuspOfEveryCanal() throws PlanException {
    ToothCase tooth = CaseReader.read(dir);
    assertEquals(36, tooth.tooth());
    assertEquals(List.of("MB", "ML", "DB", "DL"), tooth.names());
    assertEquals(CrownPoint.ML_CUSP, canal(tooth, "ML").reference());
    assertEquals("25/0.06", canal(tooth, "MB").file(Stage.SHAPE).human());
    assertEquals("15/0.04", canal(tooth, "MB").file(Stage.LENGTH).human());
  }

  @ParameterizedTest(name = "tooth {0}: {1}")
  @CsvSource({
    "11, C",
    "14, B P",
    "26, MB DB P",
    "36, MB ML D",
    "43, C",
    "55, MB DB P",
    "85, MB ML D"
  })
  void everyToothHasItsUsualCanals(int tooth, String canals) throws Exception {
    Path at = dir.resolve("tooth-" + tooth);
    CaseTemplate.write(at, tooth, List.of(), "A1");
    assertEquals(List.of(canals.split(" ")), CaseReader.read(at).names());
  }

  @Test
  void aNewCaseReplacesNothing() throws IOException {
    String settings = "settings: mine\n";
    Path other = Files.createDirectories(dir.resolve("other"));
    Files.writeString(other.resolve(CaseTemplate.SETTINGS_FILE), settings);
    CaseTemplate.write(other, 11, List.of("C"), "B2");
    assertEquals(settings, Files.readString(other.resolve(CaseTemplate.SETTINGS_FILE)));
    assertThrows(
        FileAlreadyExistsException.class, () -> CaseTemplate.write(dir, 37, List.of("D"), "A1"));
  }

  @Test
  void aCanalMayHaveItsOwnFileFluidAndScene() throws Exception {
    edit(
        "  ML:\n",
        """
          ML:
            irrigant: sodium_hypochlorite_1
            apex: resorbed
            stages: {shape: {file: {size: 20, taper: 0.06}, torque_ncm: 0.7}}
        """);
    ToothCase tooth = CaseReader.read(dir);
    CaseCanal ml = canal(tooth, "ML");
    assertEquals("20/0.06", ml.file(Stage.SHAPE).human());
    assertEquals("25/0.06", canal(tooth, "MB").file(Stage.SHAPE).human());
    assertEquals("sodium_hypochlorite_1", ml.irrigant());
    assertEquals(ApexState.RESORBED, ml.apex());
    assertEquals("12.7", requireNonNull(ml.simulated().get("canal")).get("length_mm"));
    assertEquals("0.5", requireNonNull(ml.simulated().get("canal")).get("foramen_diameter_mm"));
  }

  /** What would identify a person is refused with the reason, wherever it stands. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "patient: 4711",
        "name: Somebody",
        "date_of_birth: 1980-01-01",
        "age: 45",
        "phone: 123",
        "insurance_number: A123",
        "comment: tall",
        "chart: 9"
      })
  void aFileThatIdentifiesAPersonIsRefused(String key) throws Exception {
    edit("tooth: 36", key + "\ntooth: 36");
    edit("  DL:\n", "  DL:\n    " + key + "\n");
    List<String> mistakes = mistakes();
    assertEquals(
        2, mistakes.stream().filter(m -> m.contains("must not identify a person")).count());
    assertTrue(mistakes.get(0).contains("case.yaml:5: "), mistakes.get(0));
  }

  @ParameterizedTest(name = "{0} -> {1}")
  @CsvSource(
      delimiter = '|',
      value = {
        "tooth: 36 | tooth: 39 | 39 is not an FDI number",
        "tooth: 36 | tooth: 56 | 56 is not an FDI number",
        "tooth: 36 | tooth: thirty | is not a number",
        "operator: A1 | operator: Anna | is not a code",
        "operator: A1 | operator: 12 | 12 is not text",
        "apex: closed | apex: round | round is not one of",
        "saline_0.9 | beer | beer is not one of",
        "mb_cusp | mb-cusp | mb-cusp is not one of",
        "settings: settings.yaml | settings: missing.yaml | no such file",
        "case: 1 | case: 2 | 2",
        "level_mm: 8 | level_mm: 80 | 80",
        "level_mm: 8 | irrigant: saline_0.9 | write irrigant outside of simulated",
        "MB: | Miller: | is not the name of a canal",
        "MB: | ML: | given twice",
        "length_mm: 13.2 | lenght_mm: 13.2 | did you mean length_mm?",
        "reference_to_orifice_mm: 7 | reference_to_orifice_mm: 70 | 70",
      })
  void aSlipIsNamedWithItsLine(String right, String wrong, String said) throws Exception {
    edit(right, wrong);
    List<String> mistakes = mistakes();
    assertTrue(
        mistakes.stream().anyMatch(m -> m.contains(said) && m.matches("(?s).*yaml(:\\d+)?: .*")),
        mistakes.toString());
  }

  @Test
  void allMistakesComeAtOnceInTheOrderOfTheLines() throws Exception {
    edit("tooth: 36", "tooth: 99");
    edit("reference: ml_cusp", "reference: elbow");
    edit("level_mm: 8", "level_mm: much");
    List<String> mistakes = mistakes();
    assertEquals(3, mistakes.size(), mistakes.toString());
    assertTrue(mistakes.get(0).contains("tooth"), mistakes.get(0));
    assertTrue(mistakes.get(1).contains("simulated.fluid.level_mm"), mistakes.get(1));
    assertTrue(mistakes.get(2).contains("canals.ML.reference"), mistakes.get(2));
  }

  @Test
  void aMistakeInTheSettingsOrInAStageIsAMistakeOfTheCase() throws Exception {
    edit("    reference: mb_cusp", "    stages: {shape: {torque_ncm: 2}}\n    reference: mb_cusp");
    assertTrue(mistakes().get(0).contains("canals.MB.stages"), mistakes().toString());
  }

  @ParameterizedTest
  @ValueSource(
      strings = {"", "[]", "canals", "case: 1", "case: 1\ncanals: []", "canals: {MB: 3}", "\u0000"})
  void aFileThatIsNoCaseIsRefused(String text) throws Exception {
    Files.writeString(dir.resolve(ToothCase.FILE), text);
    assertTrue(!mistakes().isEmpty());
  }

  private static CaseCanal canal(ToothCase tooth, String name) {
    return tooth.canal(name).orElseThrow();
  }

  private List<String> mistakes() {
    PlanException wrong = assertThrows(PlanException.class, () -> CaseReader.read(dir));
    return wrong.mistakes().stream().map(Object::toString).toList();
  }

  private void edit(String right, String wrong) throws IOException {
    Path file = dir.resolve(ToothCase.FILE);
    String text = Files.readString(file);
    assertTrue(text.contains(right), right);
    int at = text.indexOf(right);
    Files.writeString(file, text.substring(0, at) + wrong + text.substring(at + right.length()));
  }
}
