package org.stopwell.rig.proof;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.proof.Finding.Outcome;
import org.stopwell.rig.time.IdleLoop;
import org.stopwell.rig.time.LatenessHistogram;

/**
 * Proves a bench by its behaviour: it rests when it must, turns on command, and loses its power to
 * a safe stop, to silence and to the emergency stop. Each check mounts its own trial, so that one
 * failure does not spoil the next.
 */
public final class BenchProof {
  /** Slower than this is rest, milli-rpm (assumed). */
  static final int REST_MILLI_RPM = 1_000;

  private static final long MS = 1_000_000;
  private static final double SPEED_SHARE = 0.02;
  private static final long SPIN_UP_NS = 1_000 * MS;
  private static final long COAST_LIMIT_NS = 1_000 * MS;
  private static final long SILENCE_NS = 1_000 * MS;
  private static final long PRESS_MS = 500;
  private static final int EXCHANGES = 2_000;

  /** How far the ladder may be off, share and Ω; as in the self-measure of the canal board. */
  private static final double LADDER_SHARE = 0.03;

  private static final double LADDER_OHMS = 60;
  private static final int LADDER_MICRONS = 1_000;

  /** A step later than this makes a trial the rig's fault, ns; the same as in a campaign. */
  private static final long LATE_NS = 20 * MS;

  /** A computer that is so late with nothing to wait for is busy with something else (assumed). */
  private static final long BUSY_NS = LATE_NS / 2;

  /** The checks, in the order in which they run. */
  private static final List<String> CHECKS =
      List.of("link", "rest", "turn", "coast", "safe stop", "watchdog", "emergency stop", "ladder");

  private final Bench bench;
  private final Operator operator;
  private final LatenessHistogram lateness;

  private interface Check {
    /** Runs beside a loop that talks to no board. */
    Finding run(IdleLoop beside) throws BenchException;
  }

