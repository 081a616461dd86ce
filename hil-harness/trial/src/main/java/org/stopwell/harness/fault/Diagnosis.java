package org.stopwell.harness.fault;

import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Drive;
import org.stopwell.harness.trial.TraceReader;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.fault.FaultKind;

/**
 * Which fault the record of a trial shows. It uses the inputs and commands of the controller, never
 * the truth and never the injected fault, so it also works for unplanned faults.
 *
 * <p>The controller names the condition that it must react to ("the tip seems to be out of the
 * fluid"); this names the defect ("one frequency jumped while the other did not"). Every limit
 * below is assumed, and lies well outside the values of a sound bench.
 */
final class Diagnosis {
  private static final Map<String, FaultKind> BY_CODE =
      Map.of(
          "PORT_GONE", FaultKind.PORT_GONE,
          "NO_ANSWER", FaultKind.NO_ANSWER,
          "SESSION_LOST", FaultKind.SESSION_LOST,
          "BAD_FRAMES", FaultKind.BAD_FRAMES,
          "WATCHDOG", FaultKind.WATCHDOG,
          "REFUSED", FaultKind.MOUNT_REFUSED,
          "LATE", FaultKind.HOST_STALL,
          "BAD_TRUTH", FaultKind.BAD_TRUTH);

  private static final long OLD_NS = 20_000_000;
  private static final long STALE_NS = 40_000_000;
  private static final double OPEN_OHMS = 1e6;
  private static final double IN_CANAL_OHMS = 1e5;
  private static final double SHORT_OHMS = 150;
  private static final int ENTRIES_OF_BOUNCE = 4;
  private static final int SAME_SAMPLES = 5;
  private static final int SAME_IN_AIR = 20;
  private static final int ALIVE_SAMPLES = 20;
  private static final double STEP = 0.05;
  private static final int STEPS_OF_NOISE = 4;
  private static final int SOUND_BEFORE = 10;

  /**
   * So near to where the circuit first closed a trembling hand alone makes steps: little metal is
   * wet, µm; assumed.
   */
  private static final int SURFACE_MICRONS = 700;

  private static final int TURNS_MILLI_RPM = 20_000;
  private static final long RUNS_DOWN_NS = 300_000_000;
  private static final long TURNS_ROUND_NS = 30_000_000;
  private static final int WITHOUT_CURRENT = 8;
  private static final int WITHOUT_SPEED = 3;
  private static final double SPEED_STEP = 0.15;
  private static final int SPEED_STEPS = 4;
  private static final int TORQUE_STEPS = 3;
  private static final int REVERSED_STEPS = 5;
  private static final int NEVER_TURNED_STEPS = 50;
  private static final double TOO_FAST = 1.4;
  private static final double SLOWS_DOWN_NS = 800_000_000;
  private static final int TOO_FAST_STEPS = 10;

  private boolean stopLine;
  private boolean nonsense;
  private boolean lowSupply;
  private int supplyMilliVolts;
  private boolean oldReadings;
  private int repeatedReadings;
  private boolean samplesStop;
  private boolean railed;

  private long sequence = -1;
  private final int[] lastReal = new int[ControllerInput.MAX_FREQUENCIES];
  private final int[] lastImag = new int[ControllerInput.MAX_FREQUENCIES];
  private double lastLow = Double.NaN;
  private double lastHigh = Double.NaN;
  private boolean everInCanal;
  private int soundInARow;
  private int alive;
  private int leapsInAir;
  private boolean jumpedInAir;
  private int same;
  private boolean frozen;
  private final int[] sameInChannel = new int[ControllerInput.MAX_FREQUENCIES];
  private boolean frozenChannel;
  private int opened;
  private int closedAgain;
  private int entries;
  private boolean open;
  private boolean shorted;
  private int remainingMicrons;
  private int wetAtMicrons = Integer.MIN_VALUE;
  private int apart;
  private int together;

  private Drive told = Drive.OFF;
  private int torqueLimit;
  private int toldMilliRpm;
  private int mostMilliRpm;
  private double expectedMilliRpm;
  private long lookedNs;
  private int tooFast;
  private boolean overspeed;
  private long toldSinceNs;
  private boolean turned;
  private int noCurrent;
  private int noSpeed;
  private boolean deadMotor;
  private boolean speedLost;
  private int backwards;
  private boolean reversed;
  private boolean runsOn;
  private int held;
  private boolean jam;
  private int speedSteps;
  private int lastSpeed;

  private Diagnosis() {}

  /**
   * The fault that a record shows.
   *
   * @param result what the trial gave
   * @param trace its trace
   * @return the kind of fault, empty when the record shows none
   */
  static Optional<FaultKind> of(TrialResult result, byte[] trace) {
    Diagnosis diagnosis = new Diagnosis();
    TraceReader reader = new TraceReader(trace);
    while (reader.next()) {
      diagnosis.look(reader);
    }
    return Optional.ofNullable(diagnosis.fault(result));
  }

