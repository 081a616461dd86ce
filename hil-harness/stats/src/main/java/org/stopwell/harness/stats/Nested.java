package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Balanced nested random effects on two levels, such as canals, days within canals and repeats
 * within days (ISO 5725-3, staggered designs excluded).
 *
 * @param outer groups on the outer level
 * @param inner groups within each outer group
 * @param repeats numbers within each inner group
 * @param outerMeanSquare mean square between outer groups, outer − 1 degrees of freedom
 * @param innerMeanSquare mean square between inner groups within outer ones, outer (inner − 1)
 * @param repeatMeanSquare mean square of repeats, outer · inner · (repeats − 1)
 */
public record Nested(
    int outer,
    int inner,
    long repeats,
    double outerMeanSquare,
    double innerMeanSquare,
    double repeatMeanSquare) {

  /**
   * Splits the spread of nested numbers.
   *
   * @param design outer groups of inner groups of numbers
   * @return the split, empty unless every level has at least two and all have the same size
   */
  public static Optional<Nested> of(List<List<Moments>> design) {
    List<Moments> cells = design.stream().flatMap(List::stream).toList();
    List<Moments> outers = new ArrayList<>();
    design.forEach(group -> outers.add(group.stream().reduce(Moments.NONE, Moments::plus)));
    int inner = design.isEmpty() ? 0 : design.get(0).size();
    long repeats = cells.isEmpty() ? 0 : cells.get(0).count();
    boolean balanced =
        design.stream().allMatch(group -> group.size() == inner)
            && cells.stream().allMatch(cell -> cell.count() == repeats);
    Optional<OneWay> byCell = OneWay.of(cells);
    Optional<OneWay> byOuter = OneWay.of(outers);
    if (!balanced || inner < 2 || repeats < 2 || byCell.isEmpty() || byOuter.isEmpty()) {
      return Optional.empty();
    }
    int outer = design.size();
    double innerSquares = byOuter.get().withinSquares() - byCell.get().withinSquares();
    return Optional.of(
        new Nested(
            outer,
            inner,
            repeats,
            byOuter.get().betweenMeanSquare(),
            innerSquares / (outer * (inner - 1.0)),
            byCell.get().withinMeanSquare()));
  }

  /**
   * Variance of repeats: repeatability squared.
   *
   * @return unit squared
   */
  public double repeatVariance() {
    return repeatMeanSquare;
  }

  /**
   * Variance between inner groups, 0 when negative.
   *
   * @return unit squared
   */
  public double innerVariance() {
    return Math.max(0, (innerMeanSquare - repeatMeanSquare) / repeats);
  }

  /**
   * Variance between outer groups, 0 when negative.
   *
   * @return unit squared
   */
  public double outerVariance() {
    return Math.max(0, (outerMeanSquare - innerMeanSquare) / ((double) repeats * inner));
  }

  /**
   * Intermediate precision: repeats and inner groups together.
   *
   * @return standard deviation in the unit of the numbers
   */
  public double intermediatePrecision() {
    return Math.sqrt(repeatVariance() + innerVariance());
  }

  /**
   * Reproducibility: all levels together.
   *
   * @return standard deviation in the unit of the numbers
   */
  public double reproducibility() {
    return Math.sqrt(repeatVariance() + innerVariance() + outerVariance());
  }
}
