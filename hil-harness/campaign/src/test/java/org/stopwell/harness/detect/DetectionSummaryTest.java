package org.stopwell.harness.detect;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.stats.Proportion;

/** What a search for the smallest defects says, in words and as values. Made-up findings. */
class DetectionSummaryTest {
  private static final Detection.Finding FOUND =
      new Detection.Finding(
          DefectKind.LATE,
          Optional.of(new Detection.Tried(100, new Proportion(10, 10), Optional.empty())),
          Optional.of(
              new Detection.Tried(
                  50, new Proportion(3, 4), Optional.of(new Detection.Effect(24, 0, 75)))));

  private static final Detection.Finding TOLERATED =
      new Detection.Finding(
          DefectKind.STANDOFF_MORE,
          Optional.empty(),
          Optional.of(
              new Detection.Tried(
                  150, new Proportion(0, 1), Optional.of(new Detection.Effect(24, 5, 750)))));

  private static final Detection.Finding WITHIN =
      new Detection.Finding(
          DefectKind.LEAD_SIGN,
          Optional.empty(),
          Optional.of(
              new Detection.Tried(
                  1, new Proportion(0, 1), Optional.of(new Detection.Effect(24, 0, 31)))));

  private static final Detection.Finding HARMLESS =
      new Detection.Finding(
          DefectKind.NO_DEBOUNCE,
          Optional.empty(),
          Optional.of(
              new Detection.Tried(
                  1, new Proportion(0, 1), Optional.of(new Detection.Effect(24, 0, 0)))));

  private static final Detection.Finding CLEAR =
      new Detection.Finding(
          DefectKind.DISTANCE_SIGN,
          Optional.of(new Detection.Tried(1, new Proportion(10, 10), Optional.empty())),
          Optional.empty());

  /** 10 of 10: at least 0.05^(1/10) = 74.11 %; 0 of 10 alarms: at most 25.89 %, both exact. */
  @Test
  void everyFindingIsALineWithItsNumbers() {
    assertEquals(
        """
        build: 10 campaigns of 24 trials for each size, simulated
        A sound controller raises an alarm in 0 of 10 (with 95 % confidence at most 25.89 %).
          signal is older than stated by: detected from 100 ms on, 10 of 10, at least 74.11 %; missed at 50 ms, detected in 3 of 4 campaigns
          sign of the distance is wrong: detected, 10 of 10, at least 74.11 %
          standoff is too great by: NOT DETECTED (missed at 150 %, detected in 0 of 1 campaigns)
            Tolerated by the claims of this plan: in the campaign that missed it, stops moved by up to 0.75 mm
            and verdict or cause changed in 5 of 24 trials. To detect it, a plan needs
            a narrower tolerance, or a claim on the bias, or more trials.
          sign of the lead for coasting is wrong: NOT DETECTED (detected in 0 of 1 campaigns)
            Within the tolerance of this plan: in the campaign that missed it, stops moved by up to 0.031 mm
            and no verdict or cause changed in 24 trials. To detect it, a plan needs
            hands so fast that the lead exceeds the tolerance.
          start and return of trust are not debounced: NOT DETECTED (detected in 0 of 1 campaigns)
            Harmless under this plan: in the campaign that missed it, no stop moved
            and no verdict or cause changed in 24 trials. To detect it, a plan needs
            a contact that bounces, and the cause that the controller must name.
        """,
        printed(
            new DetectionSummary(
                "build",
                24,
                10,
                new Proportion(0, 10),
                List.of(FOUND, CLEAR, TOLERATED, WITHIN, HARMLESS))));
  }

  @Test
  void aPlanThatAlwaysRaisesAnAlarmDetectsNothing() {
    assertEquals(
        """
        build: 10 campaigns of 24 trials for each size, simulated
        A sound controller raises an alarm in 10 of 10 (with 95 % confidence at most 100.00 %).
        A sound controller never passes this plan, so the plan detects nothing.
        """,
        printed(new DetectionSummary("build", 24, 10, new Proportion(10, 10), List.of(FOUND))));
  }

  @Test
  @SuppressWarnings("unchecked")
  void theValuesAreThoseOfTheFindings() {
    Map<String, Object> values =
        new DetectionSummary("build", 24, 10, new Proportion(1, 10), List.of(FOUND, CLEAR))
            .values();
    assertEquals("build", values.get("plan"));
    assertEquals(24, values.get("trials"));
    assertEquals(10, values.get("campaigns"));
    assertEquals(1L, values.get("false_alarms"));
    assertEquals(true, values.get("simulated"));
    List<Map<String, Object>> kinds =
        (List<Map<String, Object>>) values.getOrDefault("kinds", List.of());
    Map<String, Object> late = kinds.get(0);
    assertEquals("LATE", late.get("kind"));
    assertEquals(100, late.get("noticed_from"));
    assertEquals(10L, late.get("noticed"));
    assertEquals(10L, late.get("of"));
    assertEquals(0.7411, (double) late.getOrDefault("lower_95", 0), 1e-4);
    assertEquals(50, late.get("missed"));
    assertEquals(24, late.get("missed_trials"));
    assertEquals(0, late.get("missed_verdicts_changed"));
    assertEquals(75, late.get("missed_largest_shift_um"));
    assertFalse(kinds.get(1).containsKey("missed"));
  }

  private static String printed(DetectionSummary summary) {
    List<String> lines = new ArrayList<>();
    summary.print(lines::add);
    return String.join("\n", lines) + "\n";
  }
}
