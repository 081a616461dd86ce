package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * NIST Statistical Reference Datasets, univariate summary statistics
 * (https://www.itl.nist.gov/div898/strd/univ/homepage.html): the certified values have 15 digits.
 * Data with decimals are scaled to whole numbers, as stop errors are whole micrometres.
 */
class CertifiedMomentsTest {
  @ParameterizedTest
  @CsvSource({
    "lew, 1, 200, -177.435000000000, 277.332168044316",
    "lottery, 1, 218, 518.958715596330, 291.699727470969",
    "mavro, 100000, 50, 2.00185600000000, 0.000429123454003053",
    "michelso, 100, 100, 299.852400000000, 0.0790105478190518",
    "pidigits, 1, 5000, 4.53480000000000, 2.86733906028871",
  })
  void measuredSetsMatchTheirCertificates(
      String set, double scale, int n, double mean, double standardDeviation) throws IOException {
    assertCertified(Moments.of(Arrays.stream(read(set))), scale, n, mean, standardDeviation);
  }

  @Test
  void numericalAccuracyOne() {
    Moments moments = Moments.of(LongStream.of(10000001, 10000003, 10000002));
    assertCertified(moments, 1, 3, 10000002, 1);
  }

  @ParameterizedTest
  @CsvSource({"12, 1.2", "10000002, 1000000.2", "100000002, 10000000.2"})
  void numericalAccuracyTwoToFour(long first, double mean) {
    LongStream.Builder values = LongStream.builder().add(first);
    for (int i = 0; i < 500; i++) {
      values.add(first - 1).add(first + 1);
    }
    assertCertified(Moments.of(values.build()), 10, 1001, mean, 0.1);
  }

  @Test
  void sumsDoNotDependOnOrderOrGrouping() {
    long seed = 20260101;
    System.out.println("seed " + seed);
    long[] values = new Random(seed).longs(1000, -2_000_000, 2_000_000).toArray();
    Moments forward = Moments.of(Arrays.stream(values));
    Moments merged = Moments.NONE;
    for (int from = 999; from >= 0; from -= 7) {
      merged = Moments.of(Arrays.stream(values, Math.max(0, from - 6), from + 1)).plus(merged);
    }
    assertEquals(forward, merged);
  }

  @Test
  void nothingIsSaidAboutTooFewNumbers() {
    assertEquals(OptionalDouble.empty(), Moments.NONE.mean());
    Moments one = Moments.of(7, 1);
    assertEquals(OptionalDouble.of(7), one.mean());
    assertEquals(OptionalDouble.empty(), one.standardDeviation());
    assertEquals(Optional.empty(), one.meanInterval(0.95));
    Moments equal = Moments.of(7, 50);
    assertEquals(OptionalDouble.of(0), equal.standardDeviation());
    assertEquals(Optional.empty(), equal.meanInterval(0.95), "no interval of zero width");
  }

  @Test
  void theMeanHasStudentsInterval() {
    // Bland and Altman 1986, peak flow differences: bias -2.117647059, 95 % -22.048837697 to
    // 17.813543579 with t(16) = 2.12 (computed with full digits from the published readings).
    long[] large = {
      494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427
    };
    long[] mini = {
      512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451
    };
    Moments d = Moments.of(LongStream.range(0, 17).map(i -> large[(int) i] - mini[(int) i]));
    Interval interval = d.meanInterval(0.95).orElseThrow();
    assertEquals(-2.117647059, d.mean().orElseThrow(), 1e-9);
    assertEquals(-22.048837697, interval.low(), 1e-8);
    assertEquals(17.813543579, interval.high(), 1e-8);
  }

  private static void assertCertified(
      Moments moments, double scale, int n, double mean, double standardDeviation) {
    assertEquals(n, moments.count());
    assertEquals(mean, moments.mean().orElseThrow() / scale, Math.abs(mean) * 1e-14);
    assertEquals(
        standardDeviation,
        moments.standardDeviation().orElseThrow() / scale,
        standardDeviation * 3e-15);
  }

  private static long[] read(String set) throws IOException {
    try (InputStream in =
        Objects.requireNonNull(
            CertifiedMomentsTest.class.getResourceAsStream("/nist/" + set + ".txt"))) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8)
          .lines()
          .filter(line -> !line.startsWith("#"))
          .flatMapToLong(
              line -> Arrays.stream(line.trim().split(" ", -1)).mapToLong(Long::parseLong))
          .toArray();
    }
  }
}
