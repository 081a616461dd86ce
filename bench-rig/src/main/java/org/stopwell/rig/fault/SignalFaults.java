package org.stopwell.rig.fault;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.number.Elementary;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.wire.ReadingFields;

/** What faults do to the position signal. */
final class SignalFaults {
  /** Mains near its limit, so that it drifts against the samples, Hz (assumed). */
  private static final double HUM_HZ = 50.2;

  private final RandomStream random;
  private final ControllerInput lastSound = new ControllerInput();
  private long drawnSequence = -1;
  private double normal;
  private double uniform;

  SignalFaults(long seed) {
    random = RandomStream.of(seed, "signal faults");
  }

  /** Keeps a sound reading: what a fault freezes is the last of them. */
  void remember(ControllerInput reading) {
    lastSound.copyFrom(reading);
  }

  void change(Injection fault, long sinceOnsetNs, ControllerInput reading) {
    draw(reading.sampleSequence);
    double strength = fault.strength();
    switch (fault.kind()) {
      case SAMPLES_STOP -> {
        copySample(lastSound, reading);
        reading.sampleSequence = lastSound.sampleSequence;
        reading.sampleTimeNs = lastSound.sampleTimeNs;
      }
      case FROZEN_SIGNAL -> copySample(lastSound, reading);
      case FROZEN_CHANNEL -> {
        int top = reading.frequencyCount - 1;
        if (top >= 0 && lastSound.frequencyCount == reading.frequencyCount) {
          reading.zRealMilliOhms[top] = lastSound.zRealMilliOhms[top];
          reading.zImagMilliOhms[top] = lastSound.zImagMilliOhms[top];
        }
      }
      case OPEN_CIRCUIT -> put(reading, ReadingFields.OPEN_MILLI_OHMS);
      case BOUNCE -> {
        if (uniform < strength) {
          put(reading, ReadingFields.OPEN_MILLI_OHMS);
        }
      }
      case SHORT_CIRCUIT -> put(reading, (int) Elementary.rint(strength * 1e3));
      case SATURATED -> reading.railed = true;
      case JUMP -> scale(reading, reading.frequencyCount - 1, strength);
      case NOISE -> scale(reading, reading.frequencyCount - 1, Elementary.exp(strength * normal));
      case HUM -> {
        double phase = 2 * Math.PI * HUM_HZ * reading.sampleTimeNs * 1e-9;
        for (int i = 0; i < reading.frequencyCount; i++) {
          scale(reading, i, 1 + strength * Elementary.sin(phase));
        }
      }
      case DRIFT ->
          scale(
              reading,
              reading.frequencyCount - 1,
              Math.max(0.01, 1 + strength * sinceOnsetNs * 1e-9));
      case ADDED_RESISTANCE -> {
        for (int i = 0; i < reading.frequencyCount; i++) {
          reading.zRealMilliOhms[i] += (int) Elementary.rint(strength * 1e3);
        }
      }
      case NONSENSE -> {
        reading.speedMilliRpm = Integer.MIN_VALUE;
        reading.frequencyCount = Integer.MAX_VALUE;
      }
      default -> {}
    }
  }

  /** Chance comes once per sample: reading a sample twice does not change it. */
  private void draw(long sequence) {
    if (sequence != drawnSequence) {
      drawnSequence = sequence;
      normal = random.nextGaussian();
      uniform = random.nextDouble();
    }
  }

  private static void put(ControllerInput reading, int milliOhms) {
    if (reading.positionKind == PositionKind.DISTANCE
        && milliOhms == ReadingFields.OPEN_MILLI_OHMS) {
      reading.positionKind = PositionKind.NO_CONTACT;
      reading.distanceMicrons = 0;
    }
    for (int i = 0; i < reading.frequencyCount; i++) {
      reading.zRealMilliOhms[i] = milliOhms;
      reading.zImagMilliOhms[i] = 0;
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
