package org.stopwell.rig.virtual;

import java.util.Arrays;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.random.RandomStream;

/**
 * The measuring front end: it samples the circuit at even times, adds noise, hum and error of
 * scale, rounds to mΩ, and delivers every sample after a delay. As an outside locator it shows the
 * distance in steps, at its own rate, and reports no contact while the tip is dry.
 */
final class FrontEnd {
  /** A frame holds mΩ in 31 bits: a part beyond this is given as this, Ω. */
  private static final double MOST_OHMS = 2_000_000;

  /** Period over rate in mHz, ns. */
  private static final long NS_OF_MILLIHERTZ = 1_000_000_000_000L;

  private static final double[] SINE = new double[1025];

  static {
    for (int i = 0; i < SINE.length; i++) {
      SINE[i] = Elementary.sin(2 * Math.PI * i / (SINE.length - 1));
    }
  }

  private final int[] hertz;
  private final boolean locator;
  private final long periodNs;
  private final long delayNs;
  private final double noise;
  private final double gain;
  private final double railOhms;
  private final double locatorNoise;
  private final double locatorStep;
  private final double driftPerNs;
  private final double stepOhms;
  private final double settled;
  private final double[] heldRe;
  private final double[] heldIm;
  private final double humTurnsPerNs;
  private final double hum;
  private final double humPhaseTurns;
  private final RandomStream random;

  private final long[] timeNs;
  private final boolean[] railed;
  private final boolean[] wet;
  private final int[] distance;
  private final int[] zRe;
  private final int[] zIm;
  private long taken;
  private int newestSlot;
  private long nextNs;

  FrontEnd(ParameterValues frontEnd, RandomStream random) {
    int count = 0;
    int[] all = new int[ControllerInput.MAX_FREQUENCIES];
    for (Parameter frequency : FrontEndSection.FREQUENCIES) {
      if (frontEnd.get(frequency) != 0) {
        all[count++] = frontEnd.getInt(frequency);
      }
    }
    hertz = Arrays.copyOf(all, count);
    locator = frontEnd.choice(FrontEndSection.SIGNAL).equals(FrontEndSection.DISTANCE);
    periodNs =
        locator
            ? NS_OF_MILLIHERTZ / frontEnd.get(FrontEndSection.LOCATOR_RATE)
            : frontEnd.get(FrontEndSection.SAMPLE) * 1000;
    delayNs = frontEnd.get(FrontEndSection.DELAY) * 1000;
    noise =
        frontEnd.get(FrontEndSection.NOISE)
            * 1e-5
            * 1000
            / frontEnd.get(FrontEndSection.EXCITATION);
    driftPerNs = frontEnd.get(FrontEndSection.DRIFT) * 1e-5 / 60e9;
    stepOhms = frontEnd.get(FrontEndSection.RESOLUTION) * 1e-3;
    long settlingNs = frontEnd.get(FrontEndSection.SETTLING) * 1000;
    settled = settlingNs == 0 ? 1 : -Elementary.expm1(-(double) periodNs / settlingNs);
    gain = 1 + frontEnd.get(FrontEndSection.GAIN_ERROR) * 1e-5;
    railOhms = frontEnd.get(FrontEndSection.RAIL);
    locatorNoise = frontEnd.get(FrontEndSection.LOCATOR_NOISE);
    locatorStep = frontEnd.get(FrontEndSection.LOCATOR_STEP);
    hum = frontEnd.get(FrontEndSection.HUM) * 1e-5;
    humTurnsPerNs = frontEnd.get(FrontEndSection.HUM_FREQUENCY) * 1e-11;
    this.random = random;
    humPhaseTurns = random.nextDouble();
    int slots = Math.toIntExact(delayNs / periodNs) + 2;
    timeNs = new long[slots];
    railed = new boolean[slots];
    wet = new boolean[slots];
    distance = new int[slots];
    heldRe = new double[hertz.length];
    heldIm = new double[hertz.length];
    zRe = new int[slots * hertz.length];
    zIm = new int[slots * hertz.length];
  }

