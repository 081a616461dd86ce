package org.stopwell.rig.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.network.Target;
import org.stopwell.rig.proof.DeviceProof;
import org.stopwell.rig.proof.Drill;
import org.stopwell.rig.proof.WatchedRun;
import org.stopwell.rig.virtual.ToothChain;

/** Readings of a board that plays a canal to a device and watches it. */
final class DeviceReadings {
  /** Places of the chain, µm short of the foramen, and its frequencies, Hz. */
  private static final int[] PLACES_MICRONS = {500, 1_000, 2_000, 4_000, 6_000};

  private static final int[] HERTZ = {200, 1_250, 5_000, 20_000};

  /** The reference of the angle is turned by so much from reading to reading, degrees. */
  private static final int EACH_DEGREES = 45;

  private static final int ANGLES = 8;
  private static final int REPEATS = 5;

  /** Masses that weigh 0.5 to 4 N, g. */
  private static final int[] GRAMS = {50, 100, 200, 300, 400};

  /** Standard acceleration of free fall, m/s² (ISO 80000-3). */
  private static final double GRAVITY = 9.80665;

  private static final long SECOND_NS = 1_000_000_000;

  /** Until the newest samples show what has just been set, ns (assumed). */
  private static final long SETTLED_NS = 300_000_000;

  /** Slow enough to watch, µm/s (assumed). */
  private static final int CALM_MICRONS_PER_SECOND = 2_000;

  private static final double LARGEST = 1e6;

  private final Bench bench;
  private final Attendant attendant;
  private final Notebook notebook;
  private @Nullable Drill drill;
  private @Nullable DeviceWatch watch;
  private Map<Double, List<Target>> tooth = Map.of();
  private double zeroDegrees;

  DeviceReadings(Bench bench, Attendant attendant, Notebook notebook) {
    this.bench = bench;
    this.attendant = attendant;
    this.notebook = notebook;
  }

  /** Number of readings of a step. */
  static int count(Quantity quantity) {
    return switch (quantity) {
      case CHAIN_MAGNITUDE, CHAIN_PHASE -> PLACES_MICRONS.length * HERTZ.length;
      case SHANK_ANGLE -> ANGLES;
      case FEED_FORCE -> GRAMS.length;
      default -> REPEATS;
    };
  }

  /** The readings of a step that the board takes by itself, thousandths of the unit. */
  List<Long> measured(Quantity quantity) throws BenchException {
    DeviceWatch sees = watch();
    boolean simulated = bench.describe().simulated();
    List<Long> readings = new ArrayList<>();
    switch (quantity) {
      case LEAK, STRAY -> {
        if (!simulated) {
          done(
              "Connect everything as in a trial, the device too. Hands away: nothing may touch the"
                  + " chain.");
        }
        for (int i = 0; i < REPEATS; i++) {
          CircuitCheck circuit = sees.circuit();
          readings.add(
              quantity == Quantity.LEAK
                  ? circuit.leakKiloOhms()
                  : circuit.strayPicoFarads() * 1_000L);
        }
      }
      case TIME_BASE -> {
        for (int i = 0; i < REPEATS; i++) {
          List<Watched> samples = mounted().watch(sees, Drive.OFF, SECOND_NS);
          readings.add(Math.round(WatchedRun.worstStampNs(samples) / 1e3));
        }
      }
      default -> {
        for (int i = 0; i < REPEATS; i++) {
          if (!simulated) {
            done("Let the motor of the device turn as slowly as it can.");
          }
          long heard = heard(sees, simulated ? Drive.FORWARD : Drive.OFF);
          if (!simulated) {
            done("Switch the motor of the device off.");
          }
          readings.add(heard - heard(sees, Drive.OFF));
        }
      }
    }
    return readings;
  }

  private long heard(DeviceWatch sees, Drive drive) throws BenchException {
    mounted().watch(sees, drive, SECOND_NS);
    List<Watched> samples = mounted().watch(sees, drive, SECOND_NS);
    return Math.round(100_000 * WatchedRun.heard(samples));
  }

  /** One reading against a reference, in the unit of its quantity. */
  double read(Quantity quantity, int index) throws BenchException {
    return switch (quantity) {
      case CHAIN_MAGNITUDE -> {
        Impedance wanted = wanted(index);
        double ohms = number("Magnitude " + at(index), "Ω", 0);
        double phase = number("Phase " + at(index), "°", -360);
        if (notebook.taken(Quantity.CHAIN_PHASE).size() <= index) {
          notebook.take(
              Quantity.CHAIN_PHASE, Math.round(1e3 * (phase - Math.toDegrees(wanted.phase()))));
        }
        yield 100 * (ohms / wanted.magnitude() - 1);
      }
      case CHAIN_PHASE -> {
        double wanted = Math.toDegrees(wanted(index).phase());
        yield number("Phase " + at(index), "°", -360) - wanted;
      }
      case SHANK_ANGLE -> angle(index);
      case SHANK_SCALE -> {
        double length =
            number(
                "Set the shank to a stop with a gauge block between, without force. Length of the"
                    + " block",
                "mm",
                0);
        double with = last().shankMicrons();
        done("Take the block out and set the shank to the stop again.");
        yield Math.abs(last().shankMicrons() - with) - length * 1e3;
      }
      case HEAD_PLAY -> {
        double pulled =
            number(
                "Set a dial indicator along the file. Pull the file with about 1 N. Indicator",
                "µm",
                -LARGEST);
        yield pulled - number("Push the file with about 1 N. Indicator", "µm", -LARGEST);
      }
      default -> {
        double grams =
            number(
                "Hang about "
                    + GRAMS[index]
                    + " g on the load cell, in the direction of the feed. Mass",
                "g",
                0);
        List<Watched> samples = settled();
        double newton = 0;
        for (Watched sample : samples) {
          newton += sample.forceMilliNewtons() / 1e3 / samples.size();
        }
        yield newton - grams / 1e3 * GRAVITY;
      }
    };
  }

