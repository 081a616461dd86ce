package org.stopwell.harness.budget;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.DoubleStream;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.plan.ExtractedTooth;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.ToothZero;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.network.Pair;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.proof.ProofRecord;
import org.stopwell.rig.virtual.ToothSteps;

/**
 * The uncertainty of one stop error of a bench: true remaining distance at standstill minus
 * standoff, in µm. It is filled from the calibrations in force and the gauge study.
 *
 * <p>The error is read with the file at rest. So neither the time of a reading nor the coast of the
 * motor enters it; both enter the shares of the error chain, where the file moves.
 */
public final class StopBudget {
  /** Step of the stage encoder, µm: docs/build-a-bench.md. */
  private static final double ENCODER_STEP = 5;

  /** A file whose place drifts less counts as at rest, µm: as the trial judges it. */
  private static final double REST = 3;

  /** How far the room may be from the temperature of the calibration, K (assumed). */
  private static final double ROOM_KELVIN = 5;

  /** Temperature coefficient of metal film resistors, 1/K (assumed: a usual data sheet value). */
  private static final double RESISTOR_PER_KELVIN = 25e-6;

  /** Half of the way over which the change of a ratio is taken, m. */
  private static final double BESIDE = 50e-6;

  /** Coverage factor that makes the U95 of a true zero a standard uncertainty. */
  private static final double ZERO_K = 2;

  private static final String LADDER = "ladder";

  private StopBudget() {}

  /**
   * What the budget takes from the scene of a plan.
   *
   * @param standoffOhms resistance of the ladder at the standoff, Ω
   * @param ohmPerMm growth of the resistance, Ω/mm, above 0
   * @param micronsPerPicofarad by how much a place is misread when the capacitor is off, µm/pF;
   *     empty without capacitors
   * @param toothMicrons standard uncertainty of the measured length of an extracted tooth, the
   *     greatest of the plan, µm; empty without extracted teeth
   * @param zeroMicrons standard uncertainty of the true zero of an extracted tooth that observers
   *     read, the greatest of the plan, µm; empty where nobody did
   * @param device whether a device with a motor of its own stops the file
   * @param advanced whether an observer sees the tip at the foramen after every stop, in place of
   *     the measured length
   */
  public record Basis(
      double standoffOhms,
      double ohmPerMm,
      OptionalDouble micronsPerPicofarad,
      OptionalDouble toothMicrons,
      OptionalDouble zeroMicrons,
      boolean device,
      boolean advanced) {
    /**
     * The same with true zeros that were read at the bench.
     *
     * @param zeros the greatest standard uncertainty among them, µm; empty where none was read
     * @return with the greater one of both
     */
    public Basis with(OptionalDouble zeros) {
      return new Basis(
          standoffOhms,
          ohmPerMm,
          micronsPerPicofarad,
          toothMicrons,
          DoubleStream.concat(zeroMicrons.stream(), zeros.stream()).max(),
          device,
          advanced);
    }

    /**
     * The basis of a plan on a network.
     *
     * @param standoffOhms resistance of the ladder at the standoff, Ω
     * @param ohmPerMm growth of the resistance, Ω/mm, above 0
     * @param micronsPerPicofarad µm/pF; empty without capacitors
     */
    public Basis(double standoffOhms, double ohmPerMm, OptionalDouble micronsPerPicofarad) {
      this(
          standoffOhms,
          ohmPerMm,
          micronsPerPicofarad,
          OptionalDouble.empty(),
          OptionalDouble.empty(),
          false,
          false);
    }

    /**
     * The basis of a plan.
     *
     * @param plan the plan
     * @return what the budget needs of it
     */
    public static Basis of(Plan plan) {
      Basis basis = of(plan.trial(0));
      OptionalInt tooth = plan.teeth().stream().mapToInt(ExtractedTooth::standardMicrons).max();
      return new Basis(
          basis.standoffOhms,
          basis.ohmPerMm,
          basis.micronsPerPicofarad,
          tooth.isPresent() ? OptionalDouble.of(tooth.getAsInt()) : OptionalDouble.empty(),
          plan.teeth().stream()
              .flatMap(t -> t.zero().stream())
              .mapToDouble(StopBudget::standard)
              .max(),
          plan.isExternal(),
          plan.plannedConditions().stream()
              .allMatch(c -> c.device().filter(Device::advances).isPresent()));
    }

    /**
     * The basis of a plan.
     *
     * @param trial one of its trials
     * @return what the budget needs of it
     */
    public static Basis of(TrialSpec trial) {
      ParameterValues canal = trial.scene().section("canal");
      double perMm = Math.max(1, canal.get(CanalSection.OHM_PER_MM));
      return new Basis(
          canal.get(CanalSection.BODY) + perMm * trial.standoffMicrons() / 1e3,
          perMm,
          ToothSteps.areWantedBy(trial.scene())
              ? OptionalDouble.of(
                  StopBudget.micronsPerPicofarad(trial.scene(), trial.standoffMicrons()))
              : OptionalDouble.empty());
    }
  }

