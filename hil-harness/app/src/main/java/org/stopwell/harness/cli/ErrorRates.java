package org.stopwell.harness.cli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.harness.claim.ComparisonStudy;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.StoppingRule;
import org.stopwell.harness.stats.CanalCounts;
import org.stopwell.harness.stats.CanalSize;
import org.stopwell.harness.stats.Coverage;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.stats.SampleSize;
import org.stopwell.harness.stats.SentinelAlarms;
import org.stopwell.harness.stats.Sprt;
import org.stopwell.rig.random.RandomStream;

/** The error rates of the methods that decide claims, as tables for a page. */
final class ErrorRates {
  private static final double[] CORRELATIONS = {0, 0.1, 0.2, 0.3, 0.5};
  private static final double[] SHARES = {0.8, 0.9, 0.95, 0.99};
  private static final int[] CANALS = {3, 5, 8, 10, 16, 30};
  private static final int[] TRIALS = {1, 3, 6, 18};
  private static final double CONFIDENCE = 0.95;
  private static final double TAIL = 0.05;

  private final long seed;
  private final int campaigns;
  private final List<String> rows = new ArrayList<>();
  private final List<String> tooHigh = new ArrayList<>();

  /**
   * Simulates everything.
   *
   * @param seed seed of all random numbers
   * @param campaigns simulated campaigns of each setting
   */
  ErrorRates(long seed, int campaigns) {
    this.seed = seed;
    this.campaigns = campaigns;
    boundsOfShares();
    intervalsOfMeans();
    looks();
    comparisons();
    sequentialTests();
    sizes();
    sentinels();
  }

  /** The tables, in Markdown. */
  String tables() {
    return String.join("\n", rows) + "\n";
  }

  /** Each rate that is above what is promised by more than the simulation can err. */
  List<String> tooHigh() {
    return List.copyOf(tooHigh);
  }

  private void boundsOfShares() {
    head(
        "False bounds on a share, %",
        "Largest share of false bounds, \"at least\" and \"at most\", nominal 5 %. Each number is the"
            + " largest of 64: 1, 3, 6 and 18 trials in each canal; true share 0.8, 0.9, 0.95 and 0.99;"
            + " beta-binomial canals, and canals of two kinds (good and bad).",
        "canals");
    for (int canals : CANALS) {
      List<String> cells = new ArrayList<>();
      for (double correlation : CORRELATIONS) {
        double worst = 0;
        for (int trials : TRIALS) {
          for (double share : SHARES) {
            for (boolean two : new boolean[] {false, true}) {
              CanalCounts counts =
                  two
                      ? CanalCounts.twoKinds(trials, share, correlation)
                      : CanalCounts.betaBinomial(trials, share, correlation);
              String what =
                  String.format(
                      Locale.ROOT,
                      "%d canals of %d trials, share %s, correlation %s, %s",
                      canals,
                      trials,
                      share,
                      correlation,
                      two ? "two kinds" : "beta-binomial");
              Coverage.FalseBounds found =
                  Coverage.share(canals, counts, CONFIDENCE, campaigns, uniform(what));
              worst = Math.max(worst, checked("at least: " + what, found.atLeast(), TAIL));
              worst = Math.max(worst, checked("at most: " + what, found.atMost(), TAIL));
            }
          }
        }
        cells.add(percent(worst));
      }
      row(Integer.toString(canals), cells);
    }
  }

  private void intervalsOfMeans() {
    head(
        "Means of unequal canals: intervals that miss, %",
        "Student's interval of the means of the canals, two-sided 95 %, nominal 5 %. The canals have 1,"
            + " 18, 2 and 9 trials in turn.",
        "canals");
    int[] pattern = {1, 18, 2, 9};
    for (int canals : CANALS) {
      int[] trials = new int[canals];
      java.util.Arrays.setAll(trials, i -> pattern[i % pattern.length]);
      List<String> cells = new ArrayList<>();
      for (double correlation : CORRELATIONS) {
        String what = "mean of " + canals + " unequal canals, correlation " + correlation;
        RandomStream random = RandomStream.of(seed, what);
        Proportion missed =
            Coverage.mean(trials, correlation, CONFIDENCE, campaigns, random::nextGaussian);
        cells.add(percent(checked(what, missed, TAIL)));
      }
      row(Integer.toString(canals), cells);
    }
  }

