package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** The colours of the pages: enough contrast on light and on dark paper. */
class LookTest {
  /** WCAG 2.2: lines and marks need 3 to 1 (1.4.11), text 4.5 to 1 (1.4.3). */
  private static final double MARK = 3;

  private static final double TEXT = 4.5;
  private static final Pattern COLOUR = Pattern.compile("--([\\w-]+): #([0-9a-f]{6});");
  private static final List<String> HUES =
      List.of("blue", "sky", "orange", "vermillion", "green", "purple");

  /** The colours of the light scheme, then those of the dark one. */
  private static List<Map<String, Integer>> schemes() {
    List<Map<String, Integer>> schemes = new ArrayList<>();
    COLOUR
        .matcher(Look.css())
        .results()
        .forEach(
            colour -> {
              if (colour.group(1).equals("paper")) {
                schemes.add(new HashMap<>());
              }
              schemes
                  .get(schemes.size() - 1)
                  .put(colour.group(1), Integer.parseInt(colour.group(2), 16));
            });
    return schemes;
  }

  /** WCAG 2.2, relative luminance of an sRGB colour. */
  private static double luminance(int rgb) {
    double sum = 0;
    double[] weights = {0.2126, 0.7152, 0.0722};
    for (int i = 0; i < 3; i++) {
      double c = (rgb >> (16 - 8 * i) & 255) / 255.0;
      sum += weights[i] * (c <= 0.04045 ? c / 12.92 : Math.pow((c + 0.055) / 1.055, 2.4));
    }
    return sum;
  }

  private static void contrast(
      Map<String, Integer> scheme, String over, String under, double least) {
    double a = luminance(Objects.requireNonNull(scheme.get(over), over));
    double b = luminance(Objects.requireNonNull(scheme.get(under), under));
    double ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    assertTrue(ratio >= least, over + " on " + under + " has " + ratio + ", least " + least);
  }

  @Test
  void bothSchemesNameTheSameColours() {
    assertEquals(2, schemes().size());
    assertEquals(schemes().get(0).keySet(), schemes().get(1).keySet());
    assertTrue(schemes().get(0).keySet().containsAll(HUES));
  }

  @Test
  void textAndMarksCanBeSeen() {
    for (Map<String, Integer> scheme : schemes()) {
      for (String paper : List.of("paper", "wash")) {
        contrast(scheme, "ink", paper, TEXT);
        contrast(scheme, "soft", paper, TEXT);
        contrast(scheme, "edge", paper, MARK);
        contrast(scheme, "steel", paper, MARK);
        for (String hue : HUES) {
          contrast(scheme, hue, paper, MARK);
          contrast(scheme, hue + "-ink", paper, TEXT);
        }
      }
      for (String hue : HUES) {
        contrast(scheme, "ink", hue + "-wash", TEXT);
        contrast(scheme, "soft", hue + "-wash", TEXT);
        contrast(scheme, hue + "-ink", hue + "-wash", TEXT);
      }
    }
  }

  @Test
  void everyColourComesFromTheSharedLook() {
    String own = ReportPage.resource("report.css") + ReportPage.resource("drawing.css");
    assertFalse(Pattern.compile("#[0-9a-fA-F]{3}|rgba?\\(|hsla?\\(").matcher(own).find(), own);
    for (var used = Pattern.compile("var\\(--([\\w-]+)").matcher(Look.ofResults()); used.find(); ) {
      assertTrue(
          used.group(1).equals("tone") || Look.css().contains("--" + used.group(1) + ":"),
          used.group(1));
    }
  }

  /** Drawing programs know no custom properties: a file states each colour by its value. */
  @Test
  void aDrawingThatIsAFileStatesItsColours() {
    Drawing drawing = new Drawing("d", 10, 10, "A dot", "One dot.");
    drawing.path("dot", Drawing.dot(5, 5));
    String file = drawing.file();
    assertFalse(file.contains("var("), file);
    assertTrue(file.contains("svg .dot { stroke: #0072b2;"), file);
    assertFalse(file.contains(".miss"), "rules of marks that are not drawn");
  }
}