  /**
   * The budget of the stops of a plan.
   *
   * @param calibrations what was calibrated
   * @param proof the proof with its gauge study, or null
   * @param basis what the scene of the plan gives
   * @return the budget in µm
   */
  public static UncertaintyBudget of(
      Calibrations calibrations, @Nullable ProofRecord proof, Basis basis) {
    UncertaintyBudget budget = of(calibrations, proof, basis.standoffOhms(), basis.ohmPerMm());
    if (basis.device()) {
      budget = DeviceLines.added(budget, basis.toothMicrons().isPresent(), calibrations);
    }
    Optional<CalibrationRecord> capacitors =
        calibrations
            .inForce(Quantity.CAPACITORS)
            .filter(r -> basis.micronsPerPicofarad().isPresent());
    if (basis.toothMicrons().isPresent()) {
      return basis.advanced()
          ? DeviceLines.advanced(inTooth(budget, List.of()))
          : inTooth(budget, length(basis.toothMicrons().getAsDouble(), basis.zeroMicrons()));
    }
    return capacitors.isEmpty()
        ? budget
        : withCapacitors(budget, capacitors.get(), basis.micronsPerPicofarad().getAsDouble());
  }

  /** The truth is a measured length less the travel of the stage: no resistor enters it. */
  private static UncertaintyBudget inTooth(UncertaintyBudget budget, List<Input> more) {
    List<Input> lines = new ArrayList<>(budget.inputs());
    lines.removeIf(line -> line.name().startsWith(LADDER + ", "));
    lines.addAll(more);
    return new UncertaintyBudget(budget.unit(), lines);
  }

  private static List<Input> length(double microns, OptionalDouble zero) {
    List<Input> lines = new ArrayList<>();
    lines.add(Input.stated("measured length of the tooth", "teeth of the plan", microns, "µm", 1));
    if (zero.isPresent()) {
      lines.add(
          Input.stated(
              "true zero of the tooth, two observers",
              "zero readings of the plan, U95 / 2",
              zero.getAsDouble(),
              "µm",
              1));
    }
    return lines;
  }

  /**
   * What a true zero adds.
   *
   * @param zero the zero
   * @return its standard uncertainty, µm
   */
  public static double standard(ToothZero zero) {
    return zero.expandedMicrons() / ZERO_K;
  }

  /** One meter measured all of them, so its error adds up over the closed ones. */
  private static UncertaintyBudget withCapacitors(
      UncertaintyBudget budget, CalibrationRecord r, double perPicofarad) {
    List<Input> lines = new ArrayList<>(budget.inputs());
    int fitted = r.readingsThousandths().size();
    reference(lines, "capacitors, all closed", r, perPicofarad * fitted);
    lines.add(
        Input.within(
            "capacitors, offsets left uncorrected, all closed",
            readings(r),
            r.readingsThousandths().stream().mapToLong(Math::abs).sum() / 1e3,
            "pF",
            perPicofarad));
    return new UncertaintyBudget(budget.unit(), lines);
  }

  /**
   * The error of a place that is computed from the ratio of two magnitudes, caused by the error of
   * a capacitor of the network.
   *
   * @param scene a scene with a network
   * @param standoffMicrons where the tip stands, µm
   * @return µm per pF; 0 with one frequency, where no capacitor is needed
   */
  static double micronsPerPicofarad(Scene scene, int standoffMicrons) {
    double[] hertz = FrontEndSection.hertz(scene.section("front_end"));
    StepTable table = ToothSteps.of(scene);
    double place = standoffMicrons * 1e-6;
    Pair here = table.at(place);
    if (!(here.farads() > 0)) {
      return 0;
    }
    double more = here.farads() * 0.01;
    double perFarad =
        (ratio(new Pair(here.ohms(), here.farads() + more), hertz) - ratio(here, hertz)) / more;
    double perMetre =
        (ratio(table.at(place + BESIDE), hertz) - ratio(table.at(place - BESIDE), hertz))
            / (2 * BESIDE);
    return Math.abs(perFarad / perMetre) * 1e-12 * 1e6;
  }

  /** Magnitude at the highest frequency over that at the lowest. */
  private static double ratio(Pair pair, double[] hertz) {
    return magnitude(pair, hertz[hertz.length - 1]) / magnitude(pair, hertz[0]);
  }

  private static double magnitude(Pair pair, double hertz) {
    return pair.ohms() / Math.hypot(1, 2 * Math.PI * hertz * pair.ohms() * pair.farads());
  }