  private double angle(int index) throws BenchException {
    if (drill == null) {
      done(
          "Couple a dividing head to the mark of the rotation sensor and set it to 0°. Without one,"
              + " mark a place and turn by whole turns.");
      zeroDegrees = last().angleMilliDegrees() / 1e3;
    }
    double reference =
        number(
            "Turn by the reference to about "
                + (index + 1) * EACH_DEGREES
                + "°, or by one more whole turn. Angle since 0°",
            "°",
            -LARGEST);
    return last().angleMilliDegrees() / 1e3 - zeroDegrees - reference;
  }

  /** The impedance of the simulated tooth at the place and the frequency of a reading. */
  private Impedance wanted(int index) throws BenchException {
    int microns = PLACES_MICRONS[index / HERTZ.length];
    if (drill == null) {
      mounted();
      done("Connect an impedance meter in place of the device; it must float, as a device does.");
      tooth = ToothChain.targets(DeviceProof.resting(false));
    }
    if (Math.abs(place() - microns) > 250) {
      go(microns);
    }
    double metres = place() * 1e-6;
    TreeMap<Double, Impedance> known = new TreeMap<>();
    int hertz = HERTZ[index % HERTZ.length];
    tooth.forEach(
        (height, targets) ->
            targets.stream()
                .filter(t -> t.hertz() == hertz)
                .forEach(t -> known.put(height, t.impedance())));
    Map.Entry<Double, Impedance> below = known.floorEntry(metres);
    Map.Entry<Double, Impedance> above = known.ceilingEntry(metres);
    if (below == null || above == null) {
      throw new BenchException(
          RigFault.REFUSED,
          String.format(
              Locale.ROOT,
              "the chain is read from 0.5 to 6 mm short of the foramen; the shank scale says %.2f mm",
              metres * 1e3));
    }
    double width = above.getKey() - below.getKey();
    double share = width > 0 ? (metres - below.getKey()) / width : 0;
    Impedance a = below.getValue();
    Impedance b = above.getValue();
    return new Impedance(a.re() + share * (b.re() - a.re()), a.im() + share * (b.im() - a.im()));
  }

  private String at(int index) throws BenchException {
    return String.format(
        Locale.ROOT,
        "at %.2f mm and %d Hz, by the meter",
        place() / 1e3,
        HERTZ[index % HERTZ.length]);
  }

  private int place() throws BenchException {
    mounted().run(Drive.OFF, SETTLED_NS);
    return bench.truth().remainingMicrons;
  }

  /** A stage that the bench drives goes there by itself. */
  private void go(int microns) throws BenchException {
    Optional<LinearStage> driven = bench.drivenStage();
    if (driven.isPresent()) {
      int from = driven.get().status().positionMicrons() + bench.truth().remainingMicrons;
      driven.get().moveTo(from - microns, CALM_MICRONS_PER_SECOND);
    } else {
      done(
          String.format(Locale.ROOT, "Set the file to %.1f mm by the shank scale.", microns / 1e3));
    }
  }

  private Watched last() throws BenchException {
    List<Watched> samples = settled();
    return samples.get(samples.size() - 1);
  }

  private List<Watched> settled() throws BenchException {
    Drill mounted = mounted();
    mounted.watch(watch(), Drive.OFF, SETTLED_NS);
    List<Watched> samples = mounted.watch(watch(), Drive.OFF, SETTLED_NS);
    if (samples.isEmpty()) {
      throw new BenchException(RigFault.NO_ANSWER, "no samples came from the device board");
    }
    return samples;
  }

  private Drill mounted() throws BenchException {
    Drill known = drill;
    if (known == null) {
      watch().attach(ClampedDevice.MOTOR);
      known = new Drill(bench, DeviceProof.resting(bench.describe().simulated()));
      drill = known;
    }
    return known;
  }

  /** The next step mounts anew. */
  void end() {
    drill = null;
  }

  private DeviceWatch watch() throws BenchException {
    DeviceWatch known = watch;
    if (known == null) {
      known =
          bench
              .deviceWatch()
              .orElseThrow(
                  () ->
                      new BenchException(
                          RigFault.REFUSED,
                          new Lack(Ability.DEVICE, "the bench " + bench.describe().kind())
                              .clause()));
      watch = known;
    }
    return known;
  }

  private double number(String question, String unit, double least) {
    return attendant.thousandths(question, unit, least, LARGEST).orElseThrow(NobodyException::new)
        / 1e3;
  }

  private void done(String request) {
    if (!attendant.asked(request)) {
      throw new NobodyException();
    }
  }
}