  private void look(TraceReader row) {
    ControllerInput in = row.in;
    remainingMicrons = row.truth.remainingMicrons;
    stopLine |= in.stopLine;
    nonsense |=
        in.frequencyCount < 0
            || in.frequencyCount > ControllerInput.MAX_FREQUENCIES
            || in.speedMilliRpm == Integer.MIN_VALUE;
    if (nonsense) {
      return;
    }
    supplyMilliVolts = Math.max(supplyMilliVolts, in.supplyMilliVolts);
    lowSupply |= in.supplyMilliVolts < supplyMilliVolts / 2;
    oldReadings |= in.linkAgeNs > OLD_NS;
    repeatedReadings += in.linkAgeNs > 0 ? 1 : 0;
    railed |= in.railed;
    if (in.linkAgeNs == 0) {
      samplesStop |= in.sampleSequence > 0 && row.nowNs - in.sampleTimeNs > STALE_NS;
      motor(row);
    }
    if (in.sampleSequence != sequence && in.frequencyCount > 0) {
      sample(in);
      sequence = in.sampleSequence;
    }
    if (row.out.drive != told) {
      told = row.out.drive;
      toldSinceNs = row.nowNs;
    }
    torqueLimit = row.out.torqueLimitMicroNewtonMetres;
    toldMilliRpm = row.out.speedMilliRpm;
    mostMilliRpm = Math.max(mostMilliRpm, toldMilliRpm);
  }

  private void sample(ControllerInput in) {
    int top = in.frequencyCount - 1;
    double low = magnitude(in, 0);
    double high = magnitude(in, top);
    boolean isOpen = low >= OPEN_OHMS && high >= OPEN_OHMS;
    shorted |= low < SHORT_OHMS && high < SHORT_OHMS;
    if (everInCanal) {
      if (isOpen && !open) {
        opened++;
      } else if (!isOpen && open) {
        closedAgain++;
      }
    } else if (open && !isOpen) {
      entries++; // a file comes into the canal once, or once for each stroke at its orifice
    }
    open = isOpen;
    boolean inCanal = low < IN_CANAL_OHMS;
    boolean repeats = repeats(in);
    double ofLow = Math.log(low / lastLow);
    double ofHigh = Math.log(high / lastHigh);
    boolean leaps = !(Math.abs(ofLow) < STEP && Math.abs(ofHigh) < STEP);
    if (leaps && alive >= ALIVE_SAMPLES && !inCanal && !isOpen) {
      leapsInAir++;
    }
    alive = leaps ? 0 : repeats ? alive : alive + 1;
    jumpedInAir = leapsInAir == 1 && (jumpedInAir || (!inCanal && alive >= ALIVE_SAMPLES));
    // In the air a bench may read the same for ever; one that did not so far must go on not to.
    same = (inCanal || alive >= ALIVE_SAMPLES) && repeats ? same + 1 : 0;
    frozen |= same >= (inCanal ? SAME_SAMPLES : SAME_IN_AIR);
    channels(in, inCanal);
    if (inCanal
        && soundInARow >= SOUND_BEFORE
        && remainingMicrons <= (long) wetAtMicrons - SURFACE_MICRONS) {
      if (Math.abs(ofHigh - ofLow) > STEP) {
        apart++;
      } else if (Math.abs(ofLow) > STEP) {
        together++;
      }
    }
    soundInARow = inCanal ? soundInARow + 1 : 0;
    wetAtMicrons = inCanal ? Math.max(wetAtMicrons, remainingMicrons) : wetAtMicrons;
    everInCanal |= soundInARow >= SOUND_BEFORE;
    lastLow = low;
    lastHigh = high;
    for (int i = 0; i < in.frequencyCount; i++) {
      lastReal[i] = in.zRealMilliOhms[i];
      lastImag[i] = in.zImagMilliOhms[i];
    }
  }

  /** One channel that is constant while another changes. */
  private void channels(ControllerInput in, boolean inCanal) {
    for (int i = 0; i < in.frequencyCount; i++) {
      boolean stands = (inCanal || alive >= ALIVE_SAMPLES) && repeats(in, i) && !repeats(in);
      sameInChannel[i] = stands ? sameInChannel[i] + 1 : 0;
      frozenChannel |= sameInChannel[i] >= (inCanal ? SAME_SAMPLES : SAME_IN_AIR);
    }
  }

  private boolean repeats(ControllerInput in) {
    for (int i = 0; i < in.frequencyCount; i++) {
      if (!repeats(in, i)) {
        return false;
      }
    }
    return true;
  }

