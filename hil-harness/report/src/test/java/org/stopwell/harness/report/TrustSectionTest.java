package org.stopwell.harness.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.claim.TrustSummary;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;

class TrustSectionTest {
  private static final Condition CONDITION =
      new Condition("half-wet", Expectation.STOP, 12, 500, 500);

  @Test
  void boundsAreHeldAgainstTheErrorOfTheReading() {
    // Truth minus reading 300 µm: covered by 300, not by 299.
    TrustSummary trust =
        TrustSummary.of(
            CONDITION,
            List.of(
                stop(0, 100, 300, 300, Trust.SURE),
                stop(1, 100, 299, 300, Trust.SURE),
                stop(2, 501, 900, -300, Trust.SURE),
                stop(3, 501, 900, 0, Trust.DOUBTFUL),
                SampleRun.stop(4, 100),
                SampleRun.refusedAt(5, "half-wet", 900)));
    assertEquals(new Proportion(5, 6), trust.stopped());
    assertEquals(new Proportion(4, 5), trust.sure(), "the fourth is doubtful");
    assertEquals(new Proportion(1, 4), trust.sureAndWrong());
    assertEquals(new Proportion(2, 3), trust.covered(), "the fourth has no error chain");
    assertEquals(600, trust.medianBoundMicrons().orElseThrow());
  }

  @Test
  void theCurveRisesWithTheLimitOfTheBound() {
    List<TrialResult> stops =
        List.of(
            stop(0, 600, 800, 1, Trust.DOUBTFUL),
            stop(1, 0, 200, 1, Trust.SURE),
            stop(2, 0, 200, 1, Trust.SURE),
            stop(3, 0, 400, 1, Trust.SURE));
    assertEquals(
        List.of(
            new TrustSummary.Point(200, new Proportion(2, 4), new Proportion(0, 2)),
            new TrustSummary.Point(400, new Proportion(3, 4), new Proportion(0, 3)),
            new TrustSummary.Point(800, new Proportion(4, 4), new Proportion(1, 4))),
        TrustSummary.curve(stops, t -> TrustSummary.isWrong(CONDITION, t)));
  }

  @Test
  void thePageShowsThemWhereABoundIsStated() {
    List<TrialResult> stops = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      stops.add(stop(i, 10 * i, 450, 100, Trust.SURE));
    }
    String page = ReportPage.html(SampleRun.header(12, 0), stops, Map.of());
    assertTrue(page.contains("12 of 12 stopped; bound ±0.45 mm"), page);
    assertTrue(page.contains("sure-curve-title"), "the curve of share against error");
    assertFalse(
        ReportPage.html(SampleRun.header(1, 0), List.of(SampleRun.stop(0, 1)), Map.of())
            .contains("trust-section"));
  }

  private static TrialResult stop(
      int index, int errorMicrons, int boundMicrons, int readingErrorMicrons, Trust trust) {
    TrialResult s = SampleRun.stop(index, errorMicrons);
    return new TrialResult(
        index,
        s.condition(),
        s.seed(),
        s.expectation(),
        s.verdict(),
        s.code(),
        s.message(),
        true,
        s.remainingMicrons(),
        errorMicrons,
        s.deepestMicrons(),
        s.readingMicrons(),
        boundMicrons,
        s.state(),
        s.reason(),
        trust,
        s.cause(),
        s.stopTimeNs(),
        s.durationNs(),
        s.steps(),
        s.worstLatenessNs(),
        s.stateHash(),
        new ErrorChain(readingErrorMicrons, 0, 0, 0, 0, 0));
  }
}
