package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.core.settings.Calibration;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.board.EmulatedBoard;

/** The bench's ports and its curve. */
class RigCommandTest {
  private final StringWriter out = new StringWriter();
  private final StringWriter err = new StringWriter();

  @Test
  void theShippedCurveIsTheOneThatTheSweepMakes() throws Exception {
    assertEquals(
        0,
        stopwell(
            "rig curve canal.constriction_diameter_mm=0.3 file.size=25 file.taper=0.04"
                + " fluid.level_mm=8 front_end.frequency_1_hz=630"
                + " front_end.frequency_2_hz=6300 --step-mm 0.125"),
        err.toString());
    Path file =
        TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml").normalize();
    Source shipped = Source.of(file);
    String head = shipped.text().substring(0, shipped.text().indexOf("calibration:"));
    Calibration made = Settings.read(new Source("made", head + out)).controller().calibration();
    for (Calibration.Point point : Settings.read(shipped).controller().calibration().points()) {
      Calibration.Point same =
          made.points().stream()
              .filter(p -> p.remainingMicrons() == point.remainingMicrons())
              .findFirst()
              .orElseThrow();
      assertTrue(Math.abs(point.feature() - same.feature()) <= 1, point + " " + same);
      assertTrue(Math.abs(point.lowMilliOhms() - same.lowMilliOhms()) <= 1_000, point + " " + same);
    }
  }

  @Test
  void theShippedCurveOfManyCanalsIsTheOneThatTheSweepMakes() throws Exception {
    assertEquals(
        0,
        stopwell(
            "rig curve --population 200 file.size=15 file.taper=0.04"
                + " front_end.frequency_1_hz=630 front_end.frequency_2_hz=6300 --step-mm 0.125"),
        err.toString());
    String shipped = Files.readString(TestPlans.root().resolve("docs/settings/ratio.yaml"));
    String curve = "calibration:";
    assertEquals(
        shipped.substring(shipped.indexOf(curve)).strip(),
        out.toString().substring(out.toString().indexOf(curve)).strip());
  }

  @Test
  void tooFewCanalsGiveACurveWithoutBound() {
    assertEquals(0, stopwell("rig curve --population 18"), err.toString());
    assertTrue(out.toString().contains("remaining_mm: 0.5}"), out.toString());
    out.getBuffer().setLength(0);
    assertEquals(0, stopwell("rig curve --population 19"), err.toString());
    assertTrue(out.toString().contains("remaining_mm: 0.5, bound_mm: "), out.toString());
  }

  @Test
  void aNetworkOfResistorsGivesAStraightLine() {
    assertEquals(
        0,
        stopwell(
            "rig curve --policy resistance canal.kind=resistors canal.body_ohm=6500"
                + " canal.ohm_per_mm=3000"
                + " front_end.frequency_1_hz=700 front_end.stray_pf=100 --step-mm 1"),
        err.toString());
    // The cable's 100 pF in parallel: R/sqrt(1 + (2 pi 700 Hz R C)^2) = 6499.973 ohm.
    assertTrue(
        out.toString().contains("{resistance_ohm: 6499.973, remaining_mm: 0}"), out.toString());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "rig | a command is missing",
        "rig curve --step-mm 0 | --step-mm 0.0 is outside 0.01 to 5 mm",
        "rig curve --deepest-mm 7 | must rise",
        "rig curve --population 5 --policy resistance | --population goes with --policy ratio",
        "rig curve --population 5 canal.length_mm=1 | canal.length_mm: 1 mm is outside 4 to 30 mm",
        "rig curve canal.length_mm=1 | canal.length_mm: 1 mm is outside 4 to 30 mm",
        "rig curve fluid.level_mm=0 | no curve",
        "rig stage --port X --speed 0 | --speed 0.0 is outside 0.001 to 1000 mm/s",
        "rig stage --to 5 | Missing required option: '--port=PORT'",
        "rig emulate --baud x | Invalid value for option '--baud'",
        "rig prove --bench boards --port X | --bench boards and --drive-port go together",
        "rig prove --bench serial --port X --drive-port Y | --bench boards and --drive-port go",
      })
  void wrongUsageEndsWithTwo(String line, String message) {
    assertEquals(2, stopwell(line), out.toString());
    assertTrue(err.toString().contains(message), err.toString());
  }

  @Test
  void portsAreListed() {
    assertEquals(0, stopwell("rig list"), err.toString());
    assertTrue(!out.toString().isBlank());
  }

  @Test
  void theStageOfABoardIsMovedByHand() throws Exception {
    try (EmulatedBoard board = EmulatedBoard.start(EmulatedBoard.identity(true, 1_000_000), 0)) {
      String port = " --port " + board.portName();
      assertEquals(3, stopwell("rig stage --to 5" + port), out.toString());
      assertTrue(err.toString().contains("NOT_HOMED on the way to 5000 µm"), err.toString());
      assertEquals(0, stopwell("rig stage --home --to 5.25 --speed 10" + port), err.toString());
      assertTrue(out.toString().startsWith("simulated: 5.250 mm from home"), out.toString());
    }
  }

  @Test
  void aBoardThatIsAtNoPortIsARigFaultThatSaysWhatWasFound() {
    assertEquals(3, stopwell("rig prove --bench serial --port board:NOBODY"), err.toString());
    assertTrue(err.toString().contains("no board NOBODY"), err.toString());
    assertEquals(0, stopwell("rig list --boards"), err.toString());
  }

  private int stopwell(String line) {
    return Main.run(line.trim().split(" ", -1), new PrintWriter(out), new PrintWriter(err));
  }
}
