package org.stopwell.harness.standing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.external.DeviceJudge;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/** A physical device board decides when it is calibrated and proven, and says why it does not. */
class DeviceStandingTest {
  private static final BenchDescription MATTER =
      new BenchDescription("serial", "W-1", "stopwell device 1", false, false, 10_000_000);

  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);

  @TempDir Path directory;

  @Test
  void aBoardThatIsCalibratedAndProvenDecides() throws Exception {
    keep(0, "leak");
    BenchStanding standing = standing(DAY);
    assertEquals(List.of(), standing.reasons());
    assertTrue(standing.uncertaintyMicrons() > 0, "the budget of the device");
    TrialResult passed = result(Verdict.PASS, "AT_STANDOFF");
    assertEquals(passed, standing.weigh(passed, 500, 0));
    TrialResult failed = result(Verdict.FAIL, "OSCILLATES");
    assertEquals(failed, standing.weigh(failed, 500, 0));
  }

  @Test
  void withoutRecordsNothingIsDecidedAndTheReasonIsStated() throws Exception {
    BenchStanding standing = standing(DAY);
    assertEquals(List.of(Withheld.NOT_PROVEN, Withheld.NOT_CALIBRATED), causes(standing));
    assertTrue(
        standing.reasons().get(1).text().startsWith("Never calibrated: leak, stray, chain_"),
        standing.reasons().toString());
    TrialResult weighed = standing.weigh(result(Verdict.PASS, "AT_STANDOFF"), 500, 0);
    assertEquals(Verdict.UNDECIDED, weighed.verdict());
    assertEquals("NOT_PROVEN", weighed.code());
  }

  @Test
  void aReadingOutsideItsLimitAnOldRecordAndAnotherProofDoNotCount() throws Exception {
    keep(7_200, "leak");
    BenchStanding standing = standing(DAY);
    assertEquals(List.of(Withheld.NOT_CAPABLE), causes(standing));
    assertEquals(
        "Calibration of chain_phase on 2026-03-02: readings 7.200 to 7.200 °, limit ±5 °.",
        standing.reasons().get(0).text());
    keep(0, "leak");
    assertEquals(
        List.of(Withheld.PROOF_DUE, Withheld.CALIBRATION_DUE), causes(standing(DAY.plusDays(31))));
    keep(0, "ladder");
    assertEquals(Withheld.NOT_PROVEN, causes(standing(DAY)).get(0));
  }

  /** On a network of components no place is judged, so none is too near to a limit. */
  @Test
  void aDeviceThatActedOnANetworkIsNotHeldBackByTheGuardBand() {
    BenchStanding standing = new BenchStanding(List.of(), 50);
    TrialResult acted = result(Verdict.PASS, DeviceJudge.ACTED);
    assertEquals(acted, standing.weigh(acted, 500, 0));
  }

  private BenchStanding standing(LocalDate today) throws Exception {
    Plan plan = Plan.read(Source.of(TestPlans.file("device-twin")));
    return new BenchRecords(directory, MATTER).standing(plan, today);
  }

  private static List<Withheld> causes(BenchStanding standing) {
    return standing.reasons().stream().map(BenchStanding.Reason::cause).toList();
  }

  private static TrialResult result(Verdict verdict, String code) throws IllegalStateException {
    try {
      Plan plan = Plan.read(Source.of(TestPlans.file("device-twin")));
      assertEquals(Expectation.STOP, plan.trial(0).expectation());
      return TrialRunner.neverBegun(
              plan.trial(0), new BenchException(BenchException.RigFault.REFUSED, "test"))
          .with(verdict, code, "As in a test.");
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  /** Records of a board; the phase of its chain is off by so many thousandths of a degree. */
  private void keep(long phase, String check) throws Exception {
    List<CalibrationRecord> records = new ArrayList<>();
    for (Quantity quantity : Quantity.of(Quantity.Group.DEVICE)) {
      long reading =
          switch (quantity) {
            case LEAK -> 900_000;
            case STRAY -> 31_000;
            case WITNESS -> 100_000;
            case CHAIN_PHASE -> phase;
            default -> 0;
          };
      records.add(
          new CalibrationRecord(
              quantity,
              List.of(reading, reading),
              "meter",
              "C-1",
              1,
              2_000,
              DAY,
              DAY.plusDays(30),
              20_000,
              "OP-1",
              false,
              ""));
    }
    BenchRecords kept = new BenchRecords(directory, MATTER);
    kept.keep(new Calibrations("W-1", records));
    kept.keep(
        new ProofRecord(
            MATTER,
            DAY,
            DAY.plusDays(30),
            List.of(new Finding(check, Finding.Outcome.PASS, "1", "1", "Done.")),
            check.equals("leak") ? -1 : 5_000,
            30,
            new ProofRecord.Lateness(0, 0, 0, 0, 0)));
  }
}
