package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.Network.Code;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.Specimen;

/**
 * The part of the resistor page for two frequencies: the network against the simulated tooth of the
 * virtual bench. To rewrite it: {@code -DargLine=-Dstopwell.write=true}.
 */
class CapacitorPageTest {
  private static final Path PAGE = Path.of("..", "docs", "resistor-network.md");
  private static final Path PICTURE = Path.of("..", "docs", "pictures", "network-ratio.svg");
  private static final int LOW = 500;
  private static final int HIGH = 8000;

  /** The ladder of the canal board, Ω, but for the 100 Ω that always stay. */
  private static final List<Double> BOARD_OHMS =
      List.of(
          10.0, 20.0, 40.2, 80.6, 162.0, 324.0, 634.0, 1210.0, 2370.0, 4640.0, 9090.0, 17_800.0,
          34_800.0);

  private static final double FARAD_STEP = 0.1e-9;
  private static final double FARAD_REACH = 8e-9;

  private final LadderDesign resistors = new LadderDesign(10, 0.01, SwitchSpec.RELAY, BOARD_OHMS);
  private final CapacitorDesign capacitors =
      CapacitorDesign.choose(FARAD_STEP, FARAD_REACH, ESeries.E6, 0.05, 0.1);
  private final RandomStream random = RandomStream.of(1, "a network with capacitors as built");
  private final Network built =
      new Network(
          resistors.built(nominal -> random.nextBetween(-1, 1)),
          capacitors.built(nominal -> random.nextBetween(-1, 1)));
  private final Specimen tooth = tooth();

  private record Row(double mm, Target low, Target high, Code code, Impedance a, Impedance b) {
    double wantedRatio() {
      return high.impedance().magnitude() / low.impedance().magnitude();
    }

    double madeRatio() {
      return b.magnitude() / a.magnitude();
    }
  }

  private static Specimen tooth() {
    try {
      return new Specimen(
          Scene.of(
              Map.of(
                  "front_end",
                  Map.of("frequency_1_hz", "" + LOW, "frequency_2_hz", "" + HIGH),
                  "fluid",
                  Map.of("level_mm", "12")),
              1));
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  private List<Row> rows(double from, double to, double step) {
    List<Row> rows = new ArrayList<>();
    for (int i = 0; from + i * step <= to + 1e-9; i++) {
      double mm = from + i * step;
      MeasuringCircuit circuit = tooth.at(mm * 1e-3);
      Target low = new Target(LOW, new Impedance(circuit.ohmsRe(0), circuit.ohmsIm(0)));
      Target high = new Target(HIGH, new Impedance(circuit.ohmsRe(1), circuit.ohmsIm(1)));
      Code code = built.codeFor(Pair.ofMagnitudes(low, high));
      rows.add(
          new Row(mm, low, high, code, built.impedance(code, LOW), built.impedance(code, HIGH)));
    }
    return rows;
  }

  @Test
  void thePageHoldsTheTableForTwoFrequencies() throws IOException {
    String page = Files.readString(PAGE);
    String begin = "<!-- generated: capacitors -->\n";
    int from = page.indexOf(begin) + begin.length();
    int to = page.indexOf("<!-- end: capacitors -->");
    assertTrue(from >= begin.length() && to >= from, "no block capacitors");
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page.substring(0, from) + text() + page.substring(to));
    } else {
      assertEquals(text(), page.substring(from, to));
    }
  }

  /** The values to buy are the initial values of the firmware of the canal board. */
  @Test
  void theBoardHasTheBankOfThePage() throws IOException {
    String calibration = Files.readString(Path.of("firmware", "canal-board", "calibration.h"));
    List<String> picofarads = new ArrayList<>();
    capacitors.nominalFarads().forEach(f -> picofarads.add(line("%.0f", f * 1e12)));
    String bank = ".bank = {.picofarads = {" + String.join(", ", picofarads) + ", 10000, 22000}}";
    assertTrue(calibration.contains(bank), bank);
  }

