package org.stopwell.harness.standing;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.budget.GuardBand;
import org.stopwell.harness.external.DeviceJudge;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.harness.trial.Withheld;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.proof.Finding;
import org.stopwell.rig.proof.ProofRecord;

/**
 * Whether the results of a bench may decide. A bench that is not fit runs nevertheless and every
 * number is kept; its verdicts are withheld.
 *
 * <p>A simulated bench needs no proof: its truth is exact, and all its results are marked as
 * simulated.
 *
 * @param reasons why verdicts are withheld; empty when they are not
 * @param uncertaintyMicrons expanded uncertainty U95 of a stop error, µm; 0 for a simulated bench
 */
public record BenchStanding(List<Reason> reasons, int uncertaintyMicrons) {
  /** A bench whose truth is exact. */
  public static final BenchStanding SIMULATED = new BenchStanding(List.of(), 0);

  /** Six standard deviations of the gauge are 30 % of ±0.5 mm: the worst that may decide, nm. */
  public static final long WORST_GAUGE_NANOMETRES = 50_000;

  /** The same for 10 %: a good gauge (AIAG, Measurement Systems Analysis, 4th edition), nm. */
  public static final long GOOD_GAUGE_NANOMETRES = 17_000;

  /** A tolerance must be at least four times the uncertainty (assumed: the usual ratio). */
  private static final int UNCERTAINTY_RATIO = 4;

  /**
   * One reason.
   *
   * @param cause its code
   * @param text what exactly, in one sentence
   */
  public record Reason(Withheld cause, String text) {}

  /** Copies the reasons. */
  public BenchStanding {
    reasons = List.copyOf(reasons);
  }

  /**
   * The standing of stops that were measured elsewhere, by what was stated with them.
   *
   * @param uncertaintyMicrons expanded uncertainty of a distance, 95 %, µm; 0 when not stated
   * @return one that may decide, outside of the guard band
   */
  public static BenchStanding ofUncertainty(int uncertaintyMicrons) {
    return new BenchStanding(List.of(), uncertaintyMicrons);
  }

  /**
   * The standing of a bench without records.
   *
   * @param bench the bench
   * @return one that may decide only when the bench is simulated
   */
  public static BenchStanding unknown(BenchDescription bench) {
    List<Reason> reasons = new ArrayList<>();
    proven(reasons, bench, null, LocalDate.MIN);
    return bench.simulated() ? SIMULATED : new BenchStanding(reasons, 0);
  }

  /**
   * Judges a bench that turns the file.
   *
   * @param bench the bench as it is now
   * @param proof its newest proof, or null
   * @param calibrations its calibrations
   * @param uncertaintyMicrons expanded uncertainty U95 of a stop error, µm
   * @param toleranceMicrons half width of the tolerance, µm
   * @param today the date
   * @return its standing
   */
  public static BenchStanding of(
      BenchDescription bench,
      @Nullable ProofRecord proof,
      Calibrations calibrations,
      int uncertaintyMicrons,
      int toleranceMicrons,
      LocalDate today) {
    return of(
        bench,
        Quantity.Group.CONTROLLER,
        proof,
        calibrations,
        uncertaintyMicrons,
        toleranceMicrons,
        today);
  }

  /**
   * Judges a bench.
   *
   * @param bench the bench as it is now
   * @param group which board the plan needs
   * @param proof its newest proof, or null
   * @param calibrations its calibrations
   * @param uncertaintyMicrons expanded uncertainty U95 of a stop error, µm
   * @param toleranceMicrons half width of the tolerance, µm
   * @param today the date
   * @return its standing
   */
  public static BenchStanding of(
      BenchDescription bench,
      Quantity.Group group,
      @Nullable ProofRecord proof,
      Calibrations calibrations,
      int uncertaintyMicrons,
      int toleranceMicrons,
      LocalDate today) {
    if (bench.simulated()) {
      return SIMULATED;
    }
    List<Reason> reasons = new ArrayList<>();
    proven(reasons, bench, proof, today);
    ofGroup(reasons, group, proof);
    calibrated(reasons, group, calibrations, today);
    limited(reasons, group, calibrations);
    sameStation(reasons, bench, group, calibrations);
    if (proof != null && proof.gaugeNanometres() > WORST_GAUGE_NANOMETRES) {
      reasons.add(
          new Reason(
              Withheld.NOT_CAPABLE,
              "The gauge study gave a standard deviation of "
                  + proof.gaugeNanometres() / 1_000
                  + " µm; "
                  + WORST_GAUGE_NANOMETRES / 1_000
                  + " µm is allowed."));
    }
    if (uncertaintyMicrons * UNCERTAINTY_RATIO > toleranceMicrons) {
      reasons.add(
          new Reason(
              Withheld.NOT_CAPABLE,
              "U95 of a stop error is "
                  + uncertaintyMicrons
                  + " µm; a quarter of the tolerance, "
                  + toleranceMicrons / UNCERTAINTY_RATIO
                  + " µm, is allowed."));
    }
    return new BenchStanding(reasons, uncertaintyMicrons);
  }

