package org.stopwell.harness.standing;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.claim.CampaignSummary;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.proof.ProofRecord;

class BenchStandingTest {
  private static final LocalDate DAY = LocalDate.of(2026, 3, 2);
  private static final BenchDescription MATTER =
      new BenchDescription("serial", "B-1", "canal 1 abcd", false, false, 1_000_000);

  @Test
  void aBenchThatIsProvenAndCalibratedDecides() {
    BenchStanding standing = standing(MATTER, proof(Outcome.PASS, 17_000), calibrations(false), 40);
    assertEquals(List.of(), standing.reasons());
    assertSame(Verdict.PASS, standing.weigh(stop(0, 0), 500, 0).verdict());
  }

  @Test
  void aSimulatedBenchNeedsNoProof() {
    BenchDescription model = new BenchDescription("virtual", "model", "plant", true, true, 1);
    assertSame(
        BenchStanding.SIMULATED,
        BenchStanding.of(model, null, new Calibrations("model", List.of()), 900, 500, DAY));
    assertEquals(BenchStanding.SIMULATED, BenchStanding.unknown(model));
  }

  @Test
  void aBenchWithoutRecordsRunsAndDoesNotDecide() {
    BenchStanding standing =
        BenchStanding.of(MATTER, null, new Calibrations("B-1", List.of()), 10, 500, DAY);
    assertEquals(List.of(Withheld.NOT_PROVEN, Withheld.NOT_CALIBRATED), causes(standing));
    TrialResult weighed = standing.weigh(stop(3, 120), 500, 0);
    assertEquals(Verdict.UNDECIDED, weighed.verdict());
    assertEquals("NOT_PROVEN", weighed.code());
    assertEquals(120, weighed.stopErrorMicrons(), "the number is kept");
    assertTrue(
        weighed.message().contains("Result without this limit: PASS AT_STANDOFF"),
        weighed.message());
    assertEquals(List.of(Withheld.NOT_PROVEN), causes(BenchStanding.unknown(MATTER)));
  }

  @Test
  void everyLackHasItsOwnCode() {
    assertEquals(
        List.of(Withheld.PROOF_FAILED),
        causes(standing(MATTER, proof(Outcome.FAIL, 0), calibrations(false), 10)));
    assertEquals(
        List.of(Withheld.NOT_PROVEN),
        causes(standing(MATTER, proof(Outcome.NOT_DONE, 0), calibrations(false), 10)));
    assertEquals(
        List.of(Withheld.NOT_PROVEN),
        causes(standing(MATTER, proof(Outcome.PASS, -1), calibrations(false), 10)),
        "without a gauge study");
    assertEquals(
        List.of(Withheld.NOT_CAPABLE),
        causes(standing(MATTER, proof(Outcome.PASS, 50_001), calibrations(false), 10)));
    assertEquals(
        List.of(Withheld.NOT_CAPABLE),
        causes(standing(MATTER, proof(Outcome.PASS, 0), calibrations(false), 126)));
    assertEquals(
        List.of(Withheld.NOT_CALIBRATED),
        causes(standing(MATTER, proof(Outcome.PASS, 0), calibrations(true), 10)),
        "a simulated reference is none");
    BenchDescription flashed =
        new BenchDescription("serial", "B-1", "canal 2 ef01", false, false, 1_000_000);
    assertEquals(
        List.of(Withheld.BENCH_CHANGED),
        causes(standing(flashed, proof(Outcome.PASS, 0), calibrations(false), 10)));
  }

