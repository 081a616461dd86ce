package org.stopwell.rig.proof;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.ClampedDevice;
import org.stopwell.rig.device.Watched;
import org.stopwell.rig.proof.Finding.Outcome;

/**
 * Proves a board that plays a canal to a device and watches it: the chain floats, and the sensors
 * see what the motor of the bench does in place of a device. Limits without a source are assumed.
 */
public final class DeviceProof {
  /** The check of the leak, which every proof of a device board has and no other. */
  static final String LEAK = "leak";

  private static final String STRAY = "stray";
  private static final String CHAIN = "chain";
  private static final String TIME_BASE = "time base";
  private static final String ROTATION = "rotation";
  private static final String STOP = "stop";
  private static final String SCALE = "scale";
  private static final String WITNESS = "witness";
  private static final String STEPS = "network steps";

  /** The checks in their order; those from the rotation on need a motor. */
  private static final List<String> CHECKS =
      List.of(LEAK, STRAY, CHAIN, TIME_BASE, ROTATION, STOP, SCALE, WITNESS, STEPS);

  private static final long MS = 1_000_000;
  private static final int VERIFICATIONS = 5;

  /** Between two verifications, pF: the fit of the chain uses the stray capacitance. */
  private static final int STABLE_PICO_FARADS = 5;

  /** Distance of a time stamp from even steps, ns: the limit of the skew. */
  private static final double STAMP_NS = 100_000;

  /** The clocks of board and host may differ by this share, and by this time, ns. */
  private static final double SKEW = 2e-3;

  private static final double SKEW_NS = 5 * MS;

  /** Samples farther apart miss some, ns: ten periods. */
  private static final long GAP_NS = 5 * MS;

  private static final double RPM = Drill.SPEED_MILLI_RPM / 1e3;
  private static final double SPEED_SHARE = 0.02;

  /** No motor turns so far from sample to sample; a mark that slips does, °. */
  private static final double LEAP_DEGREES = 5;

  /** A stop must be known within this time at 300 rpm, ns. */
  private static final long KNOWN_NS = 2 * MS;

  private static final double SCALE_MICRONS = 10;
  private static final double FEED_MICRONS_PER_SECOND = 1_000;
  private static final double FEED_SHARE = 0.1;
  private static final double HEARD_SHARE = 0.95;

  /** The samples of one step of the network are marked for so long at most, ns. */
  private static final long MARKED_NS = 5 * MS;

  private static final long REST_NS = 500 * MS;
  private static final long TURN_NS = 2_000 * MS;

  /** Reaction of the hand, and the time in which the motor gets to its speed, ns. */
  private static final long BEGIN_NS = 600 * MS;

  /**
   * The hand brings the file to 4 mm before the motor turns; until then it waits at most so long.
   */
  private static final int BEGIN_MICRONS = 4_050;

  private static final long ARRIVES_NS = 30_000 * MS;

  private static final String NOT_FED =
      "The bench drives no stage: connect a drive board with --drive-port.";

  private static final String NOT_SENSED =
      "The feed follows the rotation, which is not seen: repair the rotation sensor first.";

  private static final String COUPLE =
      "Couple the motor of the bench to the shank in place of the device. It turns at 300 rpm, and"
          + " the file goes down by 2 mm: path clear, hands away, emergency stop within reach.";

  private final Bench bench;
  private final Operator operator;
  private final List<Finding> findings = new ArrayList<>();

  private DeviceProof(Bench bench, Operator operator) {
    this.bench = bench;
    this.operator = operator;
  }

  /**
   * Runs every check.
   *
   * @param bench an open bench; it is left safe
   * @param operator who does what only a hand can do
   * @return one finding per check
   * @throws BenchException when the bench cannot watch a device
   */
  public static List<Finding> of(Bench bench, Operator operator) throws BenchException {
    DeviceWatch watch =
        bench
            .deviceWatch()
            .orElseThrow(
                () ->
                    new BenchException(
                        RigFault.REFUSED,
                        new Lack(Ability.DEVICE, "the bench " + bench.describe().kind()).clause()));
    DeviceProof proof = new DeviceProof(bench, operator);
    try {
      proof.network(watch);
      proof.sensors(watch);
    } catch (BenchException e) {
      proof.findings.add(BenchProof.failed(LEAK, e, 0));
      proof.findings.addAll(notDone(e.getMessage() + ".").subList(1, CHECKS.size()));
    } finally {
      bench.safeStop();
    }
    return proof.findings;
  }