  /** A proof says nothing about the other board. */
  private static void ofGroup(
      List<Reason> reasons, Quantity.Group group, @Nullable ProofRecord proof) {
    if (proof != null && proof.ofDevice() != (group == Quantity.Group.DEVICE)) {
      reasons.add(
          new Reason(
              Withheld.NOT_PROVEN,
              group == Quantity.Group.DEVICE
                  ? "The proof on record is not of a device board; prove it with the board that"
                      + " watches the device."
                  : "The proof on record is of a device board; prove the bench of this plan."));
    }
  }

  /** Readings beyond what the board must keep. */
  private static void limited(
      List<Reason> reasons, Quantity.Group group, Calibrations calibrations) {
    for (Quantity quantity : Quantity.of(group)) {
      calibrations
          .inForce(quantity)
          .filter(r -> !quantity.limit().holds(r.readingsThousandths()))
          .ifPresent(
              r ->
                  reasons.add(
                      new Reason(
                          Withheld.NOT_CAPABLE,
                          "Calibration of "
                              + quantity.key()
                              + " on "
                              + r.date()
                              + ": readings "
                              + r.extremes()
                              + ", limit "
                              + quantity.limit().words(quantity.sign())
                              + ".")));
    }
  }

  private static void proven(
      List<Reason> reasons, BenchDescription bench, @Nullable ProofRecord proof, LocalDate today) {
    if (proof == null) {
      reasons.add(
          new Reason(
              Withheld.NOT_PROVEN,
              "There is no proof on record; make one with stopwell rig prove."));
      return;
    }
    List<Finding> failed =
        proof.findings().stream()
            .filter(f -> f.outcome() == Finding.Outcome.FAIL)
            // A gauge that was studied and is too coarse has a cause of its own.
            .filter(f -> !(f.check().equals(Gauge.CHECK) && proof.gaugeNanometres() >= 0))
            .toList();
    if (!failed.isEmpty()) {
      reasons.add(
          new Reason(
              Withheld.PROOF_FAILED,
              "The proof of "
                  + proof.date()
                  + " failed: "
                  + failed.stream()
                      .map(f -> f.check() + " " + f.measured())
                      .collect(Collectors.joining(", "))
                  + "."));
    } else if (!proof.complete()) {
      reasons.add(
          new Reason(
              Withheld.NOT_PROVEN,
              "The proof of " + proof.date() + " is incomplete: " + notDone(proof) + "."));
    }
    if (today.isAfter(proof.due())) {
      reasons.add(new Reason(Withheld.PROOF_DUE, "The proof was due on " + proof.due() + "."));
    }
    changed(reasons, "serial number", proof.bench().serialNumber(), bench.serialNumber());
    changed(reasons, "kind", proof.bench().kind(), bench.kind());
    changed(reasons, "firmware", proof.bench().firmware(), bench.firmware());
    changed(reasons, "period, ns", proof.bench().periodNs(), bench.periodNs());
    if (!proof.bench().setup().equals(bench.setup())) {
      reasons.add(
          new Reason(
              Withheld.BENCH_CHANGED,
              "The station file has changed since the proof: "
                  + SetupChange.words(proof.bench().setup(), bench.setup())
                  + "."));
    }
  }

  /** A calibration holds for the station at which it was made. */
  private static void sameStation(
      List<Reason> reasons,
      BenchDescription bench,
      Quantity.Group group,
      Calibrations calibrations) {
    Map<String, List<Quantity>> before = new LinkedHashMap<>();
    for (Quantity quantity : Quantity.of(group)) {
      calibrations
          .inForce(quantity)
          .filter(r -> !r.simulated() && !r.setup().equals(bench.setup()))
          .ifPresent(r -> before.computeIfAbsent(r.setup(), s -> new ArrayList<>()).add(quantity));
    }
    before.forEach(
        (setup, quantities) ->
            reasons.add(
                new Reason(
                    Withheld.BENCH_CHANGED,
                    "Since "
                        + words(quantities)
                        + " were calibrated, the station file has changed: "
                        + SetupChange.words(setup, bench.setup())
                        + ".")));
  }

