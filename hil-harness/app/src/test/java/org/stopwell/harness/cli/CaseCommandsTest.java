package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.SampleCase;
import org.stopwell.harness.casework.ToothCase;

/** The commands of a case that move no file. */
class CaseCommandsTest {
  @TempDir Path dir;

  @Test
  void aNewCaseReplacesNothingAndTakesNoName() {
    String at = dir.resolve("tooth").toString();
    assertEquals(2, said("case", "new", at, "--tooth", "36", "--operator", "Anna").code);
    assertEquals(2, said("case", "new", at, "--tooth", "39", "--operator", "A1").code);
    Said canal = said("case", "new", at, "--tooth", "36", "--operator", "A1", "--canal", "Miller");
    assertTrue(canal.err.contains("Miller is not the name of a canal"), canal.err);
    assertFalse(Files.exists(dir.resolve("tooth")), "a refusal writes nothing");
    assertEquals(0, said("case", "new", at, "--tooth", "36", "--operator", "A1").code);
    Said again = said("case", "new", at, "--tooth", "36", "--operator", "A1");
    assertEquals(2, again.code);
    assertTrue(again.err.contains("exists; give another directory"), again.err);
  }

  @Test
  void showListsEveryMistakeWithItsLine() throws Exception {
    SampleCase.write(dir);
    Said right = said("case", "show", dir);
    assertEquals(0, right.code, right.err);
    assertTrue(right.out.contains("the recheck found that the length has changed"), right.out);
    Path file = dir.resolve(ToothCase.FILE);
    Files.writeString(
        file,
        Files.readString(file).replace("tooth: 36", "patient: 4711").replace("ml_cusp", "elbow"));
    Said wrong = said("case", "show", dir);
    assertEquals(2, wrong.code);
    assertTrue(wrong.err.contains("case.yaml:5: patient: not allowed"), wrong.err);
    assertTrue(wrong.err.contains("canals.ML.reference: elbow"), wrong.err);
  }

  @Test
  void verifyTellsAnEditedLineFromACutOneAndFromMissingOnes() throws Exception {
    SampleCase.write(dir);
    Path file = dir.resolve(CaseRecord.FILE);
    String whole = Files.readString(file);
    String head = CaseRecord.verify(dir).head();
    assertEquals(0, said("case", "verify", dir, "--head", head.substring(0, 12)).code);

    Files.writeString(file, whole.replace("19180", "19280"));
    Said edited = said("case", "verify", dir);
    assertEquals(1, edited.code);
    assertTrue(edited.out.contains("record.jsonl:8: "), edited.out);

    Files.writeString(file, whole.substring(0, whole.length() - 9));
    Said cut = said("case", "verify", dir);
    assertEquals(5, cut.code);
    assertTrue(cut.out.contains("UNDECIDED") && cut.out.contains("was cut"), cut.out);

    int last = whole.lastIndexOf('\n', whole.length() - 2) + 1;
    Files.writeString(file, whole.substring(0, last));
    assertEquals(0, said("case", "verify", dir).code, "the chain is whole");
    assertEquals(1, said("case", "verify", dir, "--head", head).code, "but its head is another");
    assertEquals(2, said("case", "verify", dir, "--head", "xyz").code);
  }

  @Test
  void aFillingIsProposedOrRefusedAndOnlyAProposalIsRecorded() throws Exception {
    SampleCase.write(dir);
    int before = CaseRecord.verify(dir).entries().size();
    Said mb = said("case", "fill", dir, "MB", "--cone-taper", "0.02");
    assertEquals(0, mb.code, mb.err);
    assertTrue(mb.out.contains("Bench and teaching. Not for use on a person."), mb.out);
    assertTrue(mb.out.contains("Master cone 25/0.02, stop at 19.72 mm"), mb.out);
    for (String canal : new String[] {"ML", "DB", "DL"}) {
      Said refused = said("case", "fill", dir, canal);
      assertEquals(5, refused.code);
      assertTrue(refused.err.contains("UNDECIDED: " + canal + ": "), refused.err);
    }
    assertEquals(2, said("case", "fill", dir, "XX").code);
    assertEquals(before + 1, CaseRecord.verify(dir).entries().size());
  }

  @Test
  void thePlanOfAStepIsPrintedAndAStepWithoutALengthHasNone() throws Exception {
    SampleCase.write(dir);
    Said shape = said("case", "plan", dir, "MB", "shape");
    assertEquals(0, shape.code, shape.err);
    assertTrue(shape.out.contains("depth_limit_mm: 12.72"), shape.out);
    assertEquals(5, said("case", "plan", dir, "DL", "shape").code);
    assertEquals(2, said("case", "plan", dir, "MB", "fill").code);
  }

  @Test
  void aPhysicalBenchPlaysNoModel() throws Exception {
    SampleCase.write(dir);
    for (String step : new String[] {"open", "measure", "shape", "recheck"}) {
      Said refused = said("case", step, dir, "MB", "--bench", "serial", "--port", "/dev/none");
      assertEquals(2, refused.code, refused.err);
      assertTrue(refused.err.contains("canal MB is a model"), refused.err);
    }
  }

  @Test
  void thePageNeedsAFileOrJson() throws Exception {
    SampleCase.write(dir);
    assertEquals(2, said("case", "page", dir).code);
    Said json = said("case", "page", dir, "--json");
    assertEquals(0, json.code, json.err);
    assertTrue(json.out.contains("\"simulated\" : true"), json.out);
  }

  private record Said(int code, String out, String err) {}

  private static Said said(Object... words) {
    String[] line = new String[words.length];
    for (int i = 0; i < words.length; i++) {
      line[i] = words[i].toString();
    }
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code = Main.run(line, new PrintWriter(out), new PrintWriter(err));
    return new Said(code, out.toString(), err.toString());
  }
}