  /** A check needs something that is not there, so that it cannot be tried. */
  private static final class NotTriedException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    NotTriedException(String why) {
      super(why);
    }
  }

  private BenchProof(Bench bench, Operator operator, LatenessHistogram lateness) {
    this.bench = bench;
    this.operator = operator;
    this.lateness = lateness;
  }

  /**
   * Runs every check.
   *
   * @param bench an open bench; it is left safe
   * @param operator who does what only a hand can do
   * @param lateness receives how late the steps of the link check were
   * @return one finding per check
   */
  public static List<Finding> of(Bench bench, Operator operator, LatenessHistogram lateness) {
    BenchProof proof = new BenchProof(bench, operator, lateness);
    List<Finding> findings = new ArrayList<>();
    findings.add(proof.guarded("link", proof::link));
    findings.add(proof.guarded("rest", beside -> proof.rest()));
    findings.add(proof.guarded("turn", beside -> proof.turn()));
    findings.add(proof.guarded("coast", beside -> proof.coast()));
    findings.add(proof.guarded("safe stop", beside -> proof.safeStop()));
    findings.add(proof.guarded("watchdog", beside -> proof.watchdog()));
    findings.add(proof.guarded("emergency stop", beside -> proof.emergencyStop()));
    findings.add(proof.guarded("ladder", beside -> proof.ladder()));
    return findings;
  }

  /**
   * The findings of a proof that was not begun.
   *
   * @param why why not, in one sentence
   * @return every check, not done
   */
  public static List<Finding> notDone(String why) {
    return CHECKS.stream().map(check -> notDone(check, why)).toList();
  }

  private static boolean needs(String check, Ability ability) {
    return switch (check) {
      case "link" -> false;
      case "ladder" -> ability == Ability.POSITION || ability == Ability.TRUTH;
      default -> ability == Ability.MOTOR;
    };
  }

  private static Finding notDone(String check, String why) {
    return new Finding(check, Outcome.NOT_DONE, "", "", why);
  }

  private Finding guarded(String name, Check check) {
    for (Lack lack : bench.lacks()) {
      if (needs(name, lack.ability())) {
        return notDone(name, lack.clause() + ".");
      }
    }
    try (IdleLoop loop = new IdleLoop(bench.describe().periodNs())) {
      try {
        return unlessLate(check.run(loop), loop);
      } catch (BenchException e) {
        return failed(name, e, loop.worstNs());
      } catch (NotTriedException e) {
        return notDone(name, String.valueOf(e.getMessage()));
      }
    } finally {
      bench.safeStop();
    }
  }

  /**
   * A late computer can spoil a speed and a time. A motor that turns when it must rest is never its
   * doing.
   */
  private Finding unlessLate(Finding found, IdleLoop beside) {
    boolean excusable = found.check().equals("turn") || found.check().equals("coast");
    return excusable && found.outcome() == Outcome.FAIL && !bench.describe().lockstep()
        ? unlessLate(found, beside.worstNs())
        : found;
  }

  /**
   * What a failed check by the clock says, once it is known how late the computer was.
   *
   * @param found a check that failed
   * @param aloneNs how late a loop beside it was that talks to no board, ns
   * @return the same, or not done
   */
  static Finding unlessLate(Finding found, long aloneNs) {
    return aloneNs <= BUSY_NS
        ? found
        : new Finding(
            found.check(),
            Outcome.NOT_DONE,
            found.measured(),
            found.limit(),
            found.text() + " " + busy(aloneNs));
  }

  /**
   * What a check found that a failure of the bench ended. Silence and a watchdog are what a
   * computer that stalls causes as well.
   *
   * @param check its name
   * @param e the failure
   * @param aloneNs how late a loop beside it was that talks to no board, ns
   * @return a failure of the bench, or not done
   */
  public static Finding failed(String check, BenchException e, long aloneNs) {
    boolean ofTime = e.fault() == RigFault.NO_ANSWER || e.fault() == RigFault.WATCHDOG;
    boolean busy = e.fault() == RigFault.LATE || (ofTime && aloneNs > BUSY_NS);
    return new Finding(
        check,
        busy ? Outcome.NOT_DONE : Outcome.FAIL,
        e.fault().name(),
        "",
        e.getMessage() + (busy ? ". " + busy(aloneNs) : ""));
  }

  private Finding link(IdleLoop beside) throws BenchException {
    Drill drill = new Drill(bench, scene(0));
    long[] took = new long[EXCHANGES];
    try {
      for (int i = 0; i < EXCHANGES; i++) {
        took[i] = drill.exchangeTimed(Drive.OFF);
      }
    } finally {
      lateness.add(drill.lateness);
    }
    Arrays.sort(took);
    return bench.describe().lockstep()
        ? new Finding(
            "link",
            Outcome.PASS,
            text("p50 %.3f ms, p99 %.3f ms", took[EXCHANGES / 2], took[EXCHANGES * 99 / 100]),
            "",
            exchanged(took))
        : inTime(bench.describe().periodNs(), took, drill.punctuality, beside.worstNs());
  }

  /**
   * Whether the steps of a link check came in time, and whose fault it is when they did not. A
   * computer that was late by itself, before a request was sent or in a loop beside that talks to
   * no board, says nothing about the bench.
   *
   * @param periodNs period of the loop, ns
   * @param took how long each exchange took, ns, ascending
   * @param steps when the steps came
   * @param aloneNs how late the loop beside was, ns
   * @return passed, failed, or not done
   */
  static Finding inTime(long periodNs, long[] took, Punctuality steps, long aloneNs) {
    boolean inTime = steps.latestNs() <= LATE_NS;
    long computerNs = Math.max(steps.ownNs(), aloneNs);
    boolean busy = computerNs > BUSY_NS;
    String why = inTime ? "" : " " + (busy ? busy(computerNs) : lateBench(periodNs, took));
    return new Finding(
        "link",
        inTime ? Outcome.PASS : busy ? Outcome.NOT_DONE : Outcome.FAIL,
        text("latest step %.3f ms late, of it this computer %.3f ms", steps.latestNs(), computerNs),
        text("%.0f ms late", LATE_NS),
        exchanged(took) + why);
  }

  private static String exchanged(long[] took) {
    return took.length
        + " exchanges with the motor off, each answered, "
        + text(
            "half of them within %.3f ms, 99 %% within %.3f ms.",
            took[took.length / 2], took[took.length * 99 / 100]);
  }

  private static String busy(long computerNs) {
    return text(
        "This computer missed its own deadline by %.0f ms: the check is not done."
            + " Give the program cores of its own and a real-time priority"
            + " (docs/build-a-bench.md, Real time), and prove again with nothing else running.",
        computerNs);
  }

  private static String lateBench(long periodNs, long[] took) {
    return took[took.length / 2] > periodNs
        ? text(
            "This computer kept its time. The boards are too slow for their period of %.0f ms: check the"
                + " speed of the line and for an adapter that holds frames back.",
            periodNs)
        : "This computer kept its time. Some answers of the bench came late: check plugs,"
            + " cables, the adapter, and other programs at the board.";
  }

  private Finding rest() throws BenchException {
    Drill drill = new Drill(bench, scene(0));
    drill.run(Drive.OFF, 200 * MS);
    return speed("rest", drill, 0, "Motor commanded off after a mount.");
  }

  private Finding turn() throws BenchException {
    Drill drill = new Drill(bench, scene(0));
    drill.run(Drive.FORWARD, SPIN_UP_NS);
    Finding forward = speed("turn", drill, Drill.SPEED_MILLI_RPM, "Command: forward.");
    if (forward.outcome() == Outcome.FAIL) {
      return forward;
    }
    drill.run(Drive.OFF, COAST_LIMIT_NS);
    drill.run(Drive.BACKWARD, SPIN_UP_NS);
    return speed("turn", drill, -Drill.SPEED_MILLI_RPM, "Commands: forward, rest, backward.");
  }

  private Finding coast() throws BenchException {
    Drill drill = turning();
    OptionalDouble ms = drill.coast(COAST_LIMIT_NS);
    return new Finding(
        "coast",
        ms.isPresent() ? Outcome.PASS : Outcome.FAIL,
        ms.isPresent()
            ? String.format(Locale.ROOT, "%.0f ms", ms.getAsDouble())
            : text("still turning after %.0f ms", COAST_LIMIT_NS),
        text("%.0f ms", COAST_LIMIT_NS),
        "Time from the command to rest until the motor rests, from 300 rpm.");
  }

  private Finding safeStop() throws BenchException {
    Drill drill = turning();
    bench.safeStop();
    drill.run(Drive.FORWARD, COAST_LIMIT_NS);
    return speed(
        "safe stop", drill, 0, "Command to turn after a safe stop; the motor must not turn.");
  }

  private Finding watchdog() throws BenchException {
    Drill drill = turning();
    drill.silence(SILENCE_NS);
    try {
      drill.exchange(Drive.FORWARD);
    } catch (BenchException e) {
      if (e.fault() != RigFault.WATCHDOG) {
        throw e;
      }
    }
    return speed(
        "watchdog", drill, 0, "The host was silent for 1 s while the motor turned at 300 rpm.");
  }

  private Finding emergencyStop() throws BenchException {
    boolean simulated = bench.describe().simulated();
    Drill drill = new Drill(bench, simulated ? scene(PRESS_MS) : scene(0));
    drill.run(Drive.FORWARD, 300 * MS);
    needTurning(drill);
    String how = "Pressed by the simulation";
    if (!simulated) {
      how = "Pressed by hand";
      if (!operator.asked("Press the emergency stop, and leave it pressed.")) {
        return new Finding(
            "emergency stop", Outcome.NOT_DONE, "", "", "Nobody pressed the emergency stop.");
      }
      drill = new Drill(bench, scene(0));
    }
    drill.run(Drive.FORWARD, PRESS_MS * MS + COAST_LIMIT_NS);
    Finding pressed = pressed(drill, how);
    if (simulated || pressed.outcome() == Outcome.FAIL) {
      return pressed;
    }
    bench.safeStop();
    if (!operator.asked("Release the emergency stop and press reset. Nothing may move.")) {
      return new Finding(
          "emergency stop", Outcome.NOT_DONE, "", "", "Nobody released the emergency stop.");
    }
    return pressed;
  }

  private static Finding pressed(Drill drill, String how) {
    if (!drill.reading.stopLine) {
      return new Finding(
          "emergency stop",
          Outcome.FAIL,
          "stop line closed",
          "stop line open",
          how + ", but the bench does not detect it.");
    }
    return speed("emergency stop", drill, 0, how + ", during a command to turn.");
  }

  /** A canal board measures its resistors one by one at every mount, and refuses a bad one. */
  private Finding ladder() throws BenchException {
    RestingScene.Ladder here = RestingScene.read(bench, LADDER_MICRONS, 1);
    double off = Math.abs(here.measuredOhms() - here.nominalOhms());
    double allowed = Math.max(LADDER_OHMS, LADDER_SHARE * here.nominalOhms());
    return new Finding(
        "ladder",
        off <= allowed ? Outcome.PASS : Outcome.FAIL,
        String.format(
            Locale.ROOT, "%.1f ohm for %.1f ohm", here.measuredOhms(), here.nominalOhms()),
        String.format(Locale.ROOT, "±%.0f ohm", allowed),
        "The ladder, measured by the bench itself at the place of the stage.");
  }

  private Drill turning() throws BenchException {
    Drill drill = new Drill(bench, scene(0));
    drill.run(Drive.FORWARD, SPIN_UP_NS);
    needTurning(drill);
    return drill;
  }

  private static void needTurning(Drill drill) {
    if (drill.isAtRest()) {
      throw new NotTriedException("The motor does not turn, so it cannot be stopped.");
    }
  }

  private static Finding speed(String check, Drill drill, int wanted, String text) {
    int allowed = wanted == 0 ? REST_MILLI_RPM : (int) (SPEED_SHARE * Math.abs(wanted));
    boolean fits = Math.abs(drill.reading.speedMilliRpm - wanted) <= allowed;
    return new Finding(
        check,
        fits ? Outcome.PASS : Outcome.FAIL,
        rpm(drill.reading.speedMilliRpm) + " rpm",
        rpm(wanted) + " ± " + rpm(allowed) + " rpm",
        text);
  }

  private static String rpm(int milliRpm) {
    return String.format(Locale.ROOT, "%.1f", milliRpm / 1000.0);
  }

  private static String text(String format, long... ns) {
    Object[] ms = Arrays.stream(ns).mapToObj(n -> n / 1e6).toArray();
    return String.format(Locale.ROOT, format, ms);
  }

  /** A file that stays in the air: whatever turns here cuts nothing. */
  private static Scene scene(long emergencyStopMs) throws BenchException {
    try {
      return Scene.of(
          Map.of(
              "canal",
              Map.of("kind", "resistors"), // what a physical board can make
              "hand",
              Map.of(
                  "start_above_mm",
                  20,
                  "feed_mm_per_s",
                  "0.01",
                  "emergency_stop_ms",
                  emergencyStopMs)),
          1);
    } catch (SettingsException e) {
      throw new BenchException(RigFault.REFUSED, String.valueOf(e.getMessage()), e);
    }
  }
}