  private boolean repeats(ControllerInput in, int channel) {
    return lastReal[channel] == in.zRealMilliOhms[channel]
        && lastImag[channel] == in.zImagMilliOhms[channel];
  }

  private static double magnitude(ControllerInput in, int at) {
    return Math.max(1e-3, Math.hypot(in.zRealMilliOhms[at], in.zImagMilliOhms[at]) / 1e3);
  }

  /** The behaviour of motor and encoder under the active command. */
  private void motor(TraceReader row) {
    int speed = row.in.speedMilliRpm;
    long underWayNs = row.nowNs - toldSinceNs;
    boolean turns = told.turns();
    boolean fast = Math.abs(speed) > TURNS_MILLI_RPM;
    turned |= turns && fast;
    boolean limit =
        turns && torqueLimit > 0 && row.in.torqueMicroNewtonMetres >= torqueLimit && speed == 0;
    held = limit ? held + 1 : 0;
    jam |= held >= TORQUE_STEPS;
    if (turns) {
      boolean current = row.in.currentMilliAmps != 0;
      noCurrent = current ? 0 : noCurrent + 1;
      noSpeed = speed == 0 && current ? noSpeed + 1 : 0;
      deadMotor |= noCurrent >= WITHOUT_CURRENT;
      speedLost |= noSpeed >= (turned ? WITHOUT_SPEED : NEVER_TURNED_STEPS);
      boolean step =
          fast && Math.abs(speed - lastSpeed) > SPEED_STEP * Math.abs(speed) && underWayNs > 0;
      speedSteps += step ? 1 : 0;
    }
    double slowed = mostMilliRpm * ((row.nowNs - lookedNs) / SLOWS_DOWN_NS);
    expectedMilliRpm = Math.max(toldMilliRpm, expectedMilliRpm - slowed);
    lookedNs = row.nowNs;
    boolean beyond = Math.abs(speed) > TOO_FAST * expectedMilliRpm + TURNS_MILLI_RPM;
    tooFast = turns && beyond ? tooFast + 1 : 0;
    overspeed |= tooFast >= TOO_FAST_STEPS;
    long forwards = told == Drive.BACKWARD ? -1 : 1;
    boolean wrongWay = turns && underWayNs > TURNS_ROUND_NS && forwards * speed < -TURNS_MILLI_RPM;
    backwards = wrongWay ? backwards + 1 : 0;
    reversed |= backwards >= REVERSED_STEPS;
    runsOn |= !turns && underWayNs > RUNS_DOWN_NS && fast;
    lastSpeed = speed;
  }

  private @Nullable FaultKind fault(TrialResult result) {
    FaultKind broken = BY_CODE.get(result.code());
    if (broken != null && result.verdict() == Verdict.RIG_FAULT) {
      return broken;
    }
    return stopLine
        ? FaultKind.STOP_PRESSED
        : nonsense ? FaultKind.NONSENSE : lowSupply ? FaultKind.LOW_SUPPLY : link();
  }

  private @Nullable FaultKind link() {
    return oldReadings
        ? FaultKind.OLD_READINGS
        : repeatedReadings > 0
            ? FaultKind.LOST_READINGS
            : samplesStop ? FaultKind.SAMPLES_STOP : railed ? FaultKind.SATURATED : circuit();
  }

  private @Nullable FaultKind circuit() {
    return shorted
        ? FaultKind.SHORT_CIRCUIT
        : opened > 1 || closedAgain > 0 || (!everInCanal && entries >= ENTRIES_OF_BOUNCE)
            ? FaultKind.BOUNCE
            : opened == 1 || (open && !everInCanal)
                ? frozen ? FaultKind.FROZEN_SIGNAL : FaultKind.OPEN_CIRCUIT
                : frozen
                    ? FaultKind.FROZEN_SIGNAL
                    : frozenChannel ? FaultKind.FROZEN_CHANNEL : steps();
  }

  private @Nullable FaultKind steps() {
    return apart >= STEPS_OF_NOISE
        ? FaultKind.NOISE
        : apart > 0 || jumpedInAir
            ? FaultKind.JUMP
            : together >= STEPS_OF_NOISE ? FaultKind.HUM : motor();
  }

  private @Nullable FaultKind motor() {
    return overspeed
        ? FaultKind.OVERSPEED
        : runsOn
            ? FaultKind.RUNS_ON
            : reversed
                ? FaultKind.REVERSED
                : jam
                    ? FaultKind.JAM
                    : speedLost
                        ? FaultKind.SPEED_LOST
                        : deadMotor
                            ? FaultKind.DEAD_MOTOR
                            : speedSteps >= SPEED_STEPS ? FaultKind.SPEED_NOISE : null;
  }
}
