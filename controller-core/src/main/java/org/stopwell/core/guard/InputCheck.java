package org.stopwell.core.guard;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;

/** Whether an input is one that a bench can send. What is not is answered by a safe stop. */
public final class InputCheck {
  /** How far a sample may seem to lie in the future, ns: clocks are matched, not the same. */
  public static final long CLOCK_SLACK_NS = 5_000_000;

  /**
   * An older sample is none, ns: differences of times between two samples must fit into a number.
   */
  private static final long OLDEST_NS = Long.MAX_VALUE / 2;

  /**
   * Greatest distance of a real part below 0 at any magnitude, mΩ: offsets of a front end at a
   * short circuit; assumed.
   */
  public static final int PASSIVE_SLACK_MILLI_OHMS = 100_000;

  private static final int MAX_DISTANCE_MICRONS = 100_000;
  private static final int MAX_SPEED_MILLI_RPM = 100_000_000;
  private static final int MAX_TORQUE_MICRO_NEWTON_METRES = 10_000_000;
  private static final int MAX_CURRENT_MILLI_AMPS = 1_000_000;
  private static final int MAX_SUPPLY_MILLI_VOLTS = 1_000_000;

  private InputCheck() {}

  /**
   * Checks the ranges of a frame.
   *
   * @param nowNs time of the step, ns
   * @param in the frame
   * @return false for a frame that no bench can send
   */
  public static boolean isPlausible(long nowNs, ControllerInput in) {
    return in.positionKind != null
        && in.stage != null
        && in.linkAgeNs >= 0
        && within(in.speedMilliRpm, MAX_SPEED_MILLI_RPM)
        && within(in.torqueMicroNewtonMetres, MAX_TORQUE_MICRO_NEWTON_METRES)
        && within(in.currentMilliAmps, MAX_CURRENT_MILLI_AMPS)
        && in.supplyMilliVolts >= 0
        && in.supplyMilliVolts <= MAX_SUPPLY_MILLI_VOLTS
        && (!in.insertionPresent || within(in.insertionMicrons, MAX_DISTANCE_MICRONS))
        && in.frequencyCount >= 0
        && in.frequencyCount <= ControllerInput.MAX_FREQUENCIES
        && isPlausibleSample(nowNs, in);
  }

  private static boolean isPlausibleSample(long nowNs, ControllerInput in) {
    if (in.positionKind == PositionKind.ABSENT) {
      return true;
    }
    long aheadNs = in.sampleTimeNs - nowNs;
    boolean fits = aheadNs > 0 == in.sampleTimeNs > nowNs;
    if (!(fits && aheadNs >= -OLDEST_NS && aheadNs <= CLOCK_SLACK_NS)) {
      return false;
    }
    if (in.positionKind == PositionKind.NO_CONTACT) {
      return true;
    }
    if (in.positionKind == PositionKind.DISTANCE) {
      return within(in.distanceMicrons, MAX_DISTANCE_MICRONS);
    }
    if (in.frequencyCount == 0) {
      return false;
    }
    for (int i = 0; i < in.frequencyCount; i++) {
      if (!(in.frequencyHz[i] > (i == 0 ? 0 : in.frequencyHz[i - 1]))
          || !isPassive(in.zRealMilliOhms[i], in.zImagMilliOhms[i])) {
        return false;
      }
    }
    return true;
  }

  /**
   * Whether an impedance can be that of a tooth or a network, which have no source in them. Noise
   * takes the real part of an open circuit, which is nearly a capacitor, below 0; the limit is half
   * of the magnitude, which noise of 10 % of the magnitude reaches at 5 standard deviations
   * (assumed).
   *
   * @param realMilliOhms real part, mΩ
   * @param imagMilliOhms imaginary part, mΩ
   * @return false for a resistance below 0
   */
  public static boolean isPassive(int realMilliOhms, int imagMilliOhms) {
    if (realMilliOhms >= -PASSIVE_SLACK_MILLI_OHMS) {
      return true;
    }
    double re = realMilliOhms;
    double im = imagMilliOhms;
    return 4 * re * re <= re * re + im * im;
  }

  private static boolean within(int value, int limit) {
    return value >= -limit && value <= limit;
  }
}