  /**
   * The findings of a proof that was not begun.
   *
   * @param why why not, in one sentence
   * @return every check, not done
   */
  public static List<Finding> notDone(String why) {
    return CHECKS.stream().map(check -> new Finding(check, Outcome.NOT_DONE, "", "", why)).toList();
  }

  /**
   * A scene in which nothing moves: the chain of the simulated tooth, and the file where it is.
   *
   * @param simulated whether the bench has no chain; it plays resistors instead
   * @return the scene
   * @throws BenchException never
   */
  public static Scene resting(boolean simulated) throws BenchException {
    return scene(simulated, Map.of("start_above_mm", 20, "feed_mm_per_s", "0.01", "tremor_um", 0));
  }

  private static Scene scene(boolean simulated, Map<String, ?> hand) throws BenchException {
    try {
      return Scene.of(
          Map.of(
              "canal",
              Map.of("kind", simulated ? "resistors" : "chain", "length_mm", 16),
              "fluid",
              Map.of("level_mm", 12),
              "hand",
              hand),
          1);
    } catch (SettingsException e) {
      throw new BenchException(RigFault.REFUSED, String.valueOf(e.getMessage()), e);
    }
  }

  private void found(
      String check, boolean passed, String measured, String limit, String good, String bad) {
    findings.add(
        new Finding(
            check, passed ? Outcome.PASS : Outcome.FAIL, measured, limit, passed ? good : bad));
  }

  private void notTurned(String why) {
    findings.addAll(notDone(why).subList(CHECKS.indexOf(ROTATION), CHECKS.size()));
  }

  private void network(DeviceWatch watch) throws BenchException {
    watch.attach(ClampedDevice.MOTOR);
    int leak = Integer.MAX_VALUE;
    int most = 0;
    int least = Integer.MAX_VALUE;
    boolean closed = true;
    for (int i = 0; i < VERIFICATIONS; i++) {
      CircuitCheck circuit = watch.circuit();
      leak = Math.min(leak, circuit.leakKiloOhms());
      most = Math.max(most, circuit.strayPicoFarads());
      least = Math.min(least, circuit.strayPicoFarads());
      closed &= circuit.closed();
    }
    found(
        LEAK,
        leak >= CircuitCheck.LEAK_KILO_OHMS,
        text("%.0f MΩ", leak / 1e3),
        text("at least %.0f MΩ", CircuitCheck.LEAK_KILO_OHMS / 1e3),
        "The chain floats while nothing measures it.",
        "Current leaves the chain: a relay leaks, or board and plugs are dirty or wet.");
    found(
        STRAY,
        most <= CircuitCheck.STRAY_PICO_FARADS && most - least <= STABLE_PICO_FARADS,
        text("%.0f to %.0f pF", (double) least, (double) most),
        text(
            "%.0f pF, stable to %.0f pF",
            (double) CircuitCheck.STRAY_PICO_FARADS, (double) STABLE_PICO_FARADS),
        "Five verifications of the stray capacitance.",
        "Too much or unsteady capacitance: shorten and fix the wires between chain and relays.");
    found(
        CHAIN,
        closed,
        closed ? "every resistor in place" : "a resistor is off",
        "",
        "Each resistor of the chain, switched in alone.",
        "A resistor or its relay is off: the mount of a trial names which one.");
  }

