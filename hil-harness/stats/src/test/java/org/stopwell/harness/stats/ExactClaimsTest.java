package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * The simulated table in docs/statistics.md against exact chances. The table can be written anew by
 * its own test; this one shares no code with it and reads the page.
 */
class ExactClaimsTest {
  private static final Path PAGE = Path.of("..", "..", "docs", "statistics.md");
  private static final int CAMPAIGNS = 20_000;
  private static final int MOST = 300;
  private static final double FALSE_SHARE = 0.95;
  private static final double TRUE_SHARE = 0.99;

  /** Percent that rounding to one decimal takes away. */
  private static final double ROUNDED = 0.051;

  /** Whether so many hits of so many trials end a campaign with a claim, or without one. */
  private interface Rule {
    int after(int trials, int hits);
  }

  private static final int CLAIM = 1;
  private static final int END = -1;

  private record Chance(double claim, double trials) {}

  @Test
  void oneLookAtTheEndHasTheChanceOfTheBinomialTail() throws IOException {
    Rule once = (n, hits) -> n < MOST ? 0 : shown(n, hits) ? CLAIM : END;
    assertRow("once, after 300 trials, exact bound", once);
  }

  @Test
  void aPlainBoundAfterEveryTrialClaimsFalselyAsOftenAsThePageSays() throws IOException {
    assertRow("after every trial, exact bound (wrong)", (n, hits) -> shown(n, hits) ? CLAIM : 0);
  }

  @Test
  void theBoundThatHoldsAtEveryLookClaimsAsOftenAsThePageSays() throws IOException {
    assertRow(
        "after every trial, anytime-valid bound", (n, hits) -> mixed(n, hits) >= 20 ? CLAIM : 0);
    assertTrue(chance((n, hits) -> mixed(n, hits) >= 20 ? CLAIM : 0, FALSE_SHARE).claim <= 0.05);
  }

  @Test
  void theSequentialTestClaimsAsOftenAsThePageSays() throws IOException {
    Sprt test = new Sprt(0.01, 0.05, 0.05, 0.05, MOST);
    assertRow(
        "after every trial, sequential test of 1 % against 5 % misses, cap 300",
        (n, hits) ->
            switch (test.decide(n, n - hits)) {
              case GO_ON -> 0;
              case ACCEPT -> CLAIM;
              case REJECT, UNDECIDED -> END;
            });
  }

  /** 14.2 %: Armitage, McPherson and Rowe, J R Stat Soc A 1969;132:235, five tests at 5 %. */
  @Test
  void fiveLooksAtAMeanCrossTheirLimitsAsOftenAsThePageSays() throws IOException {
    double[] plain = {1.96, 1.96, 1.96, 1.96, 1.96};
    assertEquals(0.142, crossing(0, plain), 0.001);
    assertMeans("plain limit 1.96 (wrong)", plain);
    // Jennison and Turnbull 2000, tables 2.1 and 2.3, five looks at 5 %: Pocock 2.413 at each;
    // O'Brien and Fleming 2.040 √(5/k).
    double[] pocock = {2.413, 2.413, 2.413, 2.413, 2.413};
    assertEquals(0.05, crossing(0, pocock), 0.0003);
    assertMeans("Pocock", pocock);
    double[] fleming = new double[5];
    Arrays.setAll(fleming, k -> 2.040 * Math.sqrt(5.0 / (k + 1)));
    assertEquals(0.05, crossing(0, fleming), 0.0003);
    assertMeans("O'Brien and Fleming", fleming);
  }

  private static void assertRow(String name, Rule rule) throws IOException {
    List<String> cells = row(name);
    Chance wrong = chance(rule, FALSE_SHARE);
    Chance right = chance(rule, TRUE_SHARE);
    assertPercent(name, wrong.claim, cells.get(1));
    assertPercent(name, right.claim, cells.get(2));
    assertEquals(right.trials, Double.parseDouble(cells.get(3)), 2.5, name);
  }

