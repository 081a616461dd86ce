package org.stopwell.rig.network;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.virtual.ToothChain;

/**
 * The part of the resistor page for magnitude and phase: the chain against the simulated tooth of
 * the virtual bench. To rewrite it: {@code -DargLine=-Dstopwell.write=true}.
 */
class ChainPageTest {
  /** What the device board takes, {@code CHAIN_PLACES} of its firmware. */
  static final int PLACES = 30;

  private static final Path PAGE = Path.of("..", "docs", "resistor-network.md");
  private static final Path PICTURE = Path.of("..", "docs", "pictures", "network-chain.svg");
  private static final double HIGHEST_MM = 10;
  private static final double LOWEST_MM = -3;
  private static final int EACH_MICRONS = 10;
  private static final double[] HERTZ = {200, 1_000, 5_000, 20_000};

  private static final Map<Double, List<Target>> TOOTH = ToothChain.targets(tooth());

  private final ToothChain.Fit fit = ToothChain.fitted(TOOTH, drawn(1, Chain.STRAY_FARADS).parts());
  private final BuiltChain built = drawn(1, Chain.STRAY_FARADS).with(fit.capacitors());
  private final ChainTable table = fit.table().thinned(PLACES, built.chain());

  private record Off(double magnitude, double degrees) {
    Off or(Off other) {
      return new Off(Math.max(magnitude, other.magnitude), Math.max(degrees, other.degrees));
    }
  }

  private static Scene tooth() {
    try {
      return Scene.of(Map.of("fluid", Map.of("level_mm", "12")), 1);
    } catch (SettingsException e) {
      throw new AssertionError(e);
    }
  }

  static BuiltChain drawn(long seed, double strayFarads) {
    RandomStream random = RandomStream.of(seed, "a chain as built");
    return ChainDesign.built(nominal -> random.nextBetween(-1, 1), strayFarads);
  }

  /** The places of the page in mm, and what is wanted there. */
  private static Map<Double, List<Target>> places() {
    Map<Double, List<Target>> places = new LinkedHashMap<>();
    TOOTH.forEach(
        (metres, targets) -> {
          if (metres >= (LOWEST_MM - 0.001) * 1e-3 && metres <= (HIGHEST_MM + 0.001) * 1e-3) {
            places.put(metres, targets);
          }
        });
    return places;
  }

  private static Off off(BuiltChain built, ChainTable table, double metres, List<Target> targets) {
    int[] codes = built.codes(table, metres);
    Off off = new Off(0, 0);
    for (Target target : targets) {
      Impedance made = built.impedance(codes, target.hertz());
      double magnitude = made.magnitude() / target.impedance().magnitude() - 1;
      double degrees = Math.toDegrees(made.phase() - target.impedance().phase());
      off = off.or(new Off(Math.abs(magnitude), Math.abs(degrees)));
    }
    return off;
  }

  private static Off worst(BuiltChain built, ChainTable table) {
    Off worst = new Off(0, 0);
    for (Map.Entry<Double, List<Target>> place : places().entrySet()) {
      worst = worst.or(off(built, table, place.getKey(), place.getValue()));
    }
    return worst;
  }

  @Test
  void magnitudeAndPhaseHoldOverTheBandWhateverTheTolerances() {
    for (long seed = 1; seed <= 6; seed++) {
      BuiltChain parts = drawn(seed, seed % 3 * 30e-12);
      ToothChain.Fit each = ToothChain.fitted(TOOTH, parts.parts());
      Off worst = worst(parts.with(each.capacitors()), each.table().thinned(PLACES, each.chain()));
      assertTrue(worst.magnitude() < 0.03, "seed " + seed + ": magnitude " + worst.magnitude());
      assertTrue(worst.degrees() < 5, "seed " + seed + ": phase " + worst.degrees() + "°");
    }
  }

  /** The stray capacitance is part of the fit; one that changes by 5 pF must not matter. */
  @Test
  void fivePicofaradsOfStrayChangeLittle() {
    BuiltChain other =
        BuiltChain.of(
                built.first(), built.segments(), built.parts().farads(), Chain.STRAY_FARADS + 5e-12)
            .with(fit.capacitors());
    Off worst = new Off(0, 0);
    for (double metres : places().keySet()) {
      int[] codes = built.codes(table, metres);
      for (double hertz : HERTZ) {
        Impedance a = built.impedance(codes, hertz);
        Impedance b = other.impedance(codes, hertz);
        worst =
            worst.or(
                new Off(
                    Math.abs(b.magnitude() / a.magnitude() - 1),
                    Math.abs(Math.toDegrees(b.phase() - a.phase()))));
      }
    }
    assertTrue(worst.magnitude() < 0.001 && worst.degrees() < 0.4, worst.toString());
    assertTrue(worst.degrees() > 0.1, "it is seen at all: " + worst);
  }

