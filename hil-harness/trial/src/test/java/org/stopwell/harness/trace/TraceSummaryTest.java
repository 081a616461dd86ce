package org.stopwell.harness.trace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.stats.BoundedMean;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trace.TraceScore.Outcome;
import org.stopwell.harness.trace.TraceSummary.Measure;

class TraceSummaryTest {
  private static final List<TraceScore> SCORES =
      List.of(
          stop("A", "dry", 100, 300, Trust.SURE),
          stop("A", "wet", 600, 700, Trust.DOUBTFUL),
          stop("B", "dry", -900, 400, Trust.SURE),
          stop("B", "wet", -1_200, 0, Trust.SURE),
          other("C", "dry", Outcome.REFUSED, true, true),
          other("C", "wet", Outcome.REFUSED, false, false),
          other("D", "wet", Outcome.NO_STOP, true, true));

  @Test
  void everyShareHasItsOwnDenominator() {
    TraceSummary all = TraceSummary.byFluid(SCORES).get(2);
    assertEquals("all", all.name());
    assertEquals(7, all.traces());
    assertEquals(4, all.teeth());
    assertEquals(new Proportion(4, 7), all.share(Measure.STOPPED).counted());
    assertEquals(new Proportion(1, 4), all.share(Measure.WITHIN).counted());
    // The two stops that rest 0.9 and 1.2 mm too deep, a refusal and a drive to the end.
    assertEquals(new Proportion(4, 6), all.share(Measure.PAST).counted());
    assertEquals(new Proportion(2, 7), all.share(Measure.REFUSED).counted());
    assertEquals(new Proportion(1, 7), all.share(Measure.NO_STOP).counted());
    assertEquals(new Proportion(3, 4), all.share(Measure.SURE).counted());
    assertEquals(new Proportion(2, 3), all.share(Measure.SURE_AND_WRONG).counted());
    assertEquals(new Proportion(1, 3), all.share(Measure.SURE_AND_FAR_WRONG).counted());
    assertEquals(new Proportion(2, 3), all.share(Measure.COVERED).counted());
  }

  @Test
  void fluidsAreCountedByThemselves() {
    List<TraceSummary> fluids = TraceSummary.byFluid(SCORES);
    assertEquals(List.of("dry", "wet", "all"), fluids.stream().map(TraceSummary::name).toList());
    assertEquals(new Proportion(2, 3), fluids.get(0).share(Measure.STOPPED).counted());
    assertEquals(1, TraceSummary.byFluid(SCORES.subList(0, 1)).size());
  }

  /** Ten traces of one tooth that behave as one tell no more than one of them. */
  @Test
  void theIntervalCountsTeeth() {
    List<TraceScore> scores = new ArrayList<>();
    for (int tooth = 0; tooth < 5; tooth++) {
      for (int again = 0; again < 10; again++) {
        scores.add(stop("T" + tooth, "wet", tooth == 0 ? 900 : 0, 100, Trust.SURE));
      }
    }
    var share = TraceSummary.byFluid(scores).get(0).share(Measure.WITHIN);
    assertEquals(new Proportion(40, 50), share.counted());
    double[] teeth = {0, 1, 1, 1, 1};
    assertEquals(BoundedMean.lower(teeth, 0.975), share.interval().orElseThrow().low(), 1e-9);
    assertEquals(BoundedMean.upper(teeth, 0.975), share.interval().orElseThrow().high(), 1e-9);
    var exact = new Proportion(4, 5).clopperPearson(0.95).orElseThrow();
    assertEquals(exact.low(), share.interval().orElseThrow().low(), 1e-6);
  }

  @Test
  void aShareOfNothingHasNoInterval() {
    List<TraceScore> one = List.of(other("C", "wet", Outcome.REFUSED, false, false));
    TraceSummary summary = TraceSummary.byFluid(one).get(0);
    assertEquals(new Proportion(0, 0), summary.share(Measure.WITHIN).counted());
    assertTrue(summary.share(Measure.WITHIN).interval().isEmpty());
    assertTrue(summary.share(Measure.REFUSED).interval().isPresent());
  }

  /** A stop whose reading errs by as much as its place of rest. */
  private static TraceScore stop(
      String tooth, String fluid, int errorMicrons, int boundMicrons, Trust trust) {
    return new TraceScore(
        new TracedApproach(Path.of(tooth + ".csv"), tooth, fluid, 0),
        Outcome.STOPPED,
        true,
        1,
        500 + errorMicrons,
        OptionalInt.of(500),
        500 + errorMicrons,
        500,
        500,
        500 + errorMicrons < 0,
        trust,
        Cause.NO_CAUSE,
        Reason.STANDOFF_REACHED,
        boundMicrons,
        5_000_000,
        5);
  }

  private static TraceScore other(
      String tooth, String fluid, Outcome outcome, boolean driven, boolean past) {
    return new TraceScore(
        new TracedApproach(Path.of(tooth + ".csv"), tooth, fluid, 0),
        outcome,
        driven,
        1,
        0,
        OptionalInt.empty(),
        0,
        500,
        500,
        past,
        Trust.NONE,
        Cause.LEAKING,
        Reason.TRUST_LOST,
        0,
        5_000_000,
        5);
  }
}
