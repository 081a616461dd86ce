package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

class MixedModelTest {
  /**
   * Yields of dyestuff from six batches (Davies and Goldsmith 1972). Published fit: Bates, Mächler,
   * Bolker and Walker, lme4 (from memory): criterion 319.6543, deviations 42.00 and 49.51, mean
   * 1527.50 with standard error 19.38.
   */
  @Test
  void batchesOfDyestuff() {
    double[] yields =
        numbers(
            "1545 1440 1440 1520 1580 1540 1555 1490 1560 1495 1595 1550 1605 1510 1560"
                + " 1445 1440 1595 1465 1545 1595 1630 1515 1635 1625 1520 1455 1450 1480 1445");
    MixedModel fit = fit(yields, level(30, i -> i / 5));
    assertEquals(319.6543, fit.criterion(), 0.00005);
    assertEquals(42.00, fit.deviations().get(0), 0.005);
    assertEquals(49.51, fit.residual(), 0.005);
    assertEquals(1527.50, fit.mean(), 1e-6);
    assertEquals(19.38, fit.meanError(), 0.005);
  }

  /**
   * Travel times of ultrasound in six rails, three each: Pinheiro and Bates, Mixed-Effects Models
   * in S and S-PLUS, 2000, section 1.1 (from memory): 24.80547 and 4.020779, log restricted
   * likelihood −61.0885.
   */
  @Test
  void railsAndTheirRepeats() {
    double[] times = numbers("55 53 54 26 37 32 78 91 85 92 100 96 49 51 50 80 85 83");
    MixedModel fit = fit(times, level(18, i -> i / 3));
    assertEquals(24.80547, fit.deviations().get(0), 0.00001);
    assertEquals(4.020779, fit.residual(), 0.0000005);
    assertEquals(2 * 61.0885, fit.criterion(), 0.0001);
    assertEquals(24.80547 * 24.80547, Math.pow(fit.total(), 2) * fit.share(0), 0.001);
  }

  /**
   * Strength of paste, two tests of three casks of ten batches: Davies and Goldsmith 1972, as
   * lme4's data set (from memory). Published fit: criterion 246.9907; casks 2.9041, batches 1.2874,
   * within 0.8234; mean 60.0533 with standard error 0.6769.
   */
  @Test
  void casksWithinBatchesOfPaste() {
    double[] strength =
        numbers(
            "62.8 62.6 60.1 62.3 62.7 63.1 60.0 61.4 57.5 56.9 61.1 58.9 58.7 57.5 63.9 63.1 65.4"
                + " 63.7 57.1 56.4 56.9 58.6 64.7 64.5 55.1 55.1 54.7 54.2 58.8 57.5 63.4 64.9 59.3"
                + " 58.1 60.5 60.0 62.5 62.6 61.0 58.7 56.9 57.7 59.2 59.4 65.2 66.0 64.8 64.1 54.8"
                + " 54.8 64.0 64.0 57.7 56.8 58.3 59.3 59.2 59.2 58.9 56.6");
    MixedModel fit = fit(strength, level(60, i -> i / 2), level(60, i -> i / 6));
    assertEquals(246.9907, fit.criterion(), 0.00005);
    assertEquals(2.9041, fit.deviations().get(0), 0.00005);
    assertEquals(1.2874, fit.deviations().get(1), 0.00005);
    assertEquals(0.8234, fit.residual(), 0.00005);
    assertEquals(60.0533, fit.mean(), 0.00005);
    assertEquals(0.6769, fit.meanError(), 0.00005);
  }

  /** Crossed and balanced: parts and appraisers of the gauge study, as published by AIAG. */
  @Test
  void partsCrossedWithAppraisers() {
    List<List<List<Double>>> table = GaugeData.table();
    double[] y = new double[90];
    for (int i = 0; i < 90; i++) {
      y[i] = table.get(i / 9).get(i / 3 % 3).get(i % 3);
    }
    MixedModel fit = fit(y, level(90, i -> i / 9), level(90, i -> i / 3 % 3));
    assertEquals(1.086, Math.pow(fit.deviations().get(0), 2), 0.0005);
    assertEquals(0.0515, Math.pow(fit.deviations().get(1), 2), 0.00005);
    assertEquals(0.0400, Math.pow(fit.residual(), 2), 0.00005);
  }

