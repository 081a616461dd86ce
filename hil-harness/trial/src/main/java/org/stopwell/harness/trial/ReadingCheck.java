package org.stopwell.harness.trial;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.guard.InputCheck;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;

/**
 * Refuses readings that a sound bench cannot give: samples in reverse order, negative resistance.
 */
final class ReadingCheck {
  private long sequence;
  private long timeNs = Long.MIN_VALUE / 2;

  /**
   * Checks a reading.
   *
   * @throws BenchException when it contradicts the readings before, or physics
   */
  void look(ControllerInput in) throws BenchException {
    if (in.positionKind == null || in.positionKind == PositionKind.ABSENT) {
      return;
    }
    if (in.sampleSequence < sequence) {
      throw new BenchException(
          RigFault.READING_ORDER,
          "reading: sample " + in.sampleSequence + " comes after sample " + sequence);
    }
    if (in.sampleTimeNs < timeNs - InputCheck.CLOCK_SLACK_NS) {
      throw new BenchException(
          RigFault.READING_ORDER,
          "reading: sample "
              + in.sampleSequence
              + " was taken "
              + (timeNs - in.sampleTimeNs) / 1_000_000
              + " ms before the sample that came first; at most "
              + InputCheck.CLOCK_SLACK_NS / 1_000_000
              + " ms is allowed for clocks");
    }
    sequence = in.sampleSequence;
    timeNs = Math.max(timeNs, in.sampleTimeNs);
    if (in.positionKind == PositionKind.IMPEDANCE && !isPassive(in)) {
      throw new BenchException(
          RigFault.NEGATIVE_RESISTANCE,
          "reading: sample "
              + in.sampleSequence
              + " has a real part below 0 Ohm by more than half of its magnitude and more than "
              + InputCheck.PASSIVE_SLACK_MILLI_OHMS / 1000
              + " Ohm; check leads and signs of the front end");
    }
  }

  private static boolean isPassive(ControllerInput in) {
    for (int i = 0; i < in.frequencyCount && i < ControllerInput.MAX_FREQUENCIES; i++) {
      if (!InputCheck.isPassive(in.zRealMilliOhms[i], in.zImagMilliOhms[i])) {
        return false;
      }
    }
    return true;
  }
}