  private void sensors(DeviceWatch watch) {
    for (Lack lack : bench.lacks()) {
      if (lack.ability() == Ability.MOTOR) {
        atRest(watch);
        notTurned(lack.clause() + ".");
        return;
      }
    }
    if (!bench.describe().simulated() && !operator.asked(COUPLE)) {
      atRest(watch);
      notTurned("The motor was not coupled.");
      return;
    }
    try {
      boolean driven = bench.drivenStage().isPresent();
      boolean fed = driven || bench.describe().simulated();
      Map<String, Object> hand = new LinkedHashMap<>();
      hand.put("motion", driven ? "stage" : "steady");
      hand.put("feed_mm_per_s", 1);
      hand.put("passive_mm", 12);
      hand.put("tremor_um", 0);
      Drill drill = new Drill(bench, scene(bench.describe().simulated(), hand));
      // The hand first brings the file to where the motor must turn it.
      List<Watched> seen = new ArrayList<>(drill.watch(watch, Drive.OFF, REST_NS));
      long waitedNs = 0;
      while (fed && bench.truth().remainingMicrons > BEGIN_MICRONS && waitedNs < ARRIVES_NS) {
        seen.addAll(drill.watch(watch, Drive.OFF, REST_NS));
        waitedNs += REST_NS;
      }
      List<Watched> still = drill.watch(watch, Drive.OFF, REST_NS);
      seen.addAll(still);
      List<Watched> turning = drill.watch(watch, Drive.FORWARD, BEGIN_NS);
      seen.addAll(turning);
      turning = drill.watch(watch, Drive.FORWARD, TURN_NS);
      seen.addAll(turning);
      seen.addAll(drill.watch(watch, Drive.BRAKE, REST_NS));
      List<Watched> rested = drill.watch(watch, Drive.OFF, REST_NS);
      seen.addAll(rested);
      timeBase(seen, drill.nowNs);
      rotation(seen, turning);
      boolean sensed = findings.get(findings.size() - 1).outcome() == Outcome.PASS;
      stop(turning, rested);
      if (fed && sensed) {
        scale(turning);
      } else {
        String why = fed ? NOT_SENSED : NOT_FED;
        findings.add(new Finding(SCALE, Outcome.NOT_DONE, "", "", why));
      }
      witness(turning, rested);
      if (fed) {
        steps(seen);
      } else {
        findings.add(new Finding(STEPS, Outcome.NOT_DONE, "", "", NOT_FED));
      }
    } catch (BenchException e) {
      findings.add(BenchProof.failed(TIME_BASE, e, 0));
      notTurned("The bench failed: " + e.getMessage());
    }
  }

  /** Without a motor the time base can be checked, and nothing else. */
  private void atRest(DeviceWatch watch) {
    try {
      Drill drill = new Drill(bench, resting(bench.describe().simulated()));
      List<Watched> seen = drill.watch(watch, Drive.OFF, TURN_NS);
      timeBase(seen, drill.nowNs);
    } catch (BenchException e) {
      findings.add(BenchProof.failed(TIME_BASE, e, 0));
    }
  }

  private void timeBase(List<Watched> seen, long hostNs) {
    if (seen.size() < 3) {
      found(TIME_BASE, false, seen.size() + " samples", "", "", "No samples came.");
      return;
    }
    double worst = WatchedRun.worstStampNs(seen);
    long gap = 0;
    for (int i = 1; i < seen.size(); i++) {
      gap = Math.max(gap, seen.get(i).timeNs() - seen.get(i - 1).timeNs());
    }
    double skew = Math.abs((double) seen.get(seen.size() - 1).timeNs() - hostNs);
    boolean even = worst <= STAMP_NS && gap <= GAP_NS;
    boolean same = skew <= SKEW_NS + SKEW * hostNs;
    found(
        TIME_BASE,
        even && same,
        text("stamps within %.3f ms, clocks within %.1f ms", worst / 1e6, skew / 1e6),
        text("%.1f ms, %.1f ms", STAMP_NS / 1e6, (SKEW_NS + SKEW * hostNs) / 1e6),
        "Angle, place, force and witness have one even time base, and it agrees with the host.",
        !same
            ? "The clock of the board disagrees with that of the host: check its crystal."
            : gap > GAP_NS
                ? text("Samples of %.0f ms are missing: check the link.", gap / 1e6)
                : "The samples are not even: check the timer of the board.");
  }

  private void rotation(List<Watched> seen, List<Watched> turning) {
    double leap = 0;
    for (int i = 1; i < seen.size(); i++) {
      double step = seen.get(i).angleMilliDegrees() - seen.get(i - 1).angleMilliDegrees();
      leap = Math.max(leap, Math.abs(step) / 1e3);
    }
    WatchedRun.Line line = WatchedRun.Line.of(turning, w -> w.angleMilliDegrees() / 1e3);
    double rpm = line.perSecond() / 6;
    boolean slips = leap > LEAP_DEGREES;
    found(
        ROTATION,
        !slips && Math.abs(rpm - RPM) <= SPEED_SHARE * RPM,
        text("%.1f rpm, greatest step %.1f°", rpm, leap),
        text("%.0f ± %.0f rpm, %.0f°", RPM, SPEED_SHARE * RPM, LEAP_DEGREES),
        "The motor of the bench turned the mark at 300 rpm.",
        slips
            ? "The angle leaps: the magnet slips on the shank, or samples are missing."
            : "The speed differs: check the magnet, its distance to the chip, and the coupling.");
  }

