package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.math.MathContext;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * Repeatability limit r and reproducibility limit R of the basic model of ISO 5725-2, pooled over
 * blocks. A block is one item, such as a tooth; its cells are the levels of one factor, such as
 * operators; a cell holds the repeats of that level on that item. With one block this is the
 * analysis of one level of ISO 5725-2.
 *
 * @param blocks blocks with at least two cells
 * @param cells cells in these blocks
 * @param count numbers in all
 * @param betweenFreedom degrees of freedom between cells, within blocks
 * @param withinFreedom degrees of freedom within cells
 * @param betweenMeanSquare mean square between cells, unit squared
 * @param withinMeanSquare mean square within cells, unit squared; 0 without repeats
 * @param cellSize the size that cells of a balanced design would have
 */
public record PrecisionLimits(
    int blocks,
    int cells,
    long count,
    int betweenFreedom,
    long withinFreedom,
    double betweenMeanSquare,
    double withinMeanSquare,
    double cellSize) {
  /**
   * A limit in standard deviations: two numbers differ by more in 5 % of cases, 1.96 √2 = 2.77,
   * which ISO 5725-6, 4.1.4 rounds.
   */
  public static final double FACTOR = 2.8;

  private static final MathContext DIGITS = new MathContext(60);

  /**
   * Splits the spread within blocks.
   *
   * @param blocks the cells of each block; a block with fewer than two filled cells is left out
   * @return empty unless a block has two cells
   */
  public static Optional<PrecisionLimits> of(List<List<Moments>> blocks) {
    int used = 0;
    int cells = 0;
    long count = 0;
    BigDecimal between = BigDecimal.ZERO;
    BigDecimal within = BigDecimal.ZERO;
    double sizes = 0;
    for (List<Moments> block : blocks) {
      List<Moments> filled = block.stream().filter(c -> c.count() > 0).toList();
      if (filled.size() < 2) {
        continue;
      }
      Moments all = filled.stream().reduce(Moments.NONE, Moments::plus);
      BigDecimal perCell = BigDecimal.ZERO;
      double squaredSizes = 0;
      for (Moments cell : filled) {
        perCell = perCell.add(squareOverCount(cell));
        squaredSizes += (double) cell.count() * cell.count();
      }
      between = between.add(perCell.subtract(squareOverCount(all)));
      within = within.add(new BigDecimal(all.sumOfSquares()).subtract(perCell));
      sizes += all.count() - squaredSizes / all.count();
      used++;
      cells += filled.size();
      count += all.count();
    }
    if (used == 0) {
      return Optional.empty();
    }
    int betweenFreedom = cells - used;
    long withinFreedom = count - cells;
    return Optional.of(
        new PrecisionLimits(
            used,
            cells,
            count,
            betweenFreedom,
            withinFreedom,
            between.doubleValue() / betweenFreedom,
            withinFreedom == 0 ? 0 : within.doubleValue() / withinFreedom,
            sizes / betweenFreedom));
  }

  private static BigDecimal squareOverCount(Moments m) {
    BigInteger square = m.sum().multiply(m.sum());
    return new BigDecimal(square).divide(BigDecimal.valueOf(m.count()), DIGITS);
  }

  /**
   * Repeatability standard deviation s_r: repeats of one level on one item.
   *
   * @return in the unit of the numbers, empty without repeats
   */
  public OptionalDouble repeatability() {
    return withinFreedom == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(Math.sqrt(withinMeanSquare));
  }

  /**
   * Reproducibility standard deviation s_R: other levels on one item. s_R² = s_L² + s_r², s_L² not
   * below 0; without repeats the mean square between cells estimates it as a whole.
   *
   * @return in the unit of the numbers
   */
  public double reproducibility() {
    double levels = Math.max(0, (betweenMeanSquare - withinMeanSquare) / cellSize);
    return Math.sqrt(withinFreedom == 0 ? betweenMeanSquare : levels + withinMeanSquare);
  }
}
