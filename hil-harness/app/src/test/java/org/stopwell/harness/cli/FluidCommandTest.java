package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.trial.TestPlans;
import org.w3c.dom.Element;

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
        "fluid fluid.irrigant=edta_17 fluid.conductivity_s_per_m=2 | give one of the two",
        "fluid canal.lenght_mm=10 | canal.lenght_mm: unknown key",
        "fluid --remaining-mm 20 | --remaining-mm 20.0 mm is outside -2 to 16.0 mm",
      })
  void wrongQuestionsEndWithTwo(String line, String message) {
    assertEquals(2, stopwell(line));
    assertTrue(err.toString().contains(message), err.toString());
  }

  @Test
  void fluidSaysHowWellANamedIrrigantConductsAndHowSurelyThatIsKnown() {
    assertEquals(0, stopwell("fluid fluid.irrigant=sodium_hypochlorite_2.5"), err.toString());
    assertTrue(
        out.toString().contains("sodium_hypochlorite_2.5 conducts 5.50 S/m at 25 °C (estimate"),
        out.toString());
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
    assertTrue(out.toString().contains("holds 7.7 mm³"), out.toString());
    assertTrue(
        out.toString().contains(String.format(java.util.Locale.ROOT, "displaces %.1f mm³", file)),
        out.toString());
    // no more digits than the flutes leave: they hold 1.7 mm³ of 7.7
    Matcher most = Pattern.compile("at most (\\d+) ± (\\d+) mm").matcher(out.toString());
    assertTrue(most.find(), out.toString());
    assertEquals(highest, Double.parseDouble(most.group(1)), 0.5);
    assertTrue(Double.parseDouble(most.group(2)) >= 2, out.toString());
    assertTrue(out.toString().startsWith("flat-level estimate"), out.toString());
    assertTrue(out.toString().contains("Bond number ρgr²/σ 0.0"), out.toString());
    assertTrue(out.toString().contains("the chamber is wet by the flat level"), out.toString());
    assertTrue(out.toString().contains("does not decide it; remove 1 ± 2 mm³"), out.toString());
  }

  /** A file that could not be there uncut has cut its way: the canal holds more than before. */
  @Test
  void theCanalIsAsTheFileHasCutIt() {
    assertEquals(
        0,
        stopwell(
            "fluid canal.length_mm=16 canal.taper=0.02 file.size=25 file.taper=0.06"
                + " fluid.level_mm=4"),
        err.toString());
    assertTrue(out.toString().contains("at most 1"), out.toString());
    assertFalse(out.toString().contains("at most 0"), out.toString());
  }

  @Test
  void theDrawingShowsFluidBesideTheFileUpToTheNewLevelAndNoHigher() {
    assertEquals(0, stopwell("fluid fluid.level_mm=8"), err.toString());
    List<String> rows = out.toString().lines().filter(l -> l.matches(" *\\d+ \\|.*")).toList();
    assertEquals(19, rows.size(), "16 mm of canal and 3 mm of chamber");
    double level = level();
    int wet = 0;
    for (String row : rows) {
      double middle = Integer.parseInt(row.substring(0, 4).trim()) + 0.5;
      boolean fluid = row.contains("~");
      assertFalse(fluid && middle > level + 0.5, row);
      assertEquals(middle > 0.5, row.contains("#"), row);
      wet += fluid ? 1 : 0;
    }
    assertTrue(wet >= 4, wet + " rows with fluid");
  }

  private double level() {
    Matcher matcher = Pattern.compile("it rises to ([\\d.]+) ± [\\d.]+ mm").matcher(out.toString());
    assertTrue(matcher.find(), out.toString());
    return Double.parseDouble(matcher.group(1));
  }

  @Test
  void thePictureIsWellFormedAndCarriesTheNumbersOfTheText(@TempDir Path dir) throws Exception {
    Path svg = dir.resolve("canal.svg");
    assertEquals(0, stopwell("fluid fluid.level_mm=14 --svg " + svg), err.toString());
    Element picture =
        DocumentBuilderFactory.newInstance()
            .newDocumentBuilder()
            .parse(svg.toFile())
            .getDocumentElement();
    assertEquals("svg", picture.getTagName());
    String text = picture.getTextContent();
    assertTrue(text.contains("14.00 mm level before"), text);
    assertTrue(text.contains("flat-level estimate"), text);
    Matcher level = Pattern.compile("it rises to ([\\d.]+ ± [\\d.]+ mm)").matcher(out.toString());
    assertTrue(level.find(), out.toString());
    assertTrue(text.contains(level.group(1) + " level with the file in"), text);
    double width = Double.parseDouble(picture.getAttribute("viewBox").split(" ", -1)[2]);
    var labels = picture.getElementsByTagName("text");
    for (int i = 0; i < labels.getLength(); i++) {
      Element label = (Element) labels.item(i);
      // A letter of 14 px is at most 7.7 px wide on average (assumed).
      double end =
          Double.parseDouble(label.getAttribute("x")) + 7.7 * label.getTextContent().length();
      assertTrue(end < width, label.getTextContent() + " touches the edge: " + end);
    }
  }

  @Test
  void checkSaysOfEveryConditionWhetherItsLevelSuitsAReading() {
    assertEquals(0, stopwell("check " + TestPlans.file("reference-canal")), err.toString());
    List<String> lines = out.toString().lines().toList();
    assertEquals(
        1,
        lines.stream()
            .filter(l -> l.contains("half-wet/slow, half-wet/steady, half-wet/quick: "))
            .count(),
        "the same sentence is said once");
    assertTrue(
        lines.stream()
            .filter(l -> l.contains("half-wet/"))
            .allMatch(l -> l.endsWith("the level suits a reading")),
        out.toString());
    assertTrue(
        lines.stream()
            .filter(l -> l.contains("brimful/"))
            .allMatch(
                l ->
                    l.contains("the chamber floods at 16.0 mm short of the foramen")
                        && l.contains("current can flow around the canal")),
        out.toString());
    assertTrue(
        lines.stream()
            .filter(l -> l.contains("dry/"))
            .allMatch(l -> l.contains("no reading is possible")),
        out.toString());
  }

  @Test
  void checkFindsThePlaceWhereTheChamberFloods(@TempDir Path dir) throws Exception {
    assertEquals(0, stopwell("fluid fluid.level_mm=14 file.size=25"), err.toString());
    Files.copy(
        TestPlans.file("first-stop").resolveSibling("../settings/reference-canal.yaml"),
        dir.resolve("length.yaml"));
    Path plan = dir.resolve("plan.yaml");
    Files.writeString(
        plan,
        """
        plan: 1
        name: nearly-full
        settings: length.yaml
        stage: length
        trials: 1
        factors:
          fluid:
            high: {fluid: {level_mm: 14}}
            late: {fluid: {level_mm: 0.6}}
        """);
    assertEquals(0, stopwell("check " + plan), err.toString());
    Matcher floods =
        Pattern.compile("high: the chamber floods at ([\\d.]+) mm").matcher(out.toString());
    assertTrue(floods.find(), out.toString());
    double at = Double.parseDouble(floods.group(1));
    assertTrue(at > 0.5 && at < 8, at + " mm");
    assertTrue(out.toString().contains("the plan expects otherwise"), out.toString());
    assertTrue(out.toString().contains("the reading comes too late"), out.toString());
  }

  private int stopwell(String line) {
    return Main.run(line.trim().split(" ", -1), new PrintWriter(out), new PrintWriter(err));
  }
}