  private static void assertMeans(String name, double[] limits) throws IOException {
    List<String> cells = row(name);
    assertPercent(name, crossing(0, limits), cells.get(1));
    assertPercent(name, crossing(1.5, limits), cells.get(2));
  }

  /** Within four standard errors of the simulation. */
  private static void assertPercent(String name, double chance, String cell) {
    double error = Math.sqrt(chance * (1 - chance) / CAMPAIGNS);
    double read = Double.parseDouble(cell.replace(" %", ""));
    assertEquals(100 * chance, read, 400 * error + ROUNDED, name);
  }

  private static List<String> row(String name) throws IOException {
    return Files.readAllLines(PAGE).stream()
        .filter(line -> line.startsWith("| " + name + " |"))
        .map(line -> Arrays.stream(line.split("\\|", -1)).skip(1).map(String::strip).toList())
        .findFirst()
        .orElseThrow(() -> new AssertionError("the page lacks the row " + name));
  }

  /** How a campaign ends, by the chance of every count of hits that is still open. */
  private static Chance chance(Rule rule, double share) {
    double[] open = {1};
    double claim = 0;
    double trials = 0;
    for (int n = 1; n <= MOST; n++) {
      double[] next = new double[n + 1];
      for (int hits = 0; hits < n; hits++) {
        trials += open[hits];
        next[hits] += open[hits] * (1 - share);
        next[hits + 1] += open[hits] * share;
      }
      for (int hits = 0; hits <= n; hits++) {
        int after = next[hits] > 0 ? rule.after(n, hits) : 0;
        claim += after == CLAIM ? next[hits] : 0;
        next[hits] = after == 0 ? next[hits] : 0;
      }
      open = next;
    }
    return new Chance(claim, trials);
  }

  /** Whether the exact bound is at 95 %: as many hits or more have a chance of 5 % at 95 %. */
  private static boolean shown(int n, int hits) {
    double tail = 0;
    double term = Math.pow(FALSE_SHARE, n);
    for (int k = n; k >= hits; k--) {
      tail += term;
      term *= (double) k / (n - k + 1) * (1 - FALSE_SHARE) / FALSE_SHARE;
    }
    return tail <= 0.05;
  }

  /** The likelihood of all shares above 95 %, weighed alike, over that of 95 %. */
  private static double mixed(int n, int hits) {
    if (hits <= n * FALSE_SHARE) {
      return 0;
    }
    int steps = 400;
    double sum = 0;
    for (int i = 0; i < steps; i++) {
      double share = FALSE_SHARE + (1 - FALSE_SHARE) * (i + 0.5) / steps;
      sum +=
          Math.exp(
              hits * Math.log(share / FALSE_SHARE)
                  + (n - hits) * Math.log((1 - share) / (1 - FALSE_SHARE)));
    }
    return sum / steps;
  }

  /** The chance that a sum of normal steps crosses a limit at some look, on a grid. */
  private static double crossing(double drift, double[] limits) {
    double width = 0.04;
    int half = 500;
    double[] density = new double[2 * half + 1];
    density[half] = 1 / width;
    for (int k = 1; k <= limits.length; k++) {
      double edge = limits[k - 1] * Math.sqrt((double) k);
      double[] next = new double[density.length];
      for (int to = 0; to < next.length; to++) {
        double at = (to - half) * width;
        double inside = Math.min(1, Math.max(0, (edge - Math.abs(at)) / width + 0.5));
        for (int from = 0; inside > 0 && from < density.length; from++) {
          if (density[from] > 0) {
            double step = at - (from - half) * width - drift;
            next[to] +=
                inside
                    * density[from]
                    * width
                    * Math.exp(-step * step / 2)
                    / Math.sqrt(2 * Math.PI);
          }
        }
      }
      density = next;
    }
    return 1 - Arrays.stream(density).sum() * width;
  }
}