  @Test
  void thePictureShowsTheRatio() throws IOException {
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PICTURE, picture());
    }
    assertEquals(picture(), Files.readString(PICTURE));
  }

  @Test
  void nearTheForamenMagnitudesAreMadeToAPartInAHundred() {
    for (Row row : rows(-1, 3, 0.1)) {
      assertEquals(
          1, row.a().magnitude() / row.low().impedance().magnitude(), 0.01, row.toString());
      assertEquals(
          1, row.b().magnitude() / row.high().impedance().magnitude(), 0.01, row.toString());
    }
  }

  private String text() {
    StringBuilder page = new StringBuilder("\n### Parts for two frequencies\n\n");
    page.append(
        line(
            "Resistors of the canal board without its fixed 100 Ω, 1 %%. Capacitors for a step of %.1f nF up"
                + " to %.0f nF, E6, film, 5 %%. Each with a switch.\n\n",
            FARAD_STEP * 1e9, FARAD_REACH * 1e9));
    page.append("| resistors, Ω | capacitors, nF |\n|---|---|\n| ");
    List<String> ohms = new ArrayList<>();
    resistors.bill().forEach((value, n) -> ohms.add(plain(value) + (n > 1 ? " (" + n + ")" : "")));
    List<String> farads = new ArrayList<>();
    capacitors
        .bill()
        .forEach(
            (value, n) -> farads.add(line("%.3g", value * 1e9) + (n > 1 ? " (" + n + ")" : "")));
    page.append(String.join(", ", ohms)).append(" | ").append(String.join(", ", farads));
    page.append(" |\n\n### Accuracy at two frequencies\n\n");
    page.append(
        line(
            "Wanted: magnitudes of the simulated tooth of the virtual bench (defaults of the scene, fluid"
                + " 12 mm) at %d and %d Hz. Made: one network, drawn within its tolerances (seed 1)."
                + "\n\n",
            LOW, HIGH));
    page.append("| short of the foramen, mm | wanted, Ω | made, Ω | ratio wanted | ratio made |");
    page.append(" phase error, ° |\n|---:|---:|---:|---:|---:|---:|\n");
    for (Row row : rows(-1, 10, 1)) {
      page.append(
          line(
              "| %.0f | %.0f, %.0f | %.0f, %.0f | %.4f | %.4f | %+.0f, %+.0f |\n",
              row.mm(),
              row.low().impedance().magnitude(),
              row.high().impedance().magnitude(),
              row.a().magnitude(),
              row.b().magnitude(),
              row.wantedRatio(),
              row.madeRatio(),
              degrees(row.a()) - degrees(row.low().impedance()),
              degrees(row.b()) - degrees(row.high().impedance())));
    }
    page.append("\nThe same rows as codes, last part first:\n\n");
    page.append("| short of the foramen, mm | resistors | capacitors | resistance, Ω |");
    page.append(" capacitance, nF |\n|---:|---|---|---:|---:|\n");
    for (Row row : rows(-1, 10, 1)) {
      page.append(
          line(
              "| %.0f | `%s` | `%s` | %.0f | %.2f |\n",
              row.mm(),
              bits(row.code().resistors(), built.ladder().rungs().size()),
              bits(row.code().capacitors(), built.bank().farads().size()),
              built.ladder().ohms(row.code().resistors()),
              built.bank().farads(row.code().capacitors()) * 1e9));
    }
    List<Row> all = rows(-1, 10, 0.05);
    page.append(
        line(
            "\nGreatest error from -1 to 10 mm in steps of 0.05 mm: magnitude %.2f %%, ratio %.2f %%, phase"
                + " %.0f°.\n\n",
            100 * worst(all, CapacitorPageTest::magnitudeOff),
            100 * worst(all, row -> Math.abs(row.madeRatio() / row.wantedRatio() - 1)),
            worst(all, CapacitorPageTest::phaseOff)));
    page.append("![Ratio by position](pictures/network-ratio.svg)\n");
    page.append(fewer(all));
    return page.toString();
  }

  private static String bits(int code, int count) {
    StringBuilder bits = new StringBuilder();
    for (int k = count - 1; k >= 0; k--) {
      bits.append(code >> k & 1);
    }
    return bits.toString();
  }

  /** Best result of fewer capacitors, with exact parts. */
  private String fewer(List<Row> all) {
    StringBuilder page = new StringBuilder("\n### With fewer capacitors\n\n");
    page.append(
        "Best values for this curve, with exact parts and any resistance. Real parts are worse.\n\n");
    page.append(
        "| capacitors | values, nF | greatest error of the ratio | greatest error of the depth, −1 to 2 mm |\n");
    page.append("|---|---|---:|---:|\n");
    page.append(fewer("one, equal at every depth", all, new double[] {one(all)}));
    double[] two = two(all);
    page.append(
        fewer(
            "two, switched with the depth",
            all,
            new double[] {0, two[0], two[1], two[0] + two[1]},
            two[0],
            two[1]));
    page.append(
        line(
            "| the bank above, as drawn | see above | %.2f %% | %.3f mm |\n",
            100 * worst(all, row -> Math.abs(row.madeRatio() / row.wantedRatio() - 1)),
            deepest(all, Row::madeRatio)));
    return page.toString();
  }

  private static String fewer(String what, List<Row> rows, double[] choices, double... values) {
    double[] shown = values.length == 0 ? choices : values;
    List<String> nanofarads = new ArrayList<>();
    for (double farads : shown) {
      nanofarads.add(line("%.2f", farads * 1e9));
    }
    return line(
        "| %s | %s | %.1f %% | %.2f mm |\n",
        what,
        String.join(", ", nanofarads),
        100 * worst(rows, row -> Math.abs(nearest(row, choices) / row.wantedRatio() - 1)),
        deepest(rows, row -> nearest(row, choices)));
  }

  /** Ratio of a capacitance when the resistor gives the exact lower magnitude. */
  private static double ratio(Row row, double farads) {
    double low = 2 * Math.PI * LOW;
    double high = 2 * Math.PI * HIGH;
    double x = row.low().impedance().magnitude() * farads;
    return 1 / Math.sqrt(1 + x * x * (high * high - low * low));
  }

  private static double nearest(Row row, double... choices) {
    double best = Double.NaN;
    for (double farads : choices) {
      double ratio = ratio(row, farads);
      if (!(Math.abs(ratio - row.wantedRatio()) >= Math.abs(best - row.wantedRatio()))) {
        best = ratio;
      }
    }
    return best;
  }

  private static double one(List<Row> rows) {
    double best = 0;
    for (int i = 1; i <= 600; i++) {
      double farads = i * 1e-11;
      best = worstOf(rows, farads) < worstOf(rows, best) ? farads : best;
    }
    return best;
  }

  private static double[] two(List<Row> rows) {
    double[] best = {1e-9, 1e-9};
    double least = Double.POSITIVE_INFINITY;
    for (int i = 1; i <= 120; i++) {
      for (int j = i; j <= 120; j++) {
        double a = i * 5e-11;
        double b = j * 5e-11;
        double worst = worstOf(rows, 0, a, b, a + b);
        if (worst < least) {
          least = worst;
          best = new double[] {a, b};
        }
      }
    }
    return best;
  }

  private static double worstOf(List<Row> rows, double... choices) {
    return worst(rows, row -> Math.abs(nearest(row, choices) / row.wantedRatio() - 1));
  }

  /** Error of a device that reads the depth from the ratio, mm, where the curve is steep. */
  private static double deepest(List<Row> rows, ToDoubleFunction<Row> made) {
    double worst = 0;
    for (Row row : rows) {
      if (row.mm() <= 2 + 1e-9) {
        double ratio = made.applyAsDouble(row);
        double nearestMm = row.mm();
        double off = Double.POSITIVE_INFINITY;
        for (Row other : rows) {
          if (Math.abs(other.wantedRatio() - ratio) < off) {
            off = Math.abs(other.wantedRatio() - ratio);
            nearestMm = other.mm();
          }
        }
        worst = Math.max(worst, Math.abs(nearestMm - row.mm()));
      }
    }
    return worst;
  }

  private static double magnitudeOff(Row row) {
    return Math.max(
        Math.abs(row.a().magnitude() / row.low().impedance().magnitude() - 1),
        Math.abs(row.b().magnitude() / row.high().impedance().magnitude() - 1));
  }

  private static double phaseOff(Row row) {
    return Math.max(
        Math.abs(degrees(row.a()) - degrees(row.low().impedance())),
        Math.abs(degrees(row.b()) - degrees(row.high().impedance())));
  }

  private static double worst(List<Row> rows, ToDoubleFunction<Row> of) {
    return rows.stream().mapToDouble(of).max().orElseThrow();
  }

  private static double degrees(Impedance z) {
    return Math.toDegrees(z.phase());
  }

  private String picture() {
    List<Row> rows = rows(-1, 10, 0.05);
    double least = rows.stream().mapToDouble(Row::wantedRatio).min().orElseThrow();
    double most = rows.stream().mapToDouble(Row::wantedRatio).max().orElseThrow();
    double bottom = Math.floor(least * 20) / 20;
    double top = Math.ceil(most * 20) / 20;
    StringBuilder wanted = new StringBuilder();
    StringBuilder dots = new StringBuilder();
    for (Row row : rows) {
      double x = 80 + 640 * (row.mm() + 1) / 11;
      wanted.append(
          line(
              "%s%.1f %.1f",
              wanted.length() == 0 ? "M" : " L", x, y(row.wantedRatio(), bottom, top)));
      dots.append(
          line(
              "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"1.8\"/>\n", x, y(row.madeRatio(), bottom, top)));
    }
    StringBuilder axes = new StringBuilder();
    for (int mm = -1; mm <= 10; mm++) {
      axes.append(line("<text x=\"%.1f\" y=\"286\">%d</text>\n", 80 + 640 * (mm + 1) / 11.0, mm));
    }
    StringBuilder lines = new StringBuilder();
    StringBuilder labels = new StringBuilder();
    int steps = (int) Math.rint((top - bottom) / 0.05);
    int every = Math.max(1, steps / 6);
    for (int i = 0; i <= steps; i += every) {
      double ratio = bottom + 0.05 * i;
      double at = y(ratio, bottom, top);
      lines.append(line("<path d=\"M80 %.1f H720\"/>", at));
      labels.append(line("<text x=\"72\" y=\"%.1f\">%.2f</text>\n", at + 4, ratio));
    }
    return """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 330" font-family="Helvetica, Arial, sans-serif" font-size="13">
        <title>Ratio of the magnitudes at %d and %d Hz by position, computed</title>
        <rect width="760" height="330" fill="#ffffff"/>
        <text x="400" y="22" text-anchor="middle" font-weight="bold">|Z| at %2$d Hz over |Z| at %1$d Hz: tooth (simulated) and network (computed, seed 1)</text>
        <g stroke="#dddddd">%3$s</g>
        <path d="%4$s" fill="none" stroke="#b5482a" stroke-width="2"/>
        <g fill="#1f3b57">
        %5$s</g>
        <g fill="#444444" text-anchor="end">
        %6$s</g>
        <g fill="#444444" text-anchor="middle">
        %7$s<text x="400" y="308">mm short of the foramen</text>
        </g>
        <g><path d="M560 182 h30" stroke="#b5482a" stroke-width="2"/><text x="598" y="186" fill="#444444">tooth</text><circle cx="575" cy="202" r="2.5" fill="#1f3b57"/><text x="598" y="206" fill="#444444">network</text></g>
        </svg>
        """
        .formatted(LOW, HIGH, lines, wanted, dots, labels, axes);
  }

  private static double y(double ratio, double bottom, double top) {
    return 262 - 220 * (ratio - bottom) / (top - bottom);
  }

  private static String plain(double value) {
    return java.math.BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  @SuppressWarnings("AnnotateFormatMethod") // its output is compared with a file
  private static String line(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
