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

/** What {@code learn} refuses before it learns anything. */
class LearnCommandTest {
  @TempDir Path directory;

  private final StringWriter err = new StringWriter();

  private int learn(String... more) {
    String[] args = new String[4 + more.length];
    args[0] = "learn";
    args[1] = directory.toString();
    args[2] = "--out";
    args[3] = directory.resolve("my.weights").toString();
    System.arraycopy(more, 0, args, 4, more.length);
    return Main.run(args, new PrintWriter(new StringWriter()), new PrintWriter(err, true));
  }

  private void teeth(int count, String columns, String row) throws Exception {
    for (int i = 0; i < count; i++) {
      Files.writeString(
          directory.resolve("T" + i + "_1.csv"), "t_ms," + columns + "\n0," + row + "\n");
    }
  }

  private static final String FOUR =
      "z300hz_re_ohm,z300hz_im_ohm,z1500hz_re_ohm,z1500hz_im_ohm,"
          + "z7000hz_re_ohm,z7000hz_im_ohm,z20000hz_re_ohm,z20000hz_im_ohm";

  @Test
  void nineTeethAreTooFew() throws Exception {
    teeth(9, FOUR + ",true_remaining_mm", "9,-1,8,-1,7,-1,6,-1,2");
    assertEquals(2, learn());
    assertTrue(
        err.toString().contains("traces of 9 teeth; learning needs at least 10"), err::toString);
    assertFalse(Files.exists(directory.resolve("my.weights")));
  }

  @Test
  void otherFrequenciesAreNamed() throws Exception {
    teeth(10, "z700hz_re_ohm,z700hz_im_ohm,true_remaining_mm", "9,-1,2");
    assertEquals(2, learn());
    assertTrue(err.toString().contains("impedance at [700] Hz"), err::toString);
    assertTrue(err.toString().contains("[300, 1500, 7000, 20000] Hz"), err::toString);
  }

  @Test
  void everyTraceNeedsTheTruth() throws Exception {
    teeth(10, FOUR, "9,-1,8,-1,7,-1,6,-1");
    assertEquals(2, learn());
    assertTrue(err.toString().contains("T0_1.csv:1: "), err::toString);
    assertTrue(err.toString().contains("true_remaining_mm"), err::toString);
  }

  @Test
  void anApproachThatEndsFarFromTheForamenIsNamed() throws Exception {
    teeth(10, FOUR + ",true_remaining_mm", "9000,-1,8000,-1,7000,-1,6000,-1,2.5");
    assertEquals(2, learn());
    assertTrue(
        err.toString().contains("T3_1.csv: the file comes no nearer to the foramen than 2.5 mm"),
        err::toString);
  }

  @Test
  void sizeAndTaperBelongTogether() throws Exception {
    assertEquals(2, learn("--file-size", "15"));
    assertTrue(err.toString().contains("--file-taper"), err::toString);
  }
}
