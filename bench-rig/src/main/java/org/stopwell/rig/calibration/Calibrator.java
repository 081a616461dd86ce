package org.stopwell.rig.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
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
 * Takes the readings of a calibration. On a physical bench a person does what each step says and
 * types what the reference shows; a simulated bench is read against a simulated reference, so that
 * every step can be tried without anybody. Time and coast the bench measures by itself.
 */
public final class Calibrator {
  /** Distances from the foramen at which a simulated bench is read, µm. */
  private static final int[] PLACES_MICRONS = {500, 1_000, 2_000, 4_000, 6_000};

  /** The resistors of the ladder and the one that always stays in: docs/build-a-bench.md. */
  private static final int RESISTORS = 14;

  /** As many capacitors as a canal board switches: bank.h. */
  private static final int MOST_CAPACITORS = 10;

  /** Greatest value that may be typed, Ω and pF. */
  private static final double LARGEST = 1e6;

  private static final int REPEATS = 5;
  private static final int COASTS = 10;
  private static final int EXCHANGES = 500;
  private static final long SPIN_UP_NS = 1_000_000_000;
  private static final long COAST_LIMIT_NS = 5_000_000_000L;

  private final Bench bench;
  private final Attendant attendant;
  private final Notebook notebook;
  private final StageReadings stage;
  private final DeviceReadings device;
  private final long seed;
  private final boolean simulated;

  /** One reading of a step, in the quantity's unit. */
  private interface Reading {
    double take(int index) throws BenchException;
  }

  /**
   * A calibrator.
   *
   * @param bench an open bench
   * @param attendant who is at it
   * @param notebook where each reading goes as soon as it is complete; those of a step that it
   *     holds already are not taken again
   * @param seed seed of the simulated reference
   */
  public Calibrator(Bench bench, Attendant attendant, Notebook notebook, long seed) {
    this.bench = bench;
    this.attendant = attendant;
    this.notebook = notebook;
    this.stage = new StageReadings(bench, attendant);
    this.device = new DeviceReadings(bench, attendant, notebook);
    this.seed = seed;
    this.simulated = bench.describe().simulated();
  }

  /**
   * Takes the readings of one quantity and leaves the bench safe.
   *
   * @param quantity what to calibrate
   * @return the readings, thousandths of the quantity's unit; empty without an answer
   * @throws BenchException when the bench fails; what the notebook has stays there
   */
  public Optional<List<Long>> readings(Quantity quantity) throws BenchException {
    try {
      List<Long> readings =
          switch (quantity) {
            case LADDER -> simulated ? simulatedLadder() : ladder();
            case STAGE_SCALE -> stage(quantity, index -> stage.scale());
            case STAGE_BACKLASH -> stage(quantity, index -> stage.backlash());
            case ENCODER_ZERO -> lessTheFirst(stage(quantity, index -> stage.zero()));
            case LINK_LATENCY -> latency();
            case MOTOR_COAST -> coast();
            case CAPACITORS -> capacitors();
            case LEAK, STRAY, TIME_BASE, WITNESS -> device.measured(quantity);
            case CHAIN_MAGNITUDE, CHAIN_PHASE, SHANK_ANGLE, SHANK_SCALE, HEAD_PLAY, FEED_FORCE ->
                take(
                    quantity,
                    DeviceReadings.count(quantity),
                    simulated
                        ? index -> shown(0, quantity, index)
                        : index -> device.read(quantity, index));
          };
      return Optional.of(readings);
    } catch (NobodyException e) {
      return Optional.empty();
    } finally {
      device.end();
      bench.safeStop();
    }
  }

  /** Goes on where the notebook ends. */
  private List<Long> take(Quantity quantity, int count, Reading reading) throws BenchException {
    int taken = notebook.taken(quantity).size();
    if (taken > 0 && taken < count) {
      attendant.tell(taken + " of " + count + " readings exist; continuing with the next.");
    }
    for (int i = taken; i < count; i++) {
      notebook.take(quantity, thousandths(reading.take(i)));
    }
    return notebook.taken(quantity);
  }

  private List<Long> ladder() throws BenchException {
    return unplugged(
        Quantity.LADDER,
        RESISTORS,
        "Resistor",
        "each resistor can be measured at its own two ends. Number 0 is the smallest; the last is the"
            + " one that always stays in.");
  }

