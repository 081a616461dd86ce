package org.stopwell.rig.fault;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.rig.random.RandomStream;

/** What faults do to the position signal. */
final class SignalFaults {
  /** A broken lead as a front end shows it: the top of its range, mΩ (assumed). */
  private static final int OPEN_MILLI_OHMS = 2_000_000_000;

  private final RandomStream random;
  private final ControllerInput lastSound = new ControllerInput();
  private long noisySequence = -1;
  private double factor = 1;

  SignalFaults(long seed) {
    random = RandomStream.of(seed, "signal faults");
  }

  /** Keeps a sound reading: what a fault freezes is the last of them. */
  void remember(ControllerInput reading) {
    lastSound.copyFrom(reading);
  }

  void change(Injection fault, ControllerInput reading) {
    switch (fault.kind()) {
      case SAMPLES_STOP -> {
        copySample(lastSound, reading);
        reading.sampleSequence = lastSound.sampleSequence;
        reading.sampleTimeNs = lastSound.sampleTimeNs;
      }
      case FROZEN_SIGNAL -> {
        copySample(lastSound, reading);
      }
      case OPEN_CIRCUIT -> {
        for (int i = 0; i < reading.frequencyCount; i++) {
          reading.zRealMilliOhms[i] = OPEN_MILLI_OHMS;
          reading.zImagMilliOhms[i] = 0;
        }
      }
      case SATURATED -> reading.railed = true;
      case JUMP -> scale(reading, reading.frequencyCount - 1, fault.strength());
      case NOISE -> {
        if (reading.sampleSequence != noisySequence) {
          noisySequence = reading.sampleSequence;
          factor = Math.exp(fault.strength() * random.nextGaussian());
        }
        scale(reading, reading.frequencyCount - 1, factor);
      }
      case NONSENSE -> {
        reading.speedMilliRpm = Integer.MIN_VALUE;
        reading.frequencyCount = Integer.MAX_VALUE;
      }
      default -> {}
    }
  }

  private static void scale(ControllerInput reading, int frequency, double by) {
    if (frequency >= 0) {
      reading.zRealMilliOhms[frequency] = (int) (reading.zRealMilliOhms[frequency] * by);
      reading.zImagMilliOhms[frequency] = (int) (reading.zImagMilliOhms[frequency] * by);
    }
  }

  private static void copySample(ControllerInput from, ControllerInput to) {
    to.positionKind = from.positionKind;
    to.frequencyCount = from.frequencyCount;
    for (int i = 0; i < ControllerInput.MAX_FREQUENCIES; i++) {
      to.frequencyHz[i] = from.frequencyHz[i];
      to.zRealMilliOhms[i] = from.zRealMilliOhms[i];
      to.zImagMilliOhms[i] = from.zImagMilliOhms[i];
    }
    to.distanceMicrons = from.distanceMicrons;
    to.railed = from.railed;
  }
}
