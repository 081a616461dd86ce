package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.random.RandomStream;

/**
 * The page of the resistor network holds the present design. To rewrite it: {@code
 * -DargLine=-Dstopwell.write=true}.
 */
class NetworkPageTest {
  private static final Path PAGE = Path.of("..", "docs", "resistor-network.md");
  private static final Path PICTURE = Path.of("..", "docs", "pictures", "resistor-network.svg");
  private static final double OHM_PER_MICRON = 3;
  private static final double FORAMEN_OHMS = 6500;
  private static final int DEEPEST = -2000;
  private static final int SHALLOWEST = 20_000;

  private final LadderDesign design =
      LadderDesign.choose(30, 70_000, ESeries.E96, 0.01, SwitchSpec.RELAY);
  private final RandomStream random = RandomStream.of(1, "a network as built");
  private final Network built =
      new Network(design.built(nominal -> random.nextBetween(-1, 1)), CapacitorBank.NONE);

  @Test
  void thePageHoldsBillAndErrors() throws IOException {
    String page = Files.readString(PAGE);
    String begin = "<!-- generated: network -->\n";
    int from = page.indexOf(begin) + begin.length();
    int to = page.indexOf("<!-- end: network -->");
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page.substring(0, from) + text() + page.substring(to));
    } else {
      assertEquals(text(), page.substring(from, to));
    }
  }

  @Test
  void thePictureShowsTheErrors() throws IOException {
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PICTURE, picture());
    }
    assertEquals(picture(), Files.readString(PICTURE));
  }

  private static List<Target> wanted(int remaining) {
    return List.of(new Target(500, new Impedance(FORAMEN_OHMS + OHM_PER_MICRON * remaining, 0)));
  }

  private static double microns(SwitchTable.Row row) {
    return (row.achieved().get(0).re() - row.targets().get(0).impedance().re()) / OHM_PER_MICRON;
  }

  private String text() {
    StringBuilder page = new StringBuilder("\n## Parts to buy\n\n");
    page.append(
        line(
            "For a step of %.0f Ω up to %.0f Ω, E96, 1 %%, switches with %.2f to %.2f Ω on-resistance:"
                + " %d resistors, each with a switch.\n\n",
            design.stepOhms(),
            70_000.0,
            design.switches().leastOnOhms(),
            design.switches().mostOnOhms(),
            design.nominalOhms().size()));
    page.append("| value, Ω | pieces |\n|---:|---:|\n");
    design.bill().forEach((ohms, n) -> page.append(line("| %s | %d |\n", plain(ohms), n)));
    page.append("\n## Accuracy\n\n");
    page.append(
        line(
            "One network, drawn within its tolerances (seed 1): widest gap %.1f Ω, range %.1f Ω to"
                + " %.0f Ω. Code: last resistor first.\n\n",
            built.ladder().widestGapOhms(), built.ladder().leastOhms(), built.ladder().mostOhms()));
    page.append("| short of the foramen, mm | wanted, Ω | code | made, Ω |");
    page.append(" error, Ω | error, µm |\n|---:|---:|---|---:|---:|---:|\n");
    for (SwitchTable.Row row : table(1000).rows()) {
      double ohms = row.targets().get(0).impedance().re();
      double made = row.achieved().get(0).re();
      page.append(
          line(
              "| %.0f | %.0f | `%s` | %.1f | %+.1f | %+.1f |\n",
              row.remainingMicrons() / 1000.0,
              ohms,
              bits(row.code().resistors()),
              made,
              made - ohms,
              microns(row)));
    }
    page.append("\n![Error by position](pictures/resistor-network.svg)\n");
    return page.toString();
  }

  private SwitchTable table(int step) {
    return SwitchTable.of(built, DEEPEST, SHALLOWEST, step, NetworkPageTest::wanted);
  }

  private String picture() {
    double bound = design.stepOhms() / 2 / OHM_PER_MICRON;
    String dots =
        table(50).rows().stream()
            .map(
                row ->
                    line(
                        "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"1.6\"/>",
                        x(row.remainingMicrons()), y(microns(row))))
            .collect(Collectors.joining("\n"));
    String axis =
        IntStream.rangeClosed(-2, 20)
            .filter(mm -> mm % 2 == 0)
            .mapToObj(mm -> line("<text x=\"%.1f\" y=\"262\">%d</text>", x(mm * 1000), mm))
            .collect(Collectors.joining("\n"));
    return """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 300" font-family="Helvetica, Arial, sans-serif" font-size="13">
        <title>Error of the resistor network by position, computed</title>
        <rect width="760" height="300" fill="#ffffff"/>
        <text x="380" y="20" text-anchor="middle" font-weight="bold">Error of a network within 1 %% tolerance, computed (seed 1)</text>
        <g stroke="#b5482a" stroke-dasharray="6 4"><path d="M60 %1$.1f H740"/><path d="M60 %2$.1f H740"/></g>
        <path d="M60 %3$.1f H740" stroke="#1f3b57"/>
        <g fill="#1f3b57">
        %4$s
        </g>
        <g fill="#444444" text-anchor="middle">
        %5$s
        <text x="400" y="286">mm short of the foramen</text>
        </g>
        <g fill="#b5482a" text-anchor="end"><text x="54" y="%6$.1f">+%7$.0f µm</text><text x="54" y="%8$.1f">−%7$.0f µm</text></g>
        </svg>
        """
        .formatted(y(bound), y(-bound), y(0), dots, axis, y(bound) + 4, bound, y(-bound) + 4);
  }

  private static double x(double microns) {
    return 60 + 680 * (microns - DEEPEST) / (SHALLOWEST - DEEPEST);
  }

  private static double y(double microns) {
    return 140 - 16 * microns;
  }

  private String bits(int code) {
    String bits = Integer.toBinaryString(code);
    return "0".repeat(design.nominalOhms().size() - bits.length()) + bits;
  }

  private static String plain(double ohms) {
    return BigDecimal.valueOf(ohms).stripTrailingZeros().toPlainString();
  }

  @SuppressWarnings("AnnotateFormatMethod") // its output is compared with a file
  private static String line(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
