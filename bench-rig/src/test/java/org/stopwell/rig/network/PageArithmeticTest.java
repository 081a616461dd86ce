package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.DoubleStream;
import org.junit.jupiter.api.Test;

/**
 * The numbers in docs/resistor-network.md against each other and against the laws of the parts. The
 * tables can be written anew by their own tests; this one reads the page and shares no code with
 * them.
 */
class PageArithmeticTest {
  private static final Path PAGE = Path.of("..", "docs", "resistor-network.md");

  /** What the page states above its tables. */
  private static final double FORAMEN_OHMS = 6500;

  private static final double OHMS_PER_MM = 3000;
  private static final double STEP_OHMS = 30;
  private static final double MOST_ON_OHMS = 0.15;

  private final List<String> lines = Files.readAllLines(PAGE);

  PageArithmeticTest() throws IOException {}

  /** E96, IEC 60063: 100 · 10^(i/96), three digits. */
  @Test
  void theResistorsAreOfTheirSeriesAndLeaveNoGapWiderThanTheStep() {
    List<Double> values = bill();
    assertEquals(12, values.size());
    double leastBelow = 0;
    for (double value : values) {
      double digits = value / Math.pow(10, Math.floor(Math.log10(value)) - 2);
      double nearest = 96 * Math.log10(digits / 100);
      assertEquals(Math.rint(100 * Math.pow(10, Math.rint(nearest) / 96)), digits, 1e-6);
      assertTrue(1.01 * value <= leastBelow + STEP_OHMS + 12 * MOST_ON_OHMS, value + " Ω");
      leastBelow += 0.99 * value;
    }
  }

  @Test
  void everyRowOfTheNetworkAddsUp() {
    List<Double> values = bill();
    List<String[]> rows = rows("| short of the foramen, mm | wanted, Ω | code |");
    assertEquals(23, rows.size());
    for (String[] row : rows) {
      double wanted = number(row[1]);
      double made = number(row[3]);
      assertEquals(FORAMEN_OHMS + OHMS_PER_MM * number(row[0]), wanted, 0.5, row[0] + " mm");
      assertEquals(made - wanted, number(row[4]), 0.051, row[0] + " mm");
      assertEquals((made - wanted) / OHMS_PER_MM * 1000, number(row[5]), 0.07, row[0] + " mm");
      assertTrue(Math.abs(made - wanted) <= STEP_OHMS / 2, row[0] + " mm");
      double nominal = open(row[2], values);
      assertTrue(made >= 0.99 * nominal && made <= 1.01 * nominal + 12 * MOST_ON_OHMS, row[0]);
    }
  }

  @Test
  void everyRowForTwoFrequenciesAddsUp() {
    List<String[]> parts = rows("| resistors, Ω | capacitors, nF |");
    List<Double> ohms = list(parts.get(0)[0]);
    List<Double> nanofarads = list(parts.get(0)[1]);
    List<String[]> results = rows("| short of the foramen, mm | wanted, Ω | made, Ω |");
    List<String[]> codes = rows("| short of the foramen, mm | resistors | capacitors |");
    assertEquals(12, results.size());
    assertEquals(12, codes.size());
    for (int i = 0; i < results.size(); i++) {
      String[] result = results.get(i);
      String[] code = codes.get(i);
      assertEquals(i - 1, number(result[0]));
      assertEquals(i - 1, number(code[0]));
      double resistance = number(code[3]);
      double capacitance = number(code[4]);
      assertEquals(1, resistance / open(code[1], ohms), 0.011, "1 % resistors");
      assertEquals(1, (capacitance - 0.005) / open(code[2], nanofarads), 0.07, "5 % capacitors");
      List<Double> wanted = list(result[1]);
      List<Double> made = list(result[2]);
      assertEquals(1, made.get(0) / magnitude(resistance, capacitance, 500), 0.003);
      assertEquals(1, made.get(1) / magnitude(resistance, capacitance, 8_000), 0.01);
      assertEquals(wanted.get(1) / wanted.get(0), number(result[3]), 2e-4);
      assertEquals(made.get(1) / made.get(0), number(result[4]), 2e-4);
    }
  }

  @Test
  void theStatedWorstErrorsAreAtLeastThoseOfTheRows() {
    double ratio = 0;
    double magnitude = 0;
    for (String[] row : rows("| short of the foramen, mm | wanted, Ω | made, Ω |")) {
      ratio = Math.max(ratio, Math.abs(number(row[4]) / number(row[3]) - 1));
      for (int i = 0; i < 2; i++) {
        magnitude = Math.max(magnitude, Math.abs(list(row[2]).get(i) / list(row[1]).get(i) - 1));
      }
    }
    String worst =
        lines.stream().filter(l -> l.startsWith("Greatest error from")).findFirst().orElseThrow();
    double statedMagnitude = number(worst.replaceFirst(".*magnitude ([0-9.]+) %.*", "$1"));
    double statedRatio = number(worst.replaceFirst(".*ratio ([0-9.]+) %.*", "$1"));
    // Steps twenty times as fine find more, but not three times as much.
    assertTrue(statedMagnitude >= 100 * magnitude - 0.01 && statedMagnitude < 300 * magnitude);
    assertTrue(statedRatio >= 100 * ratio - 0.01 && statedRatio < 300 * ratio);
  }

  /** A resistor and a capacitor in parallel, Ω. */
  private static double magnitude(double ohms, double nanofarads, double hertz) {
    double x = 2 * Math.PI * hertz * ohms * nanofarads * 1e-9;
    return ohms / Math.sqrt(1 + x * x);
  }

  /** The sum of the parts whose bit is set; the last part stands first. */
  private static double open(String code, List<Double> values) {
    String bits = code.replace("`", "");
    assertEquals(values.size(), bits.length(), code);
    double sum = 0;
    for (int i = 0; i < bits.length(); i++) {
      sum += bits.charAt(bits.length() - 1 - i) == '1' ? values.get(i) : 0;
    }
    return sum;
  }

  private List<Double> bill() {
    List<Double> values = new ArrayList<>();
    for (String[] row : rows("| value, Ω | pieces |")) {
      DoubleStream.generate(() -> number(row[0])).limit((long) number(row[1])).forEach(values::add);
    }
    return values;
  }

  /** The rows below a head, up to the end of the table. */
  private List<String[]> rows(String head) {
    List<String[]> rows = new ArrayList<>();
    int at = 0;
    while (!lines.get(at).startsWith(head)) {
      at++;
    }
    for (at += 2; lines.get(at).startsWith("|"); at++) {
      String line = lines.get(at);
      rows.add(
          Arrays.stream(line.substring(1, line.length() - 1).split("\\|", -1))
              .map(String::strip)
              .toArray(String[]::new));
    }
    return rows;
  }

  private static List<Double> list(String cell) {
    return Arrays.stream(cell.split(", ", -1)).map(PageArithmeticTest::number).toList();
  }

  private static double number(String text) {
    return Double.parseDouble(text);
  }
}