  private static void changed(List<Reason> reasons, String what, Object then, Object now) {
    if (!Objects.equals(then, now)) {
      reasons.add(
          new Reason(
              Withheld.BENCH_CHANGED,
              "At the proof its " + what + " was " + then + ", now it is " + now + "."));
    }
  }

  /**
   * The same bench for a plan that needs a quantity which not every bench has.
   *
   * @param quantity what the plan needs
   * @param calibrations its calibrations
   * @return its standing, with a reason more when that was never calibrated
   */
  public BenchStanding needing(Quantity quantity, Calibrations calibrations) {
    if (calibrations.inForce(quantity).isPresent()) {
      return this;
    }
    List<Reason> all = new ArrayList<>(reasons);
    all.add(
        new Reason(
            Withheld.NOT_CALIBRATED,
            "This plan needs a quantity that was never calibrated: " + quantity.key() + "."));
    return new BenchStanding(all, uncertaintyMicrons);
  }

  private static String notDone(ProofRecord proof) {
    List<String> missing = new ArrayList<>();
    proof.findings().stream()
        .filter(f -> f.outcome() == Finding.Outcome.NOT_DONE)
        .forEach(f -> missing.add(f.check()));
    if (proof.gaugeNanometres() < 0 && !missing.contains(Gauge.CHECK)) {
      missing.add(Gauge.CHECK);
    }
    return String.join(", ", missing);
  }

  private static void calibrated(
      List<Reason> reasons, Quantity.Group group, Calibrations calibrations, LocalDate today) {
    List<Quantity> missing = calibrations.missing(group);
    if (!missing.isEmpty()) {
      reasons.add(new Reason(Withheld.NOT_CALIBRATED, "Never calibrated: " + words(missing) + "."));
    }
    List<Quantity> simulated = new ArrayList<>();
    for (Quantity quantity : Quantity.of(group)) {
      if (calibrations.inForce(quantity).filter(r -> r.simulated()).isPresent()) {
        simulated.add(quantity);
      }
    }
    if (!simulated.isEmpty()) {
      reasons.add(
          new Reason(
              Withheld.NOT_CALIBRATED,
              "Calibrated against a simulated reference only: " + words(simulated) + "."));
    }
    List<Quantity> overdue = calibrations.overdue(group, today);
    if (!overdue.isEmpty()) {
      reasons.add(
          new Reason(Withheld.CALIBRATION_DUE, "Calibration overdue: " + words(overdue) + "."));
    }
  }

  private static String words(List<Quantity> quantities) {
    return quantities.stream().map(Quantity::key).collect(Collectors.joining(", "));
  }

  /**
   * The result of a trial as this bench may state it. Rig faults, safety stops and all numbers
   * stay; the sentence states the withheld verdict.
   *
   * @param result what the trial gave
   * @param toleranceMicrons half width of the tolerance, µm
   * @param overTravelBelowMicrons below which remaining distance it is an over-travel, µm
   * @return the result, its verdict withheld where the bench may not decide
   */
  public TrialResult weigh(TrialResult result, int toleranceMicrons, int overTravelBelowMicrons) {
    if (result.verdict() != Verdict.PASS && result.verdict() != Verdict.FAIL) {
      return result;
    }
    if (!reasons.isEmpty()) {
      return withheld(result, reasons.get(0).cause(), reasons.get(0).text());
    }
    boolean overTravel = result.deepestMicrons() < overTravelBelowMicrons;
    boolean hasPlace = result.stopped() && !result.code().equals(DeviceJudge.ACTED);
    if (uncertaintyMicrons == 0 || !hasPlace || overTravel) {
      return result;
    }
    boolean unsure =
        new GuardBand(toleranceMicrons, uncertaintyMicrons).of(result.stopErrorMicrons())
            == GuardBand.Zone.UNDECIDED;
    return unsure
        ? withheld(
            result,
            Withheld.GUARD_BAND,
            "The limit is ± " + toleranceMicrons + " µm, U95 " + uncertaintyMicrons + " µm.")
        : result;
  }

  private static TrialResult withheld(TrialResult r, Withheld cause, String why) {
    return r.with(
        Verdict.UNDECIDED,
        cause.name(),
        cause.sentence()
            + " "
            + why
            + " Result without this limit: "
            + r.verdict()
            + " "
            + r.code()
            + ". "
            + r.message());
  }
}
