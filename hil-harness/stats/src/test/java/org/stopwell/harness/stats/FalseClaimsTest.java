package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Random;
import java.util.function.IntUnaryOperator;
import java.util.function.Predicate;
import org.junit.jupiter.api.Test;

/**
 * How often each way of looking at a campaign under way claims what is not true, by simulation. The
 * table stands in docs/statistics.md; {@code -Dstopwell.write=true} writes it anew.
 */
class FalseClaimsTest {
  private static final Path PAGE = Path.of("..", "..", "docs", "statistics.md");
  private static final String BEGIN = "<!-- Simulated by FalseClaimsTest: from here … -->\n";
  private static final String END = "<!-- … to here -->\n";
  private static final long SEED = 20260110;
  private static final int CAMPAIGNS = 20_000;
  private static final int MOST = 300;

  /**
   * A share of hits that makes the claim "more than 95 %" just false, and one that makes it true.
   */
  private static final double FALSE_SHARE = 0.95;

  private static final double TRUE_SHARE = 0.99;

  /** How often a claim was made, and after how many trials on average a campaign ended. */
  private record Found(double claims, double trials) {}

  @Test
  void theTableOnThePageIsWhatTheSimulationFinds() throws IOException {
    String page = Files.readString(PAGE);
    int from = page.indexOf(BEGIN) + BEGIN.length();
    String written = page.substring(from, page.indexOf(END));
    String found = table();
    if (Boolean.getBoolean("stopwell.write")) {
      Files.writeString(PAGE, page.substring(0, from) + found + page.substring(page.indexOf(END)));
      return;
    }
    assertEquals(found, written, "seed " + SEED);
  }

  @Test
  void onlyLookingAgainAndAgainWithAPlainBoundClaimsFalselyTooOften() {
    // Three standard errors of 20,000 campaigns at 5 %: 0.5 %.
    double allowed = 0.055;
    assertTrue(shares(plain(), false).claims > 0.12);
    assertTrue(shares(plain(), true).claims < allowed);
    assertTrue(shares(anytime(), false).claims < allowed);
    assertTrue(sprt(1 - FALSE_SHARE).claims < allowed);
    assertTrue(means(0, 1.96, 5) > 0.12);
    assertTrue(Math.abs(means(0, limits(0), 5) - 0.05) < 0.005);
    assertTrue(Math.abs(means(0, limits(0.5), 5) - 0.05) < 0.005);
  }

  private static String table() {
    List<String> rows = new ArrayList<>();
    rows.add("| looking | false claims | true claims | trials |");
    rows.add("|---|---|---|---|");
    rows.add(row("once, after 300 trials, exact bound", plain(), true));
    rows.add(row("after every trial, exact bound (wrong)", plain(), false));
    rows.add(row("after every trial, anytime-valid bound", anytime(), false));
    Found bad = sprt(1 - FALSE_SHARE);
    Found good = sprt(1 - TRUE_SHARE);
    rows.add(
        line("after every trial, sequential test of 1 % against 5 % misses, cap 300", bad, good));
    rows.add("");
    rows.add(
        "| looking five times at a mean | false claims | claims at 1.5 standard errors a look |");
    rows.add("|---|---|---|");
    double[] plain = {1.96, 1.96, 1.96, 1.96, 1.96};
    rows.add(meanRow("plain limit 1.96 (wrong)", plain));
    rows.add(meanRow("O'Brien and Fleming", limits(0)));
    rows.add(meanRow("Pocock", limits(0.5)));
    return String.join("\n", rows) + "\n";
  }

  private static String row(String name, IntUnaryOperator least, boolean onlyAtTheEnd) {
    return line(
        name, shares(FALSE_SHARE, least, onlyAtTheEnd), shares(TRUE_SHARE, least, onlyAtTheEnd));
  }

