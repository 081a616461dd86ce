package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class VarianceComponentsTest {
  /**
   * NIST StRD one-way analysis of variance: certified sums of squares, F and residual standard
   * deviation. SmLs07 has thirteen constant leading digits.
   */
  @ParameterizedTest
  @CsvSource({
    "SiRstv, 4, 5.11462616000000E-02, 2.16636560000000E-01, 1.18046237440255, 1.04076068334656E-01",
    "AtmWtAg, 7, 3.63834187500000E-09, 1.04951729166667E-08, 15.9467335677930, 1.51048314446410E-05",
    "SmLs01, 1, 1.68, 1.80, 21.0, 0.1",
    "SmLs04, 1, 1.68, 1.80, 21.0, 0.1",
    "SmLs07, 1, 1.68, 1.80, 21.0, 0.1",
  })
  void certifiedAnalysesOfVariance(
      String set, int decimals, double between, double within, double f, double deviation)
      throws IOException {
    OneWay split = OneWay.of(read(set, decimals)).orElseThrow();
    double unit = Math.pow(10, -decimals);
    assertEquals(between, split.betweenSquares() * unit * unit, between * 1e-12);
    assertEquals(within, split.withinSquares() * unit * unit, within * 1e-12);
    assertEquals(f, split.betweenMeanSquare() / split.withinMeanSquare(), f * 1e-12);
    assertEquals(deviation, split.repeatability() * unit, deviation * 1e-12);
  }

  /**
   * Yields of dyestuff from six batches: Davies and Goldsmith, Statistical Methods in Research and
   * Production, 4th edition, 1972, table 6.1 (data from memory). Published components: between
   * batches 1764, within 2451; standard deviations 42.0 and 49.5.
   */
  @Test
  void batchesOfDyestuff() {
    List<Moments> batches =
        List.of(
            yields(1545, 1440, 1440, 1520, 1580),
            yields(1540, 1555, 1490, 1560, 1495),
            yields(1595, 1550, 1605, 1510, 1560),
            yields(1445, 1440, 1595, 1465, 1545),
            yields(1595, 1630, 1515, 1635, 1625),
            yields(1520, 1455, 1450, 1480, 1445));
    OneWay split = OneWay.of(batches).orElseThrow();
    assertEquals(11271.5, split.betweenMeanSquare(), 0.05);
    assertEquals(2451.25, split.withinMeanSquare(), 1e-9);
    assertEquals(1764.05, Math.pow(split.betweenDeviation(), 2), 0.005);
    assertEquals(49.51, split.repeatability(), 0.005);
    assertEquals(64.93, split.reproducibility(), 0.01);
  }

  @Test
  void aSingleGroupAndSingleNumbersAreNotEstimable() {
    Moments three = yields(1, 2, 3);
    assertEquals(Optional.empty(), OneWay.of(List.of(three)));
    assertEquals(Optional.empty(), OneWay.of(List.of(yields(1), yields(2))));
    OneWay equal = OneWay.of(List.of(yields(5, 5), yields(5, 5))).orElseThrow();
    assertEquals(Optional.empty(), equal.repeatabilityInterval(0.95));
  }

  @Test
  void theRepeatabilityHasAnExactInterval() {
    // chi-square 0.025 and 0.975 with 20 degrees of freedom: 9.590777 and 34.169607.
    OneWay split = new OneWay(5, 25, 1, 20, 5);
    Interval interval = split.repeatabilityInterval(0.95).orElseThrow();
    assertEquals(Math.sqrt(20 / 34.169607), interval.low(), 1e-7);
    assertEquals(Math.sqrt(20 / 9.590777), interval.high(), 1e-6);
  }

  /**
   * AIAG, Measurement Systems Analysis, 4th edition: 10 parts, 3 appraisers, 3 trials. Published:
   * sums of squares 88.362, 3.167, 0.359, 2.759; components with the interaction pooled: equipment
   * 0.0400, appraiser 0.0515, gauge 0.0914, part 1.086, total 1.178; 4 categories.
   */
  @Test
  void theGaugeStudyOfTheManual() {
    String[][] appraisers = GaugeData.APPRAISERS;
    List<List<Moments>> table = new ArrayList<>();
    for (int part = 0; part < 10; part++) {
      List<Moments> row = new ArrayList<>();
      for (String[] trials : appraisers) {
        int column = part;
        row.add(
            Scaled.moments(Arrays.stream(trials).map(t -> Scaled.row(t, 2).get(column)).toList()));
      }
      table.add(row);
    }
    GaugeStudy study = GaugeStudy.of(table);
    double unit = 1e-4; // hundredths squared
    assertEquals(88.361934444, study.partSquares() * unit, 1e-8);
    assertEquals(3.167262222, study.appraiserSquares() * unit, 1e-8);
    assertEquals(.358982222, study.interactionSquares() * unit, 1e-8);
    assertEquals(2.758933333, study.equipmentSquares() * unit, 1e-8);
    assertTrue(study.isPooled());
    assertEquals(.0400, study.equipmentVariance() * unit, .00005);
    assertEquals(.0515, study.appraiserVariance() * unit, .00005);
    assertEquals(.0914, study.gaugeVariance() * unit, .00005);
    assertEquals(1.086, study.partVariance() * unit, .0005);
    assertEquals(1.178, study.totalVariance() * unit, .0005);
    assertEquals(0, study.interactionVariance());
    assertEquals(4, (int) study.distinctCategories());
  }

  /** A crossed case small enough to do by hand: mean squares 600, 150, 48, 2. */
  @Test
  void anInteractionThatStandsOutIsKept() {
    GaugeStudy study = new GaugeStudy(1200, 300, 192, 18, 3, 3, 2);
    assertFalse(study.isPooled());
    assertEquals(2, study.equipmentVariance(), 1e-12);
    assertEquals(23, study.interactionVariance(), 1e-12);
    assertEquals(17, study.appraiserVariance(), 1e-12);
    assertEquals(92, study.partVariance(), 1e-12);
    assertEquals(42, study.gaugeVariance(), 1e-12);
    assertEquals(134, study.totalVariance(), 1e-12);
  }

  @Test
  void aTableWithHolesIsNoGaugeStudy() {
    assertThrows(
        IllegalArgumentException.class,
        () ->
            GaugeStudy.of(
                List.of(List.of(yields(1, 2), yields(1, 2)), List.of(yields(1, 2), yields(1)))));
  }

  private static Moments yields(long... values) {
    return Moments.of(LongStream.of(values));
  }

  private static List<Moments> read(String set, int decimals) throws IOException {
    Map<String, List<Long>> groups = new TreeMap<>();
    try (InputStream in =
        Objects.requireNonNull(
            VarianceComponentsTest.class.getResourceAsStream("/nist/" + set + ".dat"))) {
      new String(in.readAllBytes(), StandardCharsets.US_ASCII)
          .lines()
          .skip(60)
          .map(String::trim)
          .filter(line -> !line.isEmpty())
          .forEach(
              line -> {
                String[] words = line.split("\\s+", -1);
                groups
                    .computeIfAbsent(words[0], w -> new ArrayList<>())
                    .add(Scaled.whole(words[1], decimals));
              });
    }
    return groups.values().stream().map(Scaled::moments).toList();
  }
}
