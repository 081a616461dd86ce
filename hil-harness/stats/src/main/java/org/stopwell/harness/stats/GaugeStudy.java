package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.statistics.distribution.FDistribution;

/**
 * A crossed gauge study: every appraiser measures every part several times. Analysis of variance as
 * in AIAG, Measurement Systems Analysis, 4th edition; the interaction is pooled with the equipment
 * when it does not stand out.
 *
 * @param partSquares sum of squares of parts
 * @param appraiserSquares sum of squares of appraisers
 * @param interactionSquares sum of squares of parts by appraisers
 * @param equipmentSquares sum of squares of repeats
 * @param parts how many parts
 * @param appraisers how many appraisers
 * @param repeats how many repeats of each
 */
public record GaugeStudy(
    double partSquares,
    double appraiserSquares,
    double interactionSquares,
    double equipmentSquares,
    int parts,
    int appraisers,
    long repeats) {
  /** An interaction with a p value above this is pooled (AIAG's choice). */
  private static final double POOL_ABOVE = 0.25;

  /**
   * The study of a full table.
   *
   * @param table numbers by part, then by appraiser
   * @return the study
   * @throws IllegalArgumentException unless the table is full, with two or more of everything
   */
  public static GaugeStudy of(List<List<Moments>> table) {
    int parts = table.size();
    int appraisers = parts == 0 ? 0 : table.get(0).size();
    List<Moments> cells = table.stream().flatMap(List::stream).toList();
    long repeats = cells.isEmpty() ? 0 : cells.get(0).count();
    if (parts < 2
        || appraisers < 2
        || repeats < 2
        || table.stream().anyMatch(row -> row.size() != appraisers)
        || cells.stream().anyMatch(cell -> cell.count() != repeats)) {
      throw new IllegalArgumentException(
          "a gauge study needs the same number, 2 or more, of appraisers for each of 2 or more parts"
              + " and of repeats for each pair");
    }
    List<Moments> byPart = new ArrayList<>();
    table.forEach(row -> byPart.add(sum(row)));
    List<Moments> byAppraiser = new ArrayList<>();
    for (int a = 0; a < appraisers; a++) {
      int column = a;
      byAppraiser.add(sum(table.stream().map(row -> row.get(column)).toList()));
    }
    OneWay cell = OneWay.of(cells).orElseThrow();
    double part = OneWay.of(byPart).orElseThrow().betweenSquares();
    double appraiser = OneWay.of(byAppraiser).orElseThrow().betweenSquares();
    return new GaugeStudy(
        part,
        appraiser,
        cell.betweenSquares() - part - appraiser,
        cell.withinSquares(),
        parts,
        appraisers,
        repeats);
  }

  private static Moments sum(List<Moments> moments) {
    return moments.stream().reduce(Moments.NONE, Moments::plus);
  }

  private long equipmentFreedom() {
    return (long) parts * appraisers * (repeats - 1);
  }

  private int interactionFreedom() {
    return (parts - 1) * (appraisers - 1);
  }

  /**
   * Whether the interaction is pooled with the equipment.
   *
   * @return true when its p value is above 0.25
   */
  public boolean isPooled() {
    double f = interactionSquares / interactionFreedom() / (equipmentSquares / equipmentFreedom());
    return FDistribution.of(interactionFreedom(), (double) equipmentFreedom())
            .survivalProbability(f)
        > POOL_ABOVE;
  }

  /**
   * Variance of repeats: equipment variation squared.
   *
   * @return unit squared
   */
  public double equipmentVariance() {
    return isPooled()
        ? (equipmentSquares + interactionSquares) / (equipmentFreedom() + interactionFreedom())
        : equipmentSquares / equipmentFreedom();
  }

  /**
   * Variance of the interaction, 0 when pooled or negative.
   *
   * @return unit squared
   */
  public double interactionVariance() {
    return isPooled()
        ? 0
        : Math.max(0, (interactionSquares / interactionFreedom() - equipmentVariance()) / repeats);
  }

  /**
   * Variance between appraisers, 0 when negative.
   *
   * @return unit squared
   */
  public double appraiserVariance() {
    double noise = isPooled() ? equipmentVariance() : interactionSquares / interactionFreedom();
    return Math.max(0, (appraiserSquares / (appraisers - 1) - noise) / ((double) parts * repeats));
  }

  /**
   * Variance between parts, 0 when negative.
   *
   * @return unit squared
   */
  public double partVariance() {
    double noise = isPooled() ? equipmentVariance() : interactionSquares / interactionFreedom();
    return Math.max(0, (partSquares / (parts - 1) - noise) / ((double) appraisers * repeats));
  }

  /**
   * Variance of the gauge: equipment, interaction and appraisers.
   *
   * @return unit squared
   */
  public double gaugeVariance() {
    return equipmentVariance() + interactionVariance() + appraiserVariance();
  }

  /**
   * Variance of everything.
   *
   * @return unit squared
   */
  public double totalVariance() {
    return gaugeVariance() + partVariance();
  }

  /**
   * How many groups of parts the gauge can tell apart, before it is cut to a whole number.
   *
   * @return √2 part variation over gauge variation
   */
  public double distinctCategories() {
    return Math.sqrt(2 * partVariance() / gaugeVariance());
  }
}
