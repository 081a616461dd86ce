package org.stopwell.harness.standing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/** What a frozen plan keeps of its bench: a change of any of it is a deviation. */
class RecordItemsTest {
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);

  private static final CalibrationRecord LADDER =
      new CalibrationRecord(
          Quantity.LADDER,
          List.of(1_000L, 2_000L, 3_000L),
          "meter",
          "C-1",
          600,
          2_000,
          DAY,
          DAY.plusDays(30),
          20_000,
          "A",
          false,
          "");

  private static final BenchDescription BENCH =
      new BenchDescription("serial", "B-1", "canal 1", false, false, 1_000_000);

  @Test
  void everyCalibrationIsALineWithAllItsNumbers() {
    SortedMap<String, String> items =
        RecordItems.of(new Calibrations("B-1", List.of(LADDER)), null);
    assertEquals(1, items.size());
    String key = items.firstKey();
    assertTrue(key.endsWith("ladder") && RecordItems.isOne(key), key);
    assertEquals(
        "of 2026-03-02, due 2026-04-01, +2.000 Ω, spread 1.000 Ω of 3, against meter, certificate"
            + " C-1, U 0.600 Ω (k 2.00), by A",
        items.get(key));
  }

  @Test
  void aProofIsALineWithItsOutcomeAndItsGauge() {
    assertEquals(
        "[of 2026-03-02, due 2026-04-01, complete, gauge 1700 nm]",
        RecordItems.of(new Calibrations("B-1", List.of()), proof(Finding.Outcome.PASS, 1_700))
            .values()
            .toString());
    assertEquals(
        "[of 2026-03-02, due 2026-04-01, failed]",
        RecordItems.of(new Calibrations("B-1", List.of()), proof(Finding.Outcome.FAIL, -1))
            .values()
            .toString());
    assertEquals(Map.of(), RecordItems.of(new Calibrations("B-1", List.of()), null));
  }

  @Test
  void theBenchItselfIsOneToo() {
    SortedMap<String, String> items = RecordItems.of(BENCH);
    assertEquals(List.of("canal 1", "B-1"), List.copyOf(items.values()));
    assertTrue(items.keySet().stream().allMatch(RecordItems::isOne));
    assertFalse(RecordItems.isOne("plan"));
  }

  private static ProofRecord proof(Finding.Outcome outcome, long gaugeNanometres) {
    return new ProofRecord(
        BENCH,
        DAY,
        DAY.plusDays(30),
        List.of(new Finding("rest", outcome, "0 rpm", "1 rpm", "at rest")),
        gaugeNanometres,
        30,
        new ProofRecord.Lateness(1, 0, 0, 0, 0));
  }
}