  /** The number is asked for; a simulated bench has none. */
  private List<Long> capacitors() throws BenchException {
    if (simulated) {
      throw new NobodyException();
    }
    long thousandths =
        attendant
            .thousandths(
                "How many capacitors does the canal board carry? 0 for none",
                "",
                0,
                MOST_CAPACITORS)
            .orElseThrow(NobodyException::new);
    int fitted = (int) (thousandths / 1_000);
    if (fitted < 2) {
      attendant.tell("Nothing to do: a record needs at least two capacitors.");
      throw new NobodyException();
    }
    List<Long> off =
        unplugged(
            Quantity.CAPACITORS,
            fitted,
            "Capacitor",
            "each capacitor can be measured at its own two ends, at the highest frequency of your"
                + " settings. Number 0 is the smallest.");
    attendant.tell(
        "Write the values of the meter into .bank of canal-board/calibration.h, smallest first,"
            + " 0 where none is fitted; make flash BOARD=canal-board; prove again; repeat"
            + " this step --again. Until then the board is off by "
            + off.stream()
                .map(o -> String.format(Locale.ROOT, "%+.1f", o / 1e3))
                .collect(Collectors.joining(", "))
            + " pF.");
    return off;
  }

  /** The board is switched off meanwhile, so the bench is let go and opened again. */
  private List<Long> unplugged(Quantity quantity, int count, String part, String so)
      throws BenchException {
    if (notebook.taken(quantity).size() >= count) {
      return notebook.taken(quantity);
    }
    bench.close();
    stage.lost();
    try {
      attendant.tell("Switch the canal board off and pull its plug: all relays are open, so " + so);
      return take(
          quantity,
          count,
          index ->
              number(part + " " + index + ", as in calibration.h", quantity)
                  - number(part + " " + index + ", by the meter", quantity));
    } finally {
      reopen();
    }
  }

  private void reopen() {
    while (attendant.asked("Take the meter off, plug the canal board in again and switch it on.")) {
      try {
        bench.open();
        return;
      } catch (BenchException e) {
        attendant.tell(e.fault() + ": " + e.getMessage());
      }
    }
  }

  private double number(String question, Quantity quantity) {
    return attendant
            .thousandths(question, quantity.sign(), 0, LARGEST)
            .orElseThrow(NobodyException::new)
        / 1e3;
  }

  private List<Long> stage(Quantity quantity, Reading reading) throws BenchException {
    return take(quantity, REPEATS, simulated ? index -> simulated(quantity, index) : reading);
  }

  private static List<Long> lessTheFirst(List<Long> readings) {
    return readings.stream().map(r -> r - readings.get(0)).toList();
  }

  private List<Long> simulatedLadder() throws BenchException {
    return take(
        Quantity.LADDER,
        REPEATS,
        index -> {
          int microns = PLACES_MICRONS[index];
          RestingScene.Ladder here = RestingScene.read(bench, microns, microns);
          return here.measuredOhms() - shown(here.nominalOhms(), Quantity.LADDER, index);
        });
  }

  private double simulated(Quantity quantity, int index) throws BenchException {
    int microns = PLACES_MICRONS[index];
    RestingScene.read(bench, microns, microns);
    double place = bench.truth().remainingMicrons;
    return place - shown(place, quantity, index);
  }

  /** Value of a reference with a normal error; each reading draws its own. */
  private double shown(double value, Quantity quantity, int index) {
    RandomStream chance =
        RandomStream.of(seed, "simulated reference, " + quantity.key() + ", " + index);
    return value + quantity.simulatedDeviation() * chance.nextGaussian();
  }

  private void makeReady() throws BenchException {
    if (!simulated) {
      stage.ready();
    }
  }

  private List<Long> latency() throws BenchException {
    makeReady();
    Drill drill = new Drill(bench, resting());
    List<Long> readings = new ArrayList<>();
    for (int i = 0; i < EXCHANGES; i++) {
      readings.add(drill.exchangeTimed(Drive.OFF) / 1_000);
    }
    return readings;
  }

  private List<Long> coast() throws BenchException {
    makeReady();
    boolean clear =
        simulated
            || attendant.asked(
                "The motor turns at 300 rpm now, "
                    + COASTS
                    + " times: file in the air, hands away, the emergency stop within reach.");
    if (!clear) {
      throw new NobodyException();
    }
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