  /** Whether a sample is due. */
  boolean due(long nowNs) {
    return nowNs >= nextNs;
  }

  /** Takes a sample of a circuit that has been solved for this moment. */
  void sample(long nowNs, MeasuringCircuit circuit, double remaining, boolean tipWet) {
    while (nextNs <= nowNs) {
      nextNs += periodNs;
    }
    int slot = newestSlot + 1 < timeNs.length ? newestSlot + 1 : 0;
    newestSlot = slot;
    taken++;
    timeNs[slot] = nowNs;
    wet[slot] = tipWet;
    if (locator) {
      double shown = remaining * 1e6 + locatorNoise * random.nextGaussian();
      distance[slot] = (int) (locatorStep * Elementary.rint(shown / locatorStep));
      return;
    }
    double humNow = hum == 0 ? 0 : hum * sineOfTurns(humTurnsPerNs * nowNs + humPhaseTurns);
    double scale = (gain + driftPerNs * nowNs) * (1 + humNow);
    boolean saturated = false;
    for (int i = 0; i < hertz.length; i++) {
      double share = taken == 1 ? 1 : settled;
      heldRe[i] += share * (circuit.ohmsRe(i) - heldRe[i]);
      heldIm[i] += share * (circuit.ohmsIm(i) - heldIm[i]);
      double re = heldRe[i];
      double im = heldIm[i];
      double size = StrictMath.sqrt(re * re + im * im);
      saturated |= size < railOhms;
      int at = slot * hertz.length + i;
      // beyond its range a front end is as noisy as at the end of it
      double spread = noise * (size > MOST_OHMS ? MOST_OHMS : size);
      zRe[at] = milliOhms(re * scale + spread * random.nextGaussian());
      zIm[at] = milliOhms(im * scale + spread * random.nextGaussian());
    }
    railed[slot] = saturated;
  }

  /** The sine of an angle in turns, true to 5e-6; from JDK 21 on that of StrictMath allocates. */
  private static double sineOfTurns(double turns) {
    double at = (SINE.length - 1) * (turns - StrictMath.floor(turns));
    int below = (int) at;
    return SINE[below] + (at - below) * (SINE[below + 1] - SINE[below]);
  }

  private int milliOhms(double ohms) {
    double stepped = stepOhms * Elementary.rint(ohms / stepOhms);
    double held = stepped > MOST_OHMS ? MOST_OHMS : stepped < -MOST_OHMS ? -MOST_OHMS : stepped;
    return (int) Elementary.rint(1000 * held);
  }

  /** Writes the newest sample that has arrived. */
  void deliver(long nowNs, ControllerInput in) {
    long kept = Math.min(taken, timeNs.length);
    int back = 0;
    int slot = newestSlot;
    while (back < kept && timeNs[slot] + delayNs > nowNs) {
      slot = slot > 0 ? slot - 1 : timeNs.length - 1;
      back++;
    }
    if (back == kept) {
      in.positionKind = PositionKind.ABSENT;
      in.sampleSequence = 0;
      in.sampleTimeNs = 0;
      in.frequencyCount = 0;
      in.railed = false;
      return;
    }
    in.sampleSequence = taken - back;
    in.sampleTimeNs = timeNs[slot];
    if (locator) {
      in.positionKind = wet[slot] ? PositionKind.DISTANCE : PositionKind.NO_CONTACT;
      in.distanceMicrons = wet[slot] ? distance[slot] : 0;
      in.frequencyCount = 0;
      in.railed = false;
      return;
    }
    in.positionKind = PositionKind.IMPEDANCE;
    in.frequencyCount = hertz.length;
    in.railed = railed[slot];
    for (int i = 0; i < hertz.length; i++) {
      in.frequencyHz[i] = hertz[i];
      in.zRealMilliOhms[i] = zRe[slot * hertz.length + i];
      in.zImagMilliOhms[i] = zIm[slot * hertz.length + i];
    }
  }
}