  private void looks() {
    head(
        "Three looks: claims on a share that are falsely shown, %",
        "Group-sequential limits of O'Brien and Fleming on whole canals, nominal 5 %. Each number is the"
            + " largest of 8: 1 and 6 trials in each canal, true share as claimed, 0.9 and 0.95, shown and"
            + " contradicted.",
        "canals");
    List<Double> confidences =
        new StoppingRule(StoppingRule.Kind.GROUP_SEQUENTIAL, Claim.Endpoint.WITHIN, 0, 0.9, 3, 0)
            .confidences(CONFIDENCE);
    for (int canals : new int[] {30, 60, 100, 200}) {
      List<String> cells = new ArrayList<>();
      for (double correlation : CORRELATIONS) {
        double worst = 0;
        for (int trials : new int[] {1, 6}) {
          // Of the misses, to show too many of them is to contradict the claim.
          for (double share : new double[] {0.9, 0.95, 0.1, 0.05}) {
            String what =
                String.format(
                    Locale.ROOT,
                    "three looks at %d canals of %d trials, share %s, correlation %s",
                    canals,
                    trials,
                    share,
                    correlation);
            CanalCounts counts = CanalCounts.betaBinomial(trials, share, correlation);
            Proportion shown =
                CanalSize.power(canals, counts, share, confidences, campaigns, uniform(what));
            worst = Math.max(worst, checked(what, shown, TAIL));
          }
        }
        cells.add(percent(worst));
      }
      row(Integer.toString(canals), cells);
    }
  }

  private void comparisons() {
    head(
        "Comparisons that pass a build moved by the whole margin, %",
        "Shift of a mean between two runs, nominal 5 %. Each number is the largest of 6: 1, 3 and 6"
            + " trials in each canal, the same canals and other ones.",
        "canals");
    for (int canals : new int[] {5, 10, 20}) {
      List<String> cells = new ArrayList<>();
      for (double correlation : CORRELATIONS) {
        double worst = 0;
        for (int trials : new int[] {1, 3, 6}) {
          for (boolean paired : new boolean[] {true, false}) {
            double passed =
                ComparisonStudy.falsePass(canals, trials, correlation, paired, campaigns, seed);
            String what =
                String.format(
                    Locale.ROOT,
                    "comparison of %d %scanals of %d trials, correlation %s",
                    canals,
                    paired ? "same " : "other ",
                    trials,
                    correlation);
            Proportion found = new Proportion(Math.round(passed * campaigns), campaigns);
            worst = Math.max(worst, checked(what, found, TAIL));
          }
        }
        cells.add(percent(worst));
      }
      row(Integer.toString(canals), cells);
    }
  }

  private void sequentialTests() {
    rows.add("");
    rows.add("**Wald's test: exact errors.** Computed trial by trial, with the cap.");
    rows.add("");
    rows.add(
        "| good misses | bad misses | cap | bad accepted, % | promised, % | good rejected, % |"
            + " promised, % |");
    rows.add("|---|---|---|---|---|---|---|");
    double[][] plans = {
      {.01, .05, .10, 300}, {.01, .05, .05, 2000}, {.005, .05, .10, 288}, {.001, .01, .05, 3000}
    };
    for (double[] p : plans) {
      Sprt test = new Sprt(p[0], p[1], p[2], TAIL, (int) p[3]);
      double accepted = test.behaviour(p[1]).accept();
      double rejected = test.behaviour(p[0]).reject();
      if (accepted > TAIL || rejected > p[2]) {
        tooHigh.add("Wald's test of " + p[0] + " against " + p[1]);
      }
      rows.add(
          String.format(
              Locale.ROOT,
              "| %s | %s | %.0f | %s | 5 | %s | %.0f |",
              p[0],
              p[1],
              p[3],
              percent(accepted),
              percent(rejected),
              100 * p[2]));
    }
  }