  /** A leak of 100 MΩ across 10 kΩ is a part in ten thousand. */
  @Test
  void aLeakAtItsLimitDoesNotMatter() {
    double ohms =
        places().values().stream()
            .mapToDouble(t -> t.get(0).impedance().magnitude())
            .max()
            .orElseThrow();
    assertTrue(ohms / 100e6 < 2e-4, ohms + " Ω");
  }

  @Test
  void aTableOfTheBoardIsNearlyTheWholeOne() {
    ChainTable whole = fit.table();
    assertEquals(PLACES, table.places().size());
    Off a = worst(built, whole);
    Off b = worst(built, table);
    assertTrue(
        b.magnitude() < a.magnitude() + 0.015 && b.degrees() < a.degrees() + 0.5, a + " " + b);
    assertEquals(0, table.at(14e-3).length, "open above the fluid");
  }

  /** Steps of the stage by 10 µm from 10 mm to 3 mm past the foramen. */
  private List<ChainStep> steps(double fromMm, double toMm) {
    List<ChainStep> steps = new ArrayList<>();
    int[] before = {};
    for (int um = (int) (fromMm * 1000); um >= toMm * 1000; um -= EACH_MICRONS) {
      int[] codes = built.codes(table, um * 1e-6);
      if (before.length > 0 && !Arrays.equals(before, codes)) {
        steps.add(new ChainStep(before, codes));
      }
      before = codes;
    }
    return steps;
  }

  private double rise(double fromMm, double toMm) {
    return steps(fromMm, toMm).stream()
        .mapToDouble(
            step ->
                Arrays.stream(HERTZ)
                    .map(hz -> step.excursion(built, step.opening(), hz))
                    .max()
                    .orElseThrow())
        .max()
        .orElseThrow();
  }

  private double fall(double fromMm, double toMm, boolean opening) {
    return steps(fromMm, toMm).stream()
        .mapToDouble(
            step ->
                Arrays.stream(HERTZ)
                    .map(hz -> step.excursion(built, opening ? step.opening() : step.closing(), hz))
                    .min()
                    .orElseThrow())
        .min()
        .orElseThrow();
  }

  /** The codes of one binary ladder in place of the staircase, as the resistors of the board. */
  private double riseOfALadder(double fromMm, double toMm) {
    Ladder ladder =
        new LadderDesign(
                10,
                ChainDesign.TOLERANCE,
                ChainDesign.SWITCHES,
                List.of(10.0, 20.0, 40.2, 80.6, 162.0, 324.0, 634.0, 1210.0, 2370.0, 4640.0))
            .nominal();
    double worst = 0;
    double before = Double.NaN;
    int code = 0;
    for (int um = (int) (fromMm * 1000); um >= toMm * 1000; um -= EACH_MICRONS) {
      double[] ohms = table.at(um * 1e-6);
      int next = ladder.codeFor(ohms[0] - 100);
      double now = built.chain().impedance(ohms, 20_000).magnitude();
      if (before > 0) {
        double high = ladder.ohms(code | next) - Math.max(ladder.ohms(code), ladder.ohms(next));
        worst = Math.max(worst, high / now);
      }
      before = now;
      code = next;
    }
    return worst;
  }

  @Test
  void noStepOpensOrShortensTheCircuitAndTheBoardsOrderHardlyLowersIt() {
    assertTrue(steps(HIGHEST_MM, LOWEST_MM).size() > 500);
    for (ChainStep step : steps(HIGHEST_MM, LOWEST_MM)) {
      for (double hertz : HERTZ) {
        double fall = step.excursion(built, step.opening(), hertz);
        // Above its corner more resistance beside a capacitor turns the phase and lowers the sum.
        assertTrue(fall > -0.02, "fall on the way: " + fall);
        double most = built.impedance(step.opening(), hertz).magnitude();
        double least = built.impedance(step.closing(), hertz).magnitude();
        assertTrue(most < 15_000 && least > 900, least + " to " + most + " Ω at " + hertz);
      }
    }
    assertTrue(rise(2, LOWEST_MM) < 0.2, "near the foramen " + rise(2, LOWEST_MM));
    assertTrue(riseOfALadder(2, LOWEST_MM) > 0.5, "what a binary ladder does");
  }

  /** After 1 ms no step leaves more than a part in two hundred. */
  @Test
  void aStepHasSettledAfterAMillisecond() {
    double worst = 0;
    List<ChainStep> steps = steps(4, LOWEST_MM);
    for (int i = 0; i < steps.size(); i += 23) {
      worst = Math.max(worst, new ChainTransient(built, 1_000).left(steps.get(i)));
    }
    assertTrue(worst < 0.005, "left " + worst);
    assertTrue(worst > 0, "it is computed");
  }