  /** The shortest time in which every stretch of turning moves on more than any stretch of rest. */
  private void stop(List<Watched> turning, List<Watched> rested) {
    double eachMs = turning.size() < 2 ? 0 : WatchedRun.span(turning) / 1e6 / (turning.size() - 1);
    int most = Math.max(2, (int) Math.round(10 / Math.max(0.1, eachMs)));
    int needed = most;
    for (int n = most - 1; n >= 1; n--) {
      if (WatchedRun.least(turning, n) > 2 * WatchedRun.greatest(rested, n)) {
        needed = n;
      } else {
        break;
      }
    }
    double ms = needed * eachMs;
    found(
        STOP,
        eachMs > 0 && ms * MS <= KNOWN_NS && needed < most,
        text("%.1f ms", ms),
        text("%.0f ms", KNOWN_NS / 1e6),
        "The angle tells 300 rpm from rest within this time, anywhere in the record.",
        "The angle does not tell turning from rest in time: check magnet, chip and coupling.");
  }

  private void scale(List<Watched> turning) {
    WatchedRun.Line line = WatchedRun.Line.of(turning, Watched::shankMicrons);
    double feed = line.perSecond();
    boolean even = line.worst() <= SCALE_MICRONS;
    boolean right =
        Math.abs(feed - FEED_MICRONS_PER_SECOND) <= FEED_SHARE * FEED_MICRONS_PER_SECOND;
    found(
        SCALE,
        even && right,
        text("%.2f mm/s, %.0f µm from a straight line", feed / 1e3, line.worst()),
        text(
            "%.1f ± %.1f mm/s, %.0f µm",
            FEED_MICRONS_PER_SECOND / 1e3,
            FEED_SHARE * FEED_MICRONS_PER_SECOND / 1e3,
            SCALE_MICRONS),
        "The shank was fed evenly at 1 mm/s, and its scale followed.",
        even
            ? "The scale does not follow the feed: check its coupling and the clamp of the file."
            : "The scale moves in leaps: it sticks, or its encoder loses steps.");
  }

  private void witness(List<Watched> turning, List<Watched> rested) {
    double on = WatchedRun.heard(turning);
    double off = WatchedRun.heard(rested);
    boolean deaf = on < HEARD_SHARE;
    found(
        WITNESS,
        !deaf && off <= 1 - HEARD_SHARE,
        text("%.0f %% while turning, %.0f %% at rest", 100 * on, 100 * off),
        text("at least %.0f %%, at most %.0f %%", 100 * HEARD_SHARE, 100 * (1 - HEARD_SHARE)),
        "The second witness heard the motor turn, and nothing else.",
        deaf
            ? "The second witness is deaf: check the microphone and heard_above of calibration.h."
            : "The second witness hears a motor that rests: raise heard_above of calibration.h.");
  }

  private void steps(List<Watched> seen) {
    long longest = 0;
    long marked = 0;
    int from = -1;
    for (int i = 0; i < seen.size(); i++) {
      if (!seen.get(i).marked()) {
        from = -1;
        continue;
      }
      marked++;
      from = from < 0 ? i : from;
      longest = Math.max(longest, seen.get(i).timeNs() - seen.get(from).timeNs());
    }
    found(
        STEPS,
        marked > 0 && longest <= MARKED_NS,
        text("%.1f ms, %.1f %% of the samples", longest / 1e6, 100.0 * marked / seen.size()),
        text("%.0f ms", MARKED_NS / 1e6),
        "The longest time for which the network was marked as switching, over 2 mm of feed.",
        marked == 0
            ? "No sample is marked: the network does not follow the file."
            : "The network switches for too long: a relay is slow or does not close.");
  }

  private static String text(String format, double... values) {
    Object[] all = Arrays.stream(values).boxed().toArray();
    return String.format(Locale.ROOT, format, all);
  }
}
