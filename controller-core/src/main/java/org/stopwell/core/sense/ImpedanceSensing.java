package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;

/**
 * Distance from complex impedance by a calibrated curve: either the ratio of the magnitudes at two
 * frequencies, or the magnitude at one.
 *
 * <p>The ratio hardly depends on the fluid, the magnitude does; so the ratio gives the distance and
 * the magnitude shows whether the current still goes through the canal. A path around the canal
 * lies in parallel and can only lower the magnitude; a magnitude far above the curve is not a tip
 * in fluid, whatever the ratio is.
 *
 * <p>The bound is that of the curve, over the canals that it was measured on, widened by the noise.
 * A curve of one canal says nothing of others and states none.
 *
 * <p>A ratio above 1 is no canal at all: poles and zeros of a network of resistors and capacitors
 * alternate on the negative axis, a pole first, so its magnitude never rises with the frequency
 * (the theorem of Foster and Cauer; any textbook of network synthesis). One of the two has jumped.
 */
final class ImpedanceSensing implements Sensing {
  private static final double MILLIONTHS = 1e6;

  /** Noise allowed before a ratio counts as impossible, standard deviations; assumed. */
  private static final double RATIO_SIGMAS = 4;

  /** Standard deviations that 95 in 100 of a normal distribution are within. */
  private static final double BOUND_SIGMAS = 1.96;

  private final boolean byRatio;
  private final Curve curve;
  private final int lowHz;
  private final int highHz;
  private final double openMilliOhms;
  private final double unwettedMilliOhms;
  private final double enterMilliOhms;
  private final double leakFloorMilliOhms;
  private final double leakShare;
  private final double dryShare;
  private final double featureNoise;
  private final double mostRatio;
  private final double distanceNoiseMicrons;

  ImpedanceSensing(boolean byRatio, ParameterValues sense, Calibration calibration) {
    this.byRatio = byRatio;
    curve = new Curve(calibration);
    lowHz = sense.getInt(SenseParameters.LOW);
    highHz = sense.getInt(SenseParameters.HIGH);
    openMilliOhms = sense.get(SenseParameters.OPEN);
    unwettedMilliOhms = sense.get(SenseParameters.UNWETTED);
    enterMilliOhms = sense.get(SenseParameters.ENTER);
    leakFloorMilliOhms = sense.get(SenseParameters.LEAK_FLOOR);
    leakShare = sense.get(SenseParameters.LEAK_SHARE) / 100.0;
    dryShare = sense.get(SenseParameters.DRY_SHARE) / 100.0;
    featureNoise = sense.get(SenseParameters.FEATURE_NOISE) / 100_000.0;
    mostRatio = MILLIONTHS * (1 + RATIO_SIGMAS * featureNoise);
    distanceNoiseMicrons = sense.get(SenseParameters.DISTANCE_NOISE);
  }

  @Override
  public void read(ControllerInput in, Measurement out) {
    int low = indexOf(in, lowHz);
    int high = byRatio ? indexOf(in, highHz) : low;
    if (in.positionKind != PositionKind.IMPEDANCE || low < 0 || high < 0) {
      out.unusable = true;
      return;
    }
    double lowMilliOhms = magnitude(in, low);
    out.open = lowMilliOhms >= openMilliOhms;
    out.unwetted = !out.open && lowMilliOhms >= unwettedMilliOhms;
    out.outside = out.open || out.unwetted;
    out.inside = lowMilliOhms < enterMilliOhms;
    out.leaking = lowMilliOhms < leakFloorMilliOhms;
    if (out.outside || !(lowMilliOhms > 0)) {
      return;
    }
    double feature = byRatio ? magnitude(in, high) / lowMilliOhms * MILLIONTHS : lowMilliOhms;
    if (byRatio && feature > mostRatio) {
      out.impossible = true;
      return;
    }
    int segment = curve.segment(feature);
    double expected = byRatio ? curve.low(segment, feature) : curve.first();
    out.leaking |= lowMilliOhms < leakShare * expected;
    out.far = feature > curve.last();
    if (byRatio && !out.far && expected > 0 && lowMilliOhms > dryShare * expected) {
      out.unwetted = true;
      out.inside = false;
      return;
    }
    out.placed = true;
    out.witness = byRatio ? lowMilliOhms : 0;
    out.expectedWitness = byRatio ? expected : 0;
    out.remainingMicrons = curve.remaining(segment, feature);
    double slope = curve.slope(segment);
    double perOhm = byRatio ? perOhm(in, high) - perOhm(in, low) : perOhm(in, low);
    out.micronsPerOhm = slope * feature * Math.abs(perOhm);
    double fromFeature = slope * featureNoise * feature;
    out.sdMicrons =
        Math.sqrt(fromFeature * fromFeature + distanceNoiseMicrons * distanceNoiseMicrons);
    double ofCanals = curve.bound(segment, feature);
    double ofNoise = BOUND_SIGMAS * out.sdMicrons;
    out.boundMicrons = ofCanals > 0 ? Math.sqrt(ofCanals * ofCanals + ofNoise * ofNoise) : 0;
  }

  private static int indexOf(ControllerInput in, int hz) {
    for (int i = 0; i < in.frequencyCount; i++) {
      if (in.frequencyHz[i] == hz) {
        return i;
      }
    }
    return -1;
  }

  /** Share by which one ohm more in series raises the magnitude: Re Z / |Z|², 1/Ω. */
  private static double perOhm(ControllerInput in, int i) {
    double re = in.zRealMilliOhms[i];
    double im = in.zImagMilliOhms[i];
    return 1e3 * re / (re * re + im * im);
  }

  private static double magnitude(ControllerInput in, int i) {
    double re = in.zRealMilliOhms[i];
    double im = in.zImagMilliOhms[i];
    return Math.sqrt(re * re + im * im);
  }
}
