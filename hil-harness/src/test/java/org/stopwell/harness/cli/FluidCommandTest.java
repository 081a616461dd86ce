package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** How full a canal may be before a file floods the chamber. */
class FluidCommandTest {
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "fluid canal | write section.key=value",
        "fluid hands.feed_mm_per_s=1 | sections canal, fluid, file",
        "fluid canal.length_mm=1 | canal.length_mm: 1 mm is outside 4 to 30 mm",
        "fluid canal.lenght_mm=10 | canal.lenght_mm: unknown key",
        "fluid --remaining-mm 20 | --remaining-mm 20.0 mm is outside -2 to 16.0 mm",
      })
  void wrongQuestionsEndWithTwo(String line, String message) {
    assertEquals(2, stopwell(line));
    assertTrue(err.toString().contains(message), err.toString());
  }

  @Test
  void fluidAgreesWithTheClosedFormOfDisplacement() {
    // Canal 25/.06, H = 16 mm: 7.661716 mm³. File 25/.04, tip at 0.5 mm: 4.207627 mm³ when solid,
    // 0.6 of that here. Highest level r_a³ + 3α(V_c − V_f)/π, closed form, computed.
    double canal = 7.661716164;
    double file = 0.6 * 4.207626671;
    double radius = 0.125;
    double slope = 0.03;
    double highest =
        (Math.cbrt(Math.pow(radius, 3) + 3 * slope * (canal - file) / Math.PI) - radius) / slope;
    assertEquals(
        0,
        stopwell(
            "fluid canal.constriction_mm=0 canal.constriction_diameter_mm=0.25"
                + " canal.foramen_diameter_mm=0.25 canal.taper=0.06 file.size=25 file.taper=0.04"
                + " file.solid_fraction=0.6 fluid.level_mm=15"),
        err.toString());
    assertTrue(out.toString().contains("holds 7.662 mm³"), out.toString());
    assertTrue(
        out.toString().contains(String.format(java.util.Locale.ROOT, "displaces %.3f mm³", file)),
        out.toString());
    assertTrue(
        out.toString().contains(String.format(java.util.Locale.ROOT, "at most %.2f mm", highest)),
        highest + "\n" + out);
    assertTrue(out.toString().contains("the chamber is wet; take away"), out.toString());
  }

  private int stopwell(String line) {
    return Main.run(line.trim().split(" ", -1), new PrintWriter(out), new PrintWriter(err));
  }
}
