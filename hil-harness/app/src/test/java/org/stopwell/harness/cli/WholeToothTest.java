package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseEntry.Filled;
import org.stopwell.harness.casework.CaseEntry.Measured;
import org.stopwell.harness.casework.CaseRecord;

/**
 * An upper molar with four canals goes from opening to filling by commands alone, on the virtual
 * bench. The case is the one that {@code case new} writes; two canals are edited.
 */
class WholeToothTest {
  /** Largest error of a length in these canals, µm; U does not include the error of the locator. */
  private static final int CLOSE = 250;

  /** Loss by straightening with steel files: J Endod 2002;28(6), abstract. */
  private static final double STRAIGHTENED_MM = 0.48;

  @TempDir Path dir;
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @Test
  void aMolarWithFourCanalsGoesThroughAllSevenSteps() throws Exception {
    Path tooth = dir.resolve("tooth-26");
    step(0, "new", tooth, "--tooth", "26", "--canal", "MB1,MB2,DB,P", "--operator", "B7");
    Map<String, Double> trueMm = Map.of("MB1", 13.2, "MB2", 12.7, "DB", 13.6, "P", 12.3);
    edit(tooth.resolve("case.yaml"), "length_mm: 12.7", ", taper: 0.04, curve_deg: 35");
    edit(tooth.resolve("case.yaml"), "length_mm: 12.3", ", shortened_mm: " + STRAIGHTENED_MM);

    for (String canal : List.of("MB1", "MB2", "DB", "P")) {
      step(0, "open", tooth, canal);
      step(5, "shape", tooth, canal);
      assertTrue(err.toString().contains("no length"), err.toString());
      step(0, "measure", tooth, canal);
      if (canal.equals("DB")) {
        // The film shows the tip 4 mm short: the length may not be used, and is measured again.
        step(5, "radiograph", tooth, canal, "--tip-to-apex-mm", "4");
        step(5, "shape", tooth, canal);
        step(0, "measure", tooth, canal);
      }
      step(0, "radiograph", tooth, canal, "--tip-to-apex-mm", "1");
      step(0, "shape", tooth, canal, "--file", "20/0.04,25/0.06");
      if (canal.equals("P")) {
        // Shaping has straightened this canal: the old length is too long, and nothing is filled.
        step(1, "recheck", tooth, canal);
        assertTrue(out.toString().contains("the length has changed"), out.toString());
        step(5, "fill", tooth, canal);
        step(0, "measure", tooth, canal);
        step(0, "radiograph", tooth, canal, "--tip-to-apex-mm", "0.5");
        step(0, "shape", tooth, canal);
      }
      step(0, "recheck", tooth, canal);
      step(0, "fill", tooth, canal);
      assertTrue(out.toString().contains("Not for use on a person."), out.toString());

      double lost = canal.equals("P") ? STRAIGHTENED_MM : 0;
      double truth = Objects.requireNonNull(trueMm.get(canal)) - lost + 7 - 0.5;
      try (CaseRecord record = CaseRecord.open(tooth)) {
        CanalHistory history = record.history(canal);
        Measured measured = history.latest(Measured.class).orElseThrow().entry();
        int length = measured.length().orElseThrow().lengthMicrons();
        assertEquals(truth * 1e3, length, CLOSE, canal);
        Filled filled = history.latest(Filled.class).orElseThrow().entry();
        assertTrue(filled.stamp().simulated(), canal);
      }
    }
    step(0, "verify", tooth);
    Path page = dir.resolve("tooth-26.html");
    step(0, "page", tooth, "--out", page);
    String html = Files.readString(page);
    for (String words :
        List.of("MB1", "MB2", "DB", "mesiobuccal cusp", "simulated", "not for use on a person")) {
      assertTrue(html.toLowerCase(Locale.ROOT).contains(words.toLowerCase(Locale.ROOT)), words);
    }
  }

  private static void edit(Path file, String key, String more) throws Exception {
    String before = Files.readString(file);
    assertTrue(before.contains(key), before);
    Files.writeString(file, before.replace(key, key + more));
  }

  private void step(int code, Object... words) {
    out.getBuffer().setLength(0);
    err.getBuffer().setLength(0);
    String[] args = new String[words.length + 1];
    args[0] = "case";
    for (int i = 0; i < words.length; i++) {
      args[i + 1] = words[i].toString();
    }
    int ended = Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
    assertEquals(code, ended, String.join(" ", args) + "\n" + out + err);
  }
}