  private void sizes() {
    rows.add("");
    rows.add(
        "**Power of planned sizes.** Claim: at least 95 %, at 95 % confidence; promised power: 0.9.");
    rows.add("");
    rows.add(
        "| true share | trials in each canal | correlation | canals by `size` | power found |");
    rows.add("|---|---|---|---|---|");
    for (double share : new double[] {0.99, 0.995}) {
      int independent =
          SampleSize.trialsForShare(0.95, List.of(CONFIDENCE), share, 0.9).orElseThrow();
      rows.add(
          String.format(
              Locale.ROOT,
              "| %s | 1 | 0 | %d | %.3f (exact) |",
              share,
              independent,
              SampleSize.powerOfShare(independent, 0.95, CONFIDENCE, share)));
      for (int trials : new int[] {3, 18}) {
        for (double correlation : new double[] {0.1, 0.3}) {
          CanalCounts counts = CanalCounts.betaBinomial(trials, share, correlation);
          List<Double> confidences = List.of(CONFIDENCE);
          int canals =
              CanalSize.least(counts, 0.95, confidences, 0.9, () -> uniform("size")).orElseThrow();
          Proportion shown =
              CanalSize.power(canals, counts, 0.95, confidences, campaigns, uniform("power"));
          double found = shown.estimate().orElseThrow();
          if (found < 0.9 - 4 * error(0.9)) {
            tooHigh.add("power of " + canals + " canals: " + found + ", promised 0.9");
          }
          rows.add(
              String.format(
                  Locale.ROOT,
                  "| %s | %d | %s | %d | %.3f |",
                  share,
                  trials,
                  correlation,
                  canals,
                  found));
        }
      }
    }
  }

  private void sentinels() {
    rows.add("");
    rows.add(
        "**Sentinels: campaigns with a false alarm.** Exact for rests that are normal, from the rules"
            + " with limits widened so far; at most 2 % promised. Then the sentinels until a lasting"
            + " shift is found with a probability of 0.9.");
    rows.add("");
    rows.add(
        "| sentinels | known answer from trials | limits widened by, SD | false alarm, % | found after,"
            + " 2 SD | 3 SD | 4 SD |");
    rows.add("|---|---|---|---|---|---|---|");
    for (SentinelAlarms.Row r : SentinelAlarms.table(List.of(5, 13, 25), List.of(30, 1000))) {
      if (r.falseAlarm() > 0.02) {
        tooHigh.add("false alarms of " + r.sentinels() + " sentinels");
      }
      rows.add(
          String.format(
              Locale.ROOT,
              "| %d | %d | %.2f | %s | %s | %s | %s |",
              r.sentinels(),
              r.learnedFrom(),
              r.widening(),
              percent(r.falseAlarm()),
              after(r.foundAfter().get(1)),
              after(r.foundAfter().get(2)),
              after(r.foundAfter().get(3))));
    }
  }

  /** Nothing is found where the number is 0. */
  private static String after(int sentinels) {
    return sentinels == 0 ? "above 60" : Integer.toString(sentinels);
  }

  private void head(String title, String text, String first) {
    rows.add("");
    rows.add(
        String.format(
            Locale.ROOT,
            "**%s.** %s Standard error of one setting: %.2f %%.",
            title,
            text,
            100 * error(TAIL)));
    rows.add("");
    StringBuilder line = new StringBuilder("| " + first + " |");
    StringBuilder rule = new StringBuilder("|---|");
    for (double correlation : CORRELATIONS) {
      line.append(" correlation ").append(correlation).append(" |");
      rule.append("---|");
    }
    rows.add(line.toString());
    rows.add(rule.toString());
  }

  private void row(String first, List<String> cells) {
    rows.add("| " + first + " | " + String.join(" | ", cells) + " |");
  }

  private double checked(String what, Proportion found, double promised) {
    double rate = found.estimate().orElseThrow();
    if (isTooHigh(found, promised)) {
      tooHigh.add(what + ": " + percent(rate) + " %, promised " + percent(promised) + " %");
    }
    return rate;
  }

  /** Above a promised rate by more than four standard errors. */
  static boolean isTooHigh(Proportion found, double promised) {
    double error = Math.sqrt(promised * (1 - promised) / found.trials());
    return found.estimate().orElseThrow() > promised + 4 * error;
  }

  private double error(double rate) {
    return Math.sqrt(rate * (1 - rate) / campaigns);
  }

  private java.util.function.DoubleSupplier uniform(String name) {
    return RandomStream.of(seed, name)::nextDouble;
  }

  private static String percent(double rate) {
    return String.format(Locale.ROOT, "%.2f", 100 * rate);
  }
}
