package org.stopwell.harness.assess;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;

class CautionTest {
  private static final long SEED = 515;

  private static List<VisitOutcome> stops(String errors) throws Exception {
    return new Assessment(
            new AssessmentChoice(SEED, 96, Map.of("caution_errors", errors), List.of(), List.of()))
        .run(Estimator.APPROACH, CanalCondition.HALF_WET, () -> {});
  }

  /** One standard error is some 0.3 mm here, and a file stops about as much earlier. */
  @Test
  void aCautiousStopComesAboutSoManyStandardErrorsEarlier() throws Exception {
    List<VisitOutcome> plain = stops("0");
    List<VisitOutcome> cautious = stops("1");
    List<Double> ratios = new ArrayList<>();
    for (int i = 0; i < plain.size(); i++) {
      VisitOutcome first = plain.get(i);
      VisitOutcome second = cautious.get(i);
      if (first.stopped() && second.stopped() && !first.pecking()) {
        double earlier = second.errorMicrons() - first.errorMicrons();
        // the hand trembles
        assertTrue(earlier > -400, "member " + i + " stops " + -earlier + " µm later");
        ratios.add(earlier / (second.boundMicrons() / 1.99));
      }
    }
    double mean = ratios.stream().mapToDouble(r -> r).average().orElseThrow();
    System.out.println("seed " + SEED + ": " + mean + " standard errors earlier, " + ratios.size());
    assertTrue(ratios.size() >= 8);
    assertEquals(1, mean, 0.5);
  }
}