  /** Where the design is balanced and no component is negative, the analysis of variance agrees. */
  @Test
  void aSpreadThatIsNotThereIsNone() {
    double[] y = numbers("1 9 2 8 3 7 4 6 5 5");
    MixedModel fit = fit(y, level(10, i -> i / 2));
    assertEquals(0, fit.deviations().get(0), "groups differ less than their repeats tell");
    assertEquals(
        Moments.of(Arrays.stream(y).mapToLong(x -> (long) x)).standardDeviation().orElseThrow(),
        fit.residual(),
        1e-9);
  }

  /**
   * Holes and unequal cells: R computes the same restricted likelihood from the dense covariance
   * matrix of all numbers, another formula in another program.
   */
  @Test
  void unbalancedCanalsDaysAndRigsAsInR() throws Exception {
    Random random = new Random(31);
    int n = 47;
    double[] y = new double[n];
    int[] canal = new int[n];
    int[] day = new int[n];
    int[] cell = new int[n];
    double[] ofCanal = random.doubles(7, -150, 150).toArray();
    double[] ofDay = random.doubles(4, -60, 60).toArray();
    for (int i = 0; i < n; i++) {
      canal[i] = random.nextInt(7);
      day[i] = random.nextInt(4);
      cell[i] = random.nextInt(2);
      y[i] =
          Math.rint(40 * cell[i] + ofCanal[canal[i]] + ofDay[day[i]] + 50 * random.nextGaussian());
    }
    MixedModel fit = MixedModel.fit(y, List.of(canal, day), cell).orElseThrow();
    String script =
        "y <- c("
            + Arrays.stream(y).mapToObj(v -> String.valueOf((long) v)).collect(commas())
            + "); a <- factor(c("
            + join(canal)
            + ")); b <- factor(c("
            + join(day)
            + ")); X <- model.matrix(~ factor(c("
            + join(cell)
            + ")) - 1)\n"
            + """
            Za <- model.matrix(~ a - 1); Zb <- model.matrix(~ b - 1)
            reml <- function(s) {
              V <- s[1]^2 * Za %*% t(Za) + s[2]^2 * Zb %*% t(Zb) + s[3]^2 * diag(length(y))
              W <- solve(V); P <- t(X) %*% W %*% X; m <- solve(P, t(X) %*% W %*% y); r <- y - X %*% m
              as.numeric(determinant(V)$modulus + determinant(P)$modulus + t(r) %*% W %*% r +
                (length(y) - ncol(X)) * log(2 * pi))
            }
            o <- c(100, 50, 50)
            for (i in 1:6) o <- optim(o, reml, control = list(reltol = 1e-15, maxit = 5000))$par
            cat(sprintf('[%.9g, %.9g, %.9g, %.9g]', abs(o[1]), abs(o[2]), abs(o[3]), reml(o)))
            """;
    JsonNode r = new ObjectMapper().readTree(run(script));
    assertEquals(r.get(3).asDouble(), fit.criterion(), 1e-6);
    for (int k = 0; k < 2; k++) {
      double sd = r.get(k).asDouble();
      assertEquals(sd, fit.deviations().get(k), 1e-4 * Math.max(sd, 1));
    }
    assertEquals(r.get(2).asDouble(), fit.residual(), 1e-4 * fit.residual());
    assertTrue(fit.deviations().get(0) > 40, "the canals do differ: " + fit);
  }