  @Test
  void aStationThatIsNotTheOneThatWasProvenIsNamedByWhatChanged() {
    BenchDescription wired = pi("enable_gpio=17 idle_current_ma=100 pwm_hz=20000");
    BenchDescription rewired = pi("enable_gpio=22 idle_current_ma=110 pwm_hz=20000");
    ProofRecord proof = proof(wired, Outcome.PASS, 0);
    assertEquals(
        List.of(), causes(BenchStanding.of(wired, proof, at(wired.setup()), 10, 500, DAY)));
    BenchStanding changed = BenchStanding.of(rewired, proof, at(rewired.setup()), 10, 500, DAY);
    assertEquals(
        "The station file has changed since the proof: enable_gpio was 17, now 22;"
            + " idle_current_ma was 100, now 110.",
        changed.reasons().get(0).text());
    assertEquals(List.of(Withheld.BENCH_CHANGED), causes(changed));
    assertEquals(Verdict.UNDECIDED, changed.weigh(stop(0, 0), 500, 0).verdict());
    BenchStanding old =
        BenchStanding.of(rewired, proof(rewired, Outcome.PASS, 0), at(wired.setup()), 10, 500, DAY);
    assertEquals(List.of(Withheld.BENCH_CHANGED), causes(old));
    assertTrue(
        old.reasons().get(0).text().contains("Since ladder, stage_scale, "),
        old.reasons().toString());
    assertTrue(
        old.reasons().get(0).text().contains("enable_gpio was 17, now 22"),
        old.reasons().toString());
    assertTrue(
        BenchStanding.of(wired, proof, at(""), 10, 500, DAY)
            .reasons()
            .get(0)
            .text()
            .contains("no record at the start"));
  }

  private static BenchDescription pi(String setup) {
    return new BenchDescription("pi", "B-1", "pins", false, false, 1_000_000, setup);
  }

  @Test
  void aProofAndACalibrationAreGoodUntilTheEndOfTheirDueDate() {
    ProofRecord proof = proof(Outcome.PASS, 0);
    Calibrations calibrations = calibrations(false);
    assertEquals(
        List.of(),
        causes(BenchStanding.of(MATTER, proof, calibrations, 10, 500, DAY.plusDays(30))));
    assertEquals(
        List.of(Withheld.PROOF_DUE, Withheld.CALIBRATION_DUE),
        causes(BenchStanding.of(MATTER, proof, calibrations, 10, 500, DAY.plusDays(31))));
  }

  @ParameterizedTest
  @EnumSource(
      value = Verdict.class,
      names = {"RIG_FAULT", "SAFETY_STOP", "UNDECIDED"})
  void whatIsNoVerdictOnTheControllerStands(Verdict verdict) {
    TrialResult result = stop(0, 0).with(verdict, "X", "x");
    assertSame(result, BenchStanding.unknown(MATTER).weigh(result, 500, 0));
  }

  @Test
  void anErrorNearTheLimitIsNotDecidedEitherWay() {
    BenchStanding standing = new BenchStanding(List.of(), 60);
    assertEquals(Verdict.PASS, standing.weigh(stop(0, 440), 500, 0).verdict());
    assertEquals("GUARD_BAND", standing.weigh(stop(0, 441), 500, 0).code());
    TrialResult early = stop(0, 560).with(Verdict.FAIL, "EARLY", "early");
    assertEquals("GUARD_BAND", standing.weigh(early, 500, 0).code());
    TrialResult farEarly = stop(0, 561).with(Verdict.FAIL, "EARLY", "early");
    assertEquals("EARLY", standing.weigh(farEarly, 500, 0).code());
  }

