package org.stopwell.rig.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.proof.Drill;
import org.stopwell.rig.proof.RestingScene;
import org.stopwell.rig.random.RandomStream;

/**
 * Takes the readings of a calibration. At a bench of matter a person does what each step says and
 * types what the reference shows; a simulated bench is read against a simulated reference, so that
 * every step can be tried without anybody. Time and coast the bench measures by itself.
 */
public final class Calibrator {
  /** Standard deviation of the simulated reference, Ω and µm (assumed: a good bench meter). */
  public static final double SIMULATED_DEVIATION = 0.5;

  /** Distances from the foramen at which a simulated bench is read, µm. */
  private static final int[] PLACES_MICRONS = {500, 1_000, 2_000, 4_000, 6_000};

  /** The resistors of the ladder and the one that always stays in: docs/build-a-bench.md. */
  private static final int RESISTORS = 14;

  private static final int REPEATS = 5;
  private static final int COASTS = 10;
  private static final int EXCHANGES = 500;
  private static final long SPIN_UP_NS = 1_000_000_000;
  private static final long COAST_LIMIT_NS = 5_000_000_000L;

  private final Bench bench;
  private final Attendant attendant;
  private final long seed;
  private final boolean simulated;

  /**
   * A calibrator.
   *
   * @param bench an open bench
   * @param attendant who is at it
   * @param seed seed of the simulated reference
   */
  public Calibrator(Bench bench, Attendant attendant, long seed) {
    this.bench = bench;
    this.attendant = attendant;
    this.seed = seed;
    this.simulated = bench.describe().simulated();
  }

  /**
   * Takes the readings of one quantity and leaves the bench safe.
   *
   * @param quantity what to calibrate
   * @return the readings, thousandths of the quantity's unit; empty when nobody gave a number
   * @throws BenchException when the bench fails
   */
  public Optional<List<Long>> readings(Quantity quantity) throws BenchException {
    try {
      List<Long> readings =
          switch (quantity) {
            case LADDER -> simulated ? simulatedLadder() : ladder();
            case STAGE_SCALE -> simulated ? simulatedStage(quantity) : scale();
            case STAGE_BACKLASH -> simulated ? simulatedStage(quantity) : backlash();
            case ENCODER_ZERO -> simulated ? simulatedStage(quantity) : zero();
            case LINK_LATENCY -> latency();
            case MOTOR_COAST -> coast();
          };
      return Optional.of(readings);
    } catch (NobodyException e) {
      return Optional.empty();
    } finally {
      bench.safeStop();
    }
  }

  /** Nobody answered: the step is not done. */
  private static final class NobodyException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    NobodyException() {
      super(null, null, false, false);
    }
  }

  private double ask(String question, String unit) {
    return attendant.number(question, unit).orElseThrow(NobodyException::new);
  }

  private List<Long> ladder() {
    attendant.tell(
        "Switch the canal board off and pull its plug: all relays are open, so each resistor can be"
            + " measured at its own two ends. Number 0 is the smallest; the last is the one that"
            + " always stays in.");
    List<Long> readings = new ArrayList<>();
    for (int k = 0; k < RESISTORS; k++) {
      double taken = ask("Resistor " + k + ", as in calibration.h", "Ω");
      readings.add(thousandths(taken - ask("Resistor " + k + ", by the meter", "Ω")));
    }
    return readings;
  }

  private List<Long> scale() throws BenchException {
    List<Long> readings = new ArrayList<>();
    for (int i = 0; i < REPEATS; i++) {
      double lengthMm =
          ask("Set the stage to its stop with a gauge block between. Length of the block", "mm");
      int outside = place();
      ask("Take the block out and set the stage to its stop again. Type 0 when done", "");
      double travel = outside - place();
      readings.add(thousandths(travel - lengthMm * 1e3));
    }
    return readings;
  }

  private List<Long> backlash() {
    List<Long> readings = new ArrayList<>();
    for (int i = 0; i < REPEATS; i++) {
      double outside = ask("Go to 2 mm by the stage from outside. Indicator", "µm");
      readings.add(
          thousandths(outside - ask("Go past it, and back to 2 mm from inside. Indicator", "µm")));
    }
    return readings;
  }

  private List<Long> zero() throws BenchException {
    List<Long> readings = new ArrayList<>();
    double first = Double.NaN;
    for (int i = 0; i < REPEATS; i++) {
      double indicator =
          ask("Move the stage to its home switch and back to the mark. Indicator", "µm");
      double difference = place() - indicator;
      first = Double.isNaN(first) ? difference : first;
      readings.add(thousandths(difference - first));
    }
    return readings;
  }

  /** Where the bench believes the tip to be, µm. */
  private int place() throws BenchException {
    bench.mount(RestingScene.at(PLACES_MICRONS[0], 1));
    return bench.truth().remainingMicrons;
  }

  private List<Long> simulatedLadder() throws BenchException {
    RandomStream reference = reference(Quantity.LADDER);
    List<Long> readings = new ArrayList<>();
    for (int microns : PLACES_MICRONS) {
      RestingScene.Ladder here = RestingScene.read(bench, microns, microns);
      readings.add(thousandths(here.measuredOhms() - shown(here.nominalOhms(), reference)));
    }
    return readings;
  }

  private List<Long> simulatedStage(Quantity quantity) throws BenchException {
    RandomStream reference = reference(quantity);
    List<Long> readings = new ArrayList<>();
    for (int microns : PLACES_MICRONS) {
      RestingScene.read(bench, microns, microns);
      double place = bench.truth().remainingMicrons;
      readings.add(thousandths(place - shown(place, reference)));
    }
    return readings;
  }

  private RandomStream reference(Quantity quantity) {
    return RandomStream.of(seed, "simulated reference, " + quantity.key());
  }

  /** What a reference with a normal error would show. */
  private static double shown(double value, RandomStream reference) {
    return value + SIMULATED_DEVIATION * reference.nextGaussian();
  }

  private List<Long> latency() throws BenchException {
    Drill drill = new Drill(bench, resting());
    List<Long> readings = new ArrayList<>();
    for (int i = 0; i < EXCHANGES; i++) {
      readings.add(drill.exchangeTimed(Drive.OFF) / 1_000);
    }
    return readings;
  }

  private List<Long> coast() throws BenchException {
    List<Long> readings = new ArrayList<>();
    for (int i = 0; i < COASTS; i++) {
      Drill drill = new Drill(bench, resting());
      drill.run(Drive.FORWARD, SPIN_UP_NS);
      OptionalDouble ms = drill.coast(COAST_LIMIT_NS);
      if (ms.isEmpty()) {
        throw new BenchException(
            RigFault.REFUSED,
            String.format(
                Locale.ROOT,
                "the motor does not turn, or does not rest within %d ms",
                COAST_LIMIT_NS / 1_000_000));
      }
      readings.add(thousandths(ms.getAsDouble()));
    }
    return readings;
  }

  /** A file in the air: whatever turns here cuts nothing. */
  private static Scene resting() throws BenchException {
    try {
      return Scene.of(
          Map.of(
              "canal",
              Map.of("kind", "resistors"),
              "hand",
              Map.of("start_above_mm", 20, "feed_mm_per_s", "0.01")),
          1);
    } catch (SettingsException e) {
      throw new BenchException(RigFault.REFUSED, String.valueOf(e.getMessage()), e);
    }
  }

  private static long thousandths(double value) {
    return Math.round(value * 1e3);
  }
}