  /**
   * The budget.
   *
   * @param calibrations what was calibrated
   * @param proof the proof with its gauge study, or null
   * @param standoffOhms resistance of the ladder at the standoff, Ω
   * @param ohmPerMm growth of the resistance, Ω/mm, above 0
   * @return the budget in µm; what was not calibrated is missing from it
   */
  public static UncertaintyBudget of(
      Calibrations calibrations,
      @Nullable ProofRecord proof,
      double standoffOhms,
      double ohmPerMm) {
    double perOhm = 1e3 / ohmPerMm;
    List<Input> lines = new ArrayList<>();
    calibrations
        .inForce(Quantity.STAGE_SCALE)
        .ifPresent(
            r -> {
              reference(lines, "stage scale", r, 1);
              offset(lines, "stage scale", r, 1);
            });
    calibrations
        .inForce(Quantity.STAGE_BACKLASH)
        .ifPresent(
            r -> {
              reference(lines, "stage backlash", r, 1);
              lines.add(
                  Input.within(
                      "stage backlash, half of it either way",
                      readings(r),
                      Math.abs(r.mean()) / 2 + r.spread(),
                      "µm",
                      1));
            });
    calibrations
        .inForce(Quantity.ENCODER_ZERO)
        .ifPresent(
            r -> {
              reference(lines, "encoder zero", r, 1);
              lines.add(
                  Input.read(
                      "encoder zero, one run to the switch",
                      readings(r),
                      r.spread(),
                      "µm",
                      freedom(r),
                      1));
            });
    calibrations
        .inForce(Quantity.LADDER)
        .ifPresent(
            r -> {
              reference(lines, LADDER, r, perOhm);
              offset(lines, LADDER, r, perOhm);
              lines.add(
                  Input.within(
                      LADDER + ", temperature",
                      "assumed: 25 ppm/K, ±5 K",
                      standoffOhms * RESISTOR_PER_KELVIN * ROOM_KELVIN,
                      "Ω",
                      perOhm));
            });
    lines.add(
        Input.within(
            "stage encoder, one step", "docs/build-a-bench.md", ENCODER_STEP / 2, "µm", 1));
    lines.add(Input.within("file at rest", "rule of the trial", REST, "µm", 1));
    if (proof != null && proof.gaugeNanometres() >= 0) {
      lines.add(
          Input.read(
              "ladder against stage, repeated and mounted again",
              "gauge study of " + proof.date(),
              proof.gaugeNanometres() / 1e3,
              "µm",
              proof.gaugeFreedom(),
              1));
    }
    return new UncertaintyBudget("µm", lines);
  }

  /**
   * Standard uncertainty that a moving file adds to the share {@code link} of an error chain: the
   * spread of the latency times the feed.
   *
   * @param calibrations what was calibrated
   * @param feedMicronsPerSecond feed, µm/s
   * @return µm, empty when the latency was not calibrated
   */
  public static Optional<Double> linkShare(Calibrations calibrations, double feedMicronsPerSecond) {
    return perTime(calibrations, Quantity.LINK_LATENCY, feedMicronsPerSecond);
  }

  /**
   * The same for the share {@code coast}: the spread of the coast times the feed.
   *
   * @param calibrations what was calibrated
   * @param feedMicronsPerSecond feed, µm/s
   * @return µm, empty when the coast was not calibrated
   */
  public static Optional<Double> coastShare(
      Calibrations calibrations, double feedMicronsPerSecond) {
    return perTime(calibrations, Quantity.MOTOR_COAST, feedMicronsPerSecond);
  }

  private static Optional<Double> perTime(
      Calibrations calibrations, Quantity quantity, double feed) {
    return calibrations.inForce(quantity).map(r -> r.spread() / 1e3 * feed);
  }

  static void reference(List<Input> lines, String what, CalibrationRecord r, double sensitivity) {
    lines.add(
        Input.stated(
            what + ", reference",
            r.instrument() + ", certificate " + r.certificate(),
            r.referenceUncertainty(),
            r.quantity().sign(),
            sensitivity));
  }

  /** The mean is not corrected for, so it stays as a limit; the spread is that of one place. */
  static void offset(List<Input> lines, String what, CalibrationRecord r, double sensitivity) {
    lines.add(
        Input.within(
            what + ", offset left uncorrected",
            readings(r),
            Math.abs(r.mean()),
            r.quantity().sign(),
            sensitivity));
    lines.add(
        Input.read(
            what + ", one place",
            readings(r),
            r.spread(),
            r.quantity().sign(),
            freedom(r),
            sensitivity));
  }

  static String readings(CalibrationRecord r) {
    return r.readingsThousandths().size() + " readings of " + r.date();
  }

  private static int freedom(CalibrationRecord r) {
    return r.readingsThousandths().size() - 1;
  }
}