  /** The greatest error of the distance from rounding to codes, µm, at one frequency. */
  private double rounding(double hertz, double fromMm, double toMm) {
    double worst = 0;
    for (int um = (int) (fromMm * 1000); um >= toMm * 1000; um -= EACH_MICRONS) {
      double[] ohms = table.at(um * 1e-6);
      double wanted = built.chain().impedance(ohms, hertz).magnitude();
      double made = built.impedance(built.codes(table, um * 1e-6), hertz).magnitude();
      double above = built.chain().impedance(table.at((um + 100) * 1e-6), hertz).magnitude();
      double below = built.chain().impedance(table.at((um - 100) * 1e-6), hertz).magnitude();
      worst = Math.max(worst, Math.abs(made - wanted) / ((above - below) / 200));
    }
    return worst;
  }

  @Test
  void thePageHoldsTheChain() throws IOException {
    String page = Files.readString(PAGE);
    String begin = "<!-- generated: chain -->\n";
    int from = page.indexOf(begin) + begin.length();
    int to = page.indexOf("<!-- end: chain -->");
    assertTrue(from >= begin.length() && to >= from, "no block chain");
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

  private String text() {
    StringBuilder page = new StringBuilder("\n### Parts of the chain\n\n");
    page.append(
        "Resistors 1 %, E96, each bridged by a relay; capacitors film, 5 %, the second and the third of a"
            + " segment with a relay each.\n\n");
    page.append(
        "| segment | always, Ω | switched, Ω | capacitors across it, nF |\n|---|---:|---|---|\n");
    page.append(
        line(
            "| 0 | %s | fine %s; steps %s; ranges %s | none |\n",
            plain(ChainParts.NOMINAL.leastOhms().get(0)),
            list(ChainDesign.FINE),
            counted(ChainDesign.STEPS),
            counted(ChainDesign.RANGES)));
    for (int k = 1; k < ChainParts.NOMINAL.mostOhms().size(); k++) {
      page.append(
          line(
              "| %d | none | %s | %s |\n",
              k,
              list(ChainDesign.ladders().get(k - 1).nominalOhms()),
              list(
                  ChainParts.NOMINAL.farads().get(k - 1).stream()
                      .map(f -> Math.rint(f * 1e10) / 10)
                      .toList())));
    }
    page.append("\n### Accuracy of the chain\n\n");
    page.append(
        line(
            "Wanted: impedance of the simulated tooth of the virtual bench (defaults of the scene, fluid"
                + " 12 mm) at %d frequencies from 200 Hz to 20 kHz. Made: one chain, drawn within its"
                + " tolerances (seed 1), codes of the board, stray %.0f pF.\n\n",
            TOOTH.values().iterator().next().size(), Chain.STRAY_FARADS * 1e12));
    page.append("| short of the foramen, mm | segments 0 to 4, Ω | made at 0.2, 1, 5, 20 kHz, Ω |");
    page.append(" magnitude, % | phase, ° |\n|---:|---|---|---:|---:|\n");
    for (Map.Entry<Double, List<Target>> place : places().entrySet()) {
      double mm = place.getKey() * 1e3;
      if (Math.abs(mm - Math.rint(mm)) < 1e-6) {
        int[] codes = built.codes(table, place.getKey());
        Off off = off(built, table, place.getKey(), place.getValue());
        page.append(
            line(
                "| %.0f | %s | %s | %.1f | %.1f |\n",
                mm,
                Arrays.stream(built.ohms(codes))
                    .mapToObj(ohms -> line("%.0f", ohms))
                    .collect(Collectors.joining(", ")),
                Arrays.stream(HERTZ)
                    .mapToObj(hz -> line("%.0f", built.impedance(codes, hz).magnitude()))
                    .collect(Collectors.joining(", ")),
                100 * off.magnitude(),
                off.degrees()));
      }
    }
    Off worst = worst(built, table);
    page.append(
        line(
            "\nGreatest error from %.0f to %.0f mm in steps of 0.05 mm: magnitude %.1f %%, phase %.1f°.\n\n",
            LOWEST_MM, HIGHEST_MM, 100 * worst.magnitude(), worst.degrees()));
    page.append("![Error of the chain by position](pictures/network-chain.svg)\n");
    page.append("\n### Steps of the chain\n\n");
    page.append(
        line(
            "Steps of the stage by %d µm. While relays move, the magnitude lies between two extremes: all"
                + " that open have opened first, or all that close have closed first.\n\n",
            EACH_MICRONS));
    page.append("| what | 2 mm to −3 mm | 10 mm to 2 mm |\n|---|---:|---:|\n");
    page.append(
        line(
            "| greatest rise, opening first (the order of the board) | %.1f %% | %.1f %% |\n",
            100 * rise(2, LOWEST_MM), 100 * rise(HIGHEST_MM, 2)));
    page.append(
        line(
            "| greatest fall, opening first | %.1f %% | %.1f %% |\n",
            -100 * fall(2, LOWEST_MM, true), -100 * fall(HIGHEST_MM, 2, true)));
    page.append(
        line(
            "| greatest fall, closing first | %.1f %% | %.1f %% |\n",
            -100 * fall(2, LOWEST_MM, false), -100 * fall(HIGHEST_MM, 2, false)));
    page.append(
        line(
            "| greatest rise of a binary ladder in place of segment 0 | %.0f %% | %.0f %% |\n",
            100 * riseOfALadder(2, LOWEST_MM), 100 * riseOfALadder(HIGHEST_MM, 2)));
    page.append(
        line(
            "| relays that move in one step, at most | %d | %d |\n",
            relays(2, LOWEST_MM), relays(HIGHEST_MM, 2)));
    page.append("\n| frequency, Hz | rounding to codes from 1 mm to −1 mm, µm |\n|---:|---:|\n");
    for (double hertz : HERTZ) {
      page.append(line("| %.0f | %.0f |\n", hertz, rounding(hertz, 1, -1)));
    }
    return page.toString();
  }

  private int relays(double fromMm, double toMm) {
    return steps(fromMm, toMm).stream().mapToInt(ChainStep::relays).max().orElseThrow();
  }

  private static String list(List<Double> values) {
    return values.stream().map(ChainPageTest::plain).collect(Collectors.joining(", "));
  }

  private static String counted(List<Double> values) {
    Map<Double, Long> count = new LinkedHashMap<>();
    values.forEach(value -> count.merge(value, 1L, Long::sum));
    return count.entrySet().stream()
        .map(e -> e.getValue() + " × " + plain(e.getKey()))
        .collect(Collectors.joining(", "));
  }

  private String picture() {
    StringBuilder magnitude = new StringBuilder();
    StringBuilder phase = new StringBuilder();
    for (Map.Entry<Double, List<Target>> place : places().entrySet()) {
      Off off = off(built, table, place.getKey(), place.getValue());
      String move = magnitude.length() == 0 ? "M" : " L";
      magnitude.append(
          line("%s%.1f %.1f", move, x(place.getKey()), 150 - 30 * 100 * off.magnitude()));
      phase.append(line("%s%.1f %.1f", move, x(place.getKey()), 310 - 18 * off.degrees()));
    }
    String axis =
        IntStream.rangeClosed((int) LOWEST_MM, (int) HIGHEST_MM)
            .mapToObj(mm -> line("<text x=\"%.1f\" y=\"330\">%d</text>", x(mm * 1e-3), mm))
            .collect(Collectors.joining("\n"));
    return """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 760 370" font-family="Helvetica, Arial, sans-serif" font-size="13">
        <title>Error of the chain by position, computed</title>
        <rect width="760" height="370" fill="#ffffff"/>
        <text x="400" y="22" text-anchor="middle" font-weight="bold">Greatest error from 0.2 to 20 kHz, against the simulated tooth (computed, seed 1)</text>
        <g stroke="#444444"><path d="M80 150 H720"/><path d="M80 310 H720"/></g>
        <g stroke="#b5482a" stroke-dasharray="6 4"><path d="M80 60 H720"/><path d="M80 220 H720"/></g>
        <g fill="none" stroke="#1f3b57" stroke-width="2"><path d="%s"/>
        <path d="%s"/></g>
        <g fill="#b5482a" text-anchor="end"><text x="74" y="64">3 %%</text><text x="74" y="224">5°</text></g>
        <g fill="#444444"><text x="90" y="52">magnitude</text><text x="90" y="212">phase</text></g>
        <g fill="#444444" text-anchor="end"><text x="74" y="154">0</text><text x="74" y="314">0</text></g>
        <g fill="#444444" text-anchor="middle">
        %s
        <text x="400" y="354">mm short of the foramen</text>
        </g>
        </svg>
        """
        .formatted(magnitude, phase, axis);
  }

  private static double x(double metres) {
    return 80 + 640 * (metres * 1e3 - LOWEST_MM) / (HIGHEST_MM - LOWEST_MM);
  }

  private static String plain(double value) {
    return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  @SuppressWarnings("AnnotateFormatMethod") // its output is compared with a file
  private static String line(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
