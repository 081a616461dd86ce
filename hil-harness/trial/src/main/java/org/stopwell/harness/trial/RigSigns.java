package org.stopwell.harness.trial;

import java.util.Optional;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Reason;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.Truth;

/**
 * Signs that the front end, a sensor, the motor or a lead of the bench failed, and not the
 * controller: readings compared with the truth. Every limit lies well outside the values of a sound
 * bench, and is assumed.
 */
final class RigSigns {
  /**
   * What failed.
   *
   * @param code the code of a trial that it spoiled
   * @param text what shows it, a clause
   */
  record Failure(String code, String text) {
    Failure(RigFault fault, String text) {
      this(fault.name(), text);
    }
  }

  private static final Failure LINK =
      new Failure(Reason.LINK_LOST.name(), "the newest reading did not arrive");
  private static final Failure FRONT_END =
      new Failure(
          RigFault.FRONT_END,
          "the front end gave no samples, the same samples, saturated samples or impossible values");
  private static final Failure LEADS =
      new Failure(
          RigFault.LEADS, "the measuring circuit was shorted, or opened after it had been closed");
  private static final Failure SPEED_SENSOR =
      new Failure(RigFault.SPEED_SENSOR, "the speed read 0 while the file turned");
  private static final Failure MOTOR =
      new Failure(RigFault.MOTOR, "the motor was commanded to turn and took no current");

  /** Age from which a reading is missing, ns. */
  private static final long OLD_NS = 20_000_000;

  // Magnitudes are compared as squares, mΩ²: a root of each reading takes 2 % of a trial.
  private static final double OPEN_SQUARE = 1e9 * 1e9;
  private static final double IN_CANAL_SQUARE = 1e8 * 1e8;
  private static final double SHORT_SQUARE = 150e3 * 150e3;

  /**
   * Number of equal samples in a row that a noisy channel does not give after as many unequal ones.
   */
  private static final int SAME_SAMPLES = 5;

  private static final int ALIVE_SAMPLES = 20;

  /** Travel of the file during which a working channel changes, µm. */
  private static final int MOVED_MICRONS = 20;

  /**
   * Longest travel of a trembling or pecking hand while a reading is measured and sent, µm: at the
   * surface of the fluid a reading of an open circuit arrives when the tip is inside again.
   * Assumed: 20 ms at 10 mm/s.
   */
  private static final int LAG_MICRONS = 200;

  /** Speed from which a file counts as turning, milli-rpm. */
  private static final int TURNS_MILLI_RPM = 20_000;

  /** Longest time of a motor without current, and of a turning file without measured speed, ns. */
  private static final long SILENT_NS = 100_000_000;

  private final int[] lastReal = new int[ControllerInput.MAX_FREQUENCIES];
  private final int[] lastImag = new int[ControllerInput.MAX_FREQUENCIES];
  private final int[] same = new int[ControllerInput.MAX_FREQUENCIES];
  private final int[] alive = new int[ControllerInput.MAX_FREQUENCIES];
  private final int[] sameSinceMicrons = new int[ControllerInput.MAX_FREQUENCIES];
  private Drive told = Drive.OFF;
  private long sequence = -1;
  private int closedAtMicrons = Integer.MIN_VALUE;
  private long speedSeenNs = Long.MIN_VALUE;
  private long currentSeenNs = Long.MIN_VALUE;

  private boolean oldLink;
  private boolean open;
  private boolean shorted;
  private boolean railed;
  private boolean frozen;
  private boolean speedLost;
  private boolean deadMotor;

  /** Checks one step: the reading under the command of the previous step. */
  void look(long nowNs, ControllerInput in, ControllerOutput out, Truth truth) {
    motor(nowNs, in, truth);
    told = out.drive;
    railed |= in.railed;
    oldLink = in.linkAgeNs > OLD_NS;
    if (in.positionKind == PositionKind.IMPEDANCE
        && in.frequencyCount > 0
        && in.frequencyCount <= ControllerInput.MAX_FREQUENCIES
        && in.sampleSequence != sequence) {
      sequence = in.sampleSequence;
      circuit(in, truth);
    }
  }

  private void motor(long nowNs, ControllerInput in, Truth truth) {
    boolean turns = Math.abs((long) truth.speedMilliRpm) > TURNS_MILLI_RPM;
    boolean silent = told.turns() && in.linkAgeNs == 0 && in.speedMilliRpm == 0;
    if (!(silent && turns)) {
      speedSeenNs = nowNs;
    }
    if (!(silent && !turns && in.currentMilliAmps == 0)) {
      currentSeenNs = nowNs;
    }
    speedLost |= nowNs - speedSeenNs >= SILENT_NS;
    deadMotor |= nowNs - currentSeenNs >= SILENT_NS;
  }

  private void circuit(ControllerInput in, Truth truth) {
    boolean isOpen = true;
    boolean isShort = true;
    for (int i = 0; i < in.frequencyCount; i++) {
      double re = in.zRealMilliOhms[i];
      double im = in.zImagMilliOhms[i];
      double square = re * re + im * im;
      isOpen &= square >= OPEN_SQUARE;
      isShort &= square < SHORT_SQUARE;
      if (i == 0 && square < IN_CANAL_SQUARE) {
        closedAtMicrons = Math.max(closedAtMicrons, truth.remainingMicrons);
      }
      channel(i, in, square < IN_CANAL_SQUARE, truth.remainingMicrons);
    }
    shorted |= isShort;
    // A tip that was in the fluid when the reading was taken closes the circuit, if it is clearly
    // below where the circuit was closed before.
    int tookMicrons = truth.remainingMicrons + LAG_MICRONS;
    boolean inFluid = truth.fluidLevelMicrons == 0 || tookMicrons <= truth.fluidLevelMicrons;
    open |= isOpen && inFluid && tookMicrons <= closedAtMicrons;
  }

  private void channel(int i, ControllerInput in, boolean inCanal, int remainingMicrons) {
    boolean repeats =
        inCanal && lastReal[i] == in.zRealMilliOhms[i] && lastImag[i] == in.zImagMilliOhms[i];
    lastReal[i] = in.zRealMilliOhms[i];
    lastImag[i] = in.zImagMilliOhms[i];
    if (!repeats) {
      alive[i] = same[i] > 0 ? 1 : alive[i] + 1;
      same[i] = 0;
      sameSinceMicrons[i] = remainingMicrons;
      return;
    }
    same[i]++;
    frozen |=
        same[i] >= SAME_SAMPLES
            && alive[i] >= ALIVE_SAMPLES
            && Math.abs(remainingMicrons - sameSinceMicrons[i]) >= MOVED_MICRONS;
  }

  /**
   * What failed.
   *
   * @param last what the controller says at the end
   * @return empty when nothing of the bench did
   */
  Optional<Failure> failed(ControllerOutput last) {
    boolean stale = last.reason == Reason.SIGNAL_STALE || last.cause == Cause.STALE;
    if (stale && oldLink) {
      return Optional.of(LINK);
    }
    if (open || shorted) {
      return Optional.of(LEADS);
    }
    if (stale || railed || frozen) {
      return Optional.of(FRONT_END);
    }
    return speedLost
        ? Optional.of(SPEED_SENSOR)
        : deadMotor ? Optional.of(MOTOR) : Optional.empty();
  }
}