  private static String line(String name, Found bad, Found good) {
    return String.format(
        Locale.ROOT,
        "| %s | %.1f %% | %.1f %% | %.0f |",
        name,
        100 * bad.claims,
        100 * good.claims,
        good.trials);
  }

  private static String meanRow(String name, double[] limits) {
    return String.format(
        Locale.ROOT,
        "| %s | %.1f %% | %.1f %% |",
        name,
        100 * means(0, limits, 5),
        100 * means(1.5, limits, 5));
  }

  private static Found shares(IntUnaryOperator least, boolean onlyAtTheEnd) {
    return shares(FALSE_SHARE, least, onlyAtTheEnd);
  }

  /** Campaigns that end at the first look at which enough hits are there. */
  private static Found shares(double share, IntUnaryOperator least, boolean onlyAtTheEnd) {
    Random random = new Random(SEED);
    int claims = 0;
    long trials = 0;
    for (int c = 0; c < CAMPAIGNS; c++) {
      int hits = 0;
      int n = 0;
      boolean claimed = false;
      while (n < MOST && !claimed) {
        n++;
        hits += random.nextDouble() < share ? 1 : 0;
        claimed = (!onlyAtTheEnd || n == MOST) && hits >= least.applyAsInt(n);
      }
      claims += claimed ? 1 : 0;
      trials += n;
    }
    return new Found((double) claims / CAMPAIGNS, (double) trials / CAMPAIGNS);
  }

  private static Found sprt(double misses) {
    Sprt test = new Sprt(0.01, 0.05, 0.05, 0.05, MOST);
    Random random = new Random(SEED);
    int accepted = 0;
    long trials = 0;
    for (int c = 0; c < CAMPAIGNS; c++) {
      int n = 0;
      int missed = 0;
      Sprt.Decision decision;
      do {
        n++;
        missed += random.nextDouble() < misses ? 1 : 0;
        decision = test.decide(n, missed);
      } while (decision == Sprt.Decision.GO_ON);
      accepted += decision == Sprt.Decision.ACCEPT ? 1 : 0;
      trials += n;
    }
    return new Found((double) accepted / CAMPAIGNS, (double) trials / CAMPAIGNS);
  }

  /** Least hits at which the exact bound is at 95 %. */
  private static IntUnaryOperator plain() {
    return leastHits(p -> p.lowerBound(0.95).orElse(0) >= FALSE_SHARE);
  }

  /** Least hits at which the bound that holds at all times is at 95 %. */
  private static IntUnaryOperator anytime() {
    return leastHits(
        p ->
            p.count() > p.trials() * FALSE_SHARE
                && Anytime.logEvidenceAbove(p, FALSE_SHARE) >= -Math.log(0.05));
  }

  private static IntUnaryOperator leastHits(Predicate<Proportion> enough) {
    int[] least = new int[MOST + 1];
    for (int n = 1; n <= MOST; n++) {
      int hits = n + 1;
      while (hits > 0 && enough.test(new Proportion(hits - 1, n))) {
        hits--;
      }
      least[n] = hits;
    }
    return n -> least[n];
  }

  private static double means(double drift, double limit, int looks) {
    double[] limits = new double[looks];
    Arrays.fill(limits, limit);
    return means(drift, limits, looks);
  }

  private static double means(double drift, double[] limits, int looks) {
    Random random = new Random(SEED);
    int claims = 0;
    for (int c = 0; c < CAMPAIGNS; c++) {
      double sum = 0;
      boolean crossed = false;
      for (int k = 1; k <= looks; k++) {
        sum += drift + random.nextGaussian();
        crossed |= Math.abs(sum) / Math.sqrt((double) k) > limits[k - 1];
      }
      claims += crossed ? 1 : 0;
    }
    return (double) claims / CAMPAIGNS;
  }

  private static double[] limits(double shape) {
    return GroupSequential.of(5, 0.05, shape).limits().stream()
        .mapToDouble(Double::doubleValue)
        .toArray();
  }
}