  @Test
  void aCampaignOnABenchThatMayNotDecideIsUndecidedAndSoAreItsClaims() {
    Condition condition = new Condition("all", Expectation.STOP, 60, 500, 500);
    Claim claim = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
    List<TrialResult> sound = new ArrayList<>();
    List<TrialResult> weighed = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      sound.add(stop(i, 10));
      weighed.add(BenchStanding.unknown(MATTER).weigh(stop(i, 10), 500, 0));
    }
    CampaignSummary proven = CampaignSummary.of(List.of(condition), List.of(claim), sound);
    assertEquals(Verdict.PASS, proven.verdict());
    CampaignSummary unproven = CampaignSummary.of(List.of(condition), List.of(claim), weighed);
    assertEquals(Verdict.UNDECIDED, unproven.verdict());
    assertEquals(Optional.of(Withheld.NOT_PROVEN), unproven.reason().withheld());
    assertEquals(Verdict.UNDECIDED, unproven.claims().get(0).verdict());
    assertEquals(60, unproven.claims().get(0).counted().count(), "the numbers are kept");
  }

  @Test
  void aStopInTheGuardBandDoesNotCountForAClaim() {
    Condition condition = new Condition("all", Expectation.STOP, 60, 500, 500);
    Claim claim = new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of());
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < 60; i++) {
      trials.add(new BenchStanding(List.of(), 60).weigh(stop(i, i < 5 ? 480 : 10), 500, 0));
    }
    CampaignSummary summary = CampaignSummary.of(List.of(condition), List.of(claim), trials);
    assertEquals(55, summary.claims().get(0).counted().count());
    assertEquals(Verdict.UNDECIDED, summary.claims().get(0).verdict());
  }

  /** Worked by hand: all readings equal but for the mount, which adds ±3 nm. */
  @Test
  void aGaugeStudySplitsRepeatsFromRemounts() {
    List<List<List<Long>>> table = new ArrayList<>();
    for (long place : new long[] {0, 1_000}) {
      table.add(List.of(List.of(place - 3, place - 3), List.of(place + 3, place + 3)));
    }
    Gauge gauge = Gauge.of(table(table));
    assertEquals(0, gauge.repeatNanometres());
    assertEquals(Math.round(Math.sqrt(18)), gauge.nanometres(), "variance of −3 and +3");
    assertEquals(4, gauge.freedom());
    assertEquals("GOOD", gauge.grade());
    assertEquals("USABLE", new Gauge(0, 0, 17_001, 4).grade());
    assertEquals("COARSE", new Gauge(0, 0, 50_001, 4).grade());
  }

  @Test
  void aGaugeThatAlwaysReadsTheSameHasNoSpread() {
    List<List<Long>> row = List.of(List.of(5L, 5L), List.of(5L, 5L));
    assertEquals(0, Gauge.of(table(List.of(row, row))).nanometres());
  }

  private static GaugeTable table(List<List<List<Long>>> nanometres) {
    return new GaugeTable("um", List.of("a", "b"), List.of("A", "B"), nanometres);
  }

  private static BenchStanding standing(
      BenchDescription bench, ProofRecord proof, Calibrations calibrations, int uncertainty) {
    return BenchStanding.of(bench, proof, calibrations, uncertainty, 500, DAY);
  }

  private static List<Withheld> causes(BenchStanding standing) {
    return standing.reasons().stream().map(BenchStanding.Reason::cause).toList();
  }

  private static ProofRecord proof(Outcome outcome, long gaugeNanometres) {
    return proof(MATTER, outcome, gaugeNanometres);
  }

  private static ProofRecord proof(BenchDescription bench, Outcome outcome, long gaugeNanometres) {
    return new ProofRecord(
        bench,
        DAY,
        DAY.plusDays(30),
        List.of(new Finding("rest", outcome, "0 rpm", "1 rpm", "at rest")),
        gaugeNanometres,
        30,
        new ProofRecord.Lateness(1, 0, 0, 0, 0));
  }

  private static Calibrations at(String setup) {
    return calibrations(false, setup);
  }

  private static Calibrations calibrations(boolean simulated) {
    return calibrations(simulated, "");
  }

  private static Calibrations calibrations(boolean simulated, String setup) {
    List<CalibrationRecord> records = new ArrayList<>();
    for (Quantity quantity : Quantity.values()) {
      records.add(
          new CalibrationRecord(
              quantity,
              List.of(1L, 2L),
              "meter",
              "C-1",
              1,
              2_000,
              DAY,
              DAY.plusDays(30),
              20_000,
              "A",
              simulated,
              setup));
    }
    return new Calibrations("B-1", records);
  }

  private static TrialResult stop(int index, int error) {
    return new TrialResult(
        index,
        "all",
        index,
        Expectation.STOP,
        Verdict.PASS,
        "AT_STANDOFF",
        "Stopped.",
        true,
        500 + error,
        error,
        500 + Math.min(0, error),
        500,
        State.HOLDING,
        Reason.STANDOFF_REACHED,
        Trust.SURE,
        Cause.NO_CAUSE,
        1,
        2,
        3,
        0,
        4,
        ErrorChain.NONE);
  }
}
