package org.stopwell.harness.stats;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class AverageRangeTest {
  private static final double STEP = 0.02;
  private static final double END = 7;

  /**
   * AIAG, Measurement Systems Analysis, 4th edition, chapter III section B, the sheet of its own
   * study: EV 0.20188, AV 0.22963, GRR 0.30575, PV 1.10456, TV 1.14610, 26.68 %, 5 categories.
   */
  @Test
  void theStudyOfTheManual() {
    AverageRange study = AverageRange.of(GaugeData.table()).orElseThrow();
    assertEquals(0.20188, study.equipment(), 0.00005);
    assertEquals(0.22963, study.appraiser(), 0.00005);
    assertEquals(0.30575, study.gauge(), 0.00005);
    assertEquals(1.10456, study.part(), 0.00005);
    assertEquals(1.14610, study.total(), 0.00005);
    assertEquals(0.2668, study.gauge() / study.total(), 0.0001);
    assertEquals(5, (int) study.distinctCategories());
  }

  @Test
  void aTableWithHolesOrOfAnotherSizeIsNone() {
    assertEquals(Optional.empty(), AverageRange.of(List.of()));
    assertEquals(
        Optional.empty(), AverageRange.of(List.of(List.of(List.of(1.0, 2.0), List.of(1.0)))));
  }

  /** K₃ is one over the root of the mean square of the range of so many normal numbers. */
  @ParameterizedTest
  @ValueSource(ints = {2, 3, 4, 5, 6, 7, 8, 9, 10})
  void theConstantOfPartsFollowsFromTheRange(int parts) {
    List<List<List<Double>>> table = new ArrayList<>();
    for (int p = 0; p < parts; p++) {
      double value = p == 0 ? 1.0 : 0.0;
      table.add(List.of(List.of(value, value), List.of(value, value)));
    }
    assertEquals(1 / Math.sqrt(meanSquareRange(parts)), of(table).part(), 0.0001);
  }

  /** K₂ is the same for appraisers. */
  @ParameterizedTest
  @ValueSource(ints = {2, 3})
  void theConstantOfAppraisersFollowsFromTheRange(int appraisers) {
    List<List<Double>> row = new ArrayList<>();
    for (int a = 0; a < appraisers; a++) {
      double value = a == 0 ? 1.0 : 0.0;
      row.add(List.of(value, value));
    }
    assertEquals(
        1 / Math.sqrt(meanSquareRange(appraisers)), of(List.of(row, row)).appraiser(), 0.0001);
  }

  /** K₁ is one over the mean of the range: the manual takes many ranges for it. */
  @ParameterizedTest
  @ValueSource(ints = {2, 3})
  void theConstantOfRepeatsFollowsFromTheRange(int repeats) {
    List<Double> cell = repeats == 2 ? List.of(0.0, 1.0) : List.of(0.0, 1.0, 0.5);
    List<List<Double>> row = List.of(cell, cell);
    assertEquals(1 / meanRange(repeats), of(List.of(row, row)).equipment(), 0.0001);
  }

  private static AverageRange of(List<List<List<Double>>> table) {
    return AverageRange.of(table).orElseThrow();
  }

  /** Mean of the range of n standard normal numbers: ∫ 1 − Fⁿ − (1 − F)ⁿ dx. */
  private static double meanRange(int n) {
    double sum = 0;
    for (double x = -END; x <= END; x += STEP) {
      double below = cdf(x);
      sum += (1 - Math.pow(below, n) - Math.pow(1 - below, n)) * STEP;
    }
    return sum;
  }

  /** Mean of its square: 2 ∫∫ over x below y of P(the least is below x, the greatest above y). */
  private static double meanSquareRange(int n) {
    double sum = 0;
    for (double x = -END; x <= END; x += STEP) {
      double below = cdf(x);
      // Where x is y the chance is that of the mean, and half a cell belongs to the triangle.
      sum += (1 - Math.pow(below, n) - Math.pow(1 - below, n)) * STEP * STEP;
      for (double y = x + STEP; y <= END; y += STEP) {
        double to = cdf(y);
        double outside = 1 - Math.pow(to, n) - Math.pow(1 - below, n) + Math.pow(to - below, n);
        sum += 2 * outside * STEP * STEP;
      }
    }
    return sum;
  }

  private static double cdf(double x) {
    return NormalDistribution.of(0, 1).cumulativeProbability(x);
  }
}