  /**
   * Profile intervals of the dyestuff's deviations: at each end R's dense likelihood, at its best
   * over the other deviation, lies below its peak by half of the 95 % quantile of χ² with one
   * degree of freedom, 3.841459.
   */
  @Test
  void intervalsEndWhereTheLikelihoodSaysSo() throws Exception {
    double[] y =
        numbers(
            "1545 1440 1440 1520 1580 1540 1555 1490 1560 1495 1595 1550 1605 1510 1560"
                + " 1445 1440 1595 1465 1545 1595 1630 1515 1635 1625 1520 1455 1450 1480 1445");
    List<Interval> found =
        MixedModel.intervals(y, List.of(level(30, i -> i / 5)), new int[30], 0.95).orElseThrow();
    Interval between = found.get(0);
    Interval within = found.get(1);
    assertTrue(between.low() < 42.00 && between.high() > 42.00, between.toString());
    assertTrue(within.low() < 49.51 && within.high() > 49.51, within.toString());
    String script =
        "y <- c("
            + Arrays.stream(y).mapToObj(v -> String.valueOf((long) v)).collect(commas())
            + ")\n"
            + """
            Z <- kronecker(diag(6), rep(1, 5)); X <- matrix(1, 30)
            reml <- function(a, s) {
              V <- a^2 * Z %*% t(Z) + s^2 * diag(30); W <- solve(V); P <- t(X) %*% W %*% X
              r <- y - X %*% solve(P, t(X) %*% W %*% y)
              as.numeric(determinant(V)$modulus + determinant(P)$modulus + t(r) %*% W %*% r +
                29 * log(2 * pi))
            }
            a <- function(v) optimize(function(s) reml(v, s), c(20, 150), tol = 1e-9)$objective
            s <- function(v) optimize(function(b) reml(b, v), c(0, 400), tol = 1e-9)$objective
            """
            + "cat(sprintf('[%.8f, %.8f, %.8f, %.8f]', a("
            + between.low()
            + "), a("
            + between.high()
            + "), s("
            + within.low()
            + "), s("
            + within.high()
            + ")))";
    JsonNode r = new ObjectMapper().readTree(run(script));
    for (int i = 0; i < 4; i++) {
      assertEquals(319.65427 + 3.84146, r.get(i).asDouble(), 0.001, "end " + i + " of " + found);
    }
  }

  @Test
  void aComponentThatIsNotThereReachesDownToNone() {
    double[] y = numbers("1 9 2 8 3 7 4 6 5 5");
    Interval between =
        MixedModel.intervals(y, List.of(level(10, i -> i / 2)), new int[10], 0.95)
            .orElseThrow()
            .get(0);
    assertEquals(0, between.low());
    assertTrue(between.high() > 0 && between.high() < 10, between.toString());
  }

  @Test
  void whatCannotBeSplitIsNotEstimable() {
    int[] one = new int[6];
    double[] y = numbers("1 2 3 4 5 6");
    assertEquals(Optional.empty(), MixedModel.fit(y, List.of(one), one), "one level");
    assertEquals(
        Optional.empty(),
        MixedModel.fit(y, List.of(level(6, i -> i)), one),
        "a level for each number");
    assertEquals(
        Optional.empty(),
        MixedModel.fit(numbers("5 5 5 5 5 5"), List.of(level(6, i -> i / 3)), one),
        "all equal");
    assertEquals(
        Optional.empty(), MixedModel.fit(new double[0], List.of(new int[0]), new int[0]), "none");
    assertEquals(
        Optional.empty(),
        MixedModel.fit(new double[1000], List.of(level(1000, i -> i / 2)), new int[1000]),
        "too many levels");
  }

  private static MixedModel fit(double[] y, int[]... factors) {
    return MixedModel.fit(y, List.of(factors), new int[y.length]).orElseThrow();
  }

  private static int[] level(int n, java.util.function.IntUnaryOperator of) {
    return IntStream.range(0, n).map(of).toArray();
  }

  private static double[] numbers(String text) {
    return Arrays.stream(text.split(" ", -1)).mapToDouble(Double::parseDouble).toArray();
  }

  private static String join(int[] values) {
    return Arrays.stream(values)
        .mapToObj(v -> String.format(Locale.ROOT, "%d", v))
        .collect(commas());
  }

  private static java.util.stream.Collector<CharSequence, ?, String> commas() {
    return Collectors.joining(", ");
  }

  private static String run(String script) throws IOException, InterruptedException {
    Process process =
        new ProcessBuilder("Rscript", "-e", script)
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    assertEquals(0, process.waitFor());
    return said;
  }
}
