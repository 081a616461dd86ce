package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;

/**
 * Distance straight from an outside locator. A value of its display covers every place within half
 * a step of it: as a noise that is spread evenly over a step, of variance step²/12 (any textbook of
 * quantization). A locator without contact reads like an open circuit.
 *
 * <p>The bound is the error that the owner of the locator declares, half a step, and the travel
 * during one update at the fastest feed; without a declared error there is none.
 */
final class LocatorSensing implements Sensing {
  private static final double MILLIHERTZ = 1e3;

  private final int enterMicrons;
  private final int leaveMicrons;
  private final double sdMicrons;
  private final double boundMicrons;

  LocatorSensing(ParameterValues sense) {
    enterMicrons = sense.getInt(SenseParameters.ENTER_DISTANCE);
    leaveMicrons = sense.getInt(SenseParameters.LEAVE_DISTANCE);
    double noise = sense.get(SenseParameters.DISTANCE_NOISE);
    double step = sense.get(SenseParameters.LOCATOR_STEP);
    sdMicrons = Math.sqrt(noise * noise + step * step / 12);
    double error = sense.get(SenseParameters.LOCATOR_ERROR);
    double late =
        sense.get(SenseParameters.LOCATOR_FEED)
            * MILLIHERTZ
            / sense.get(SenseParameters.LOCATOR_RATE);
    boundMicrons = error > 0 ? error + step / 2 + late : 0;
  }

  @Override
  public void read(ControllerInput in, Measurement out) {
    if (in.positionKind == PositionKind.NO_CONTACT) {
      out.open = true;
      out.outside = true;
      return;
    }
    if (in.positionKind != PositionKind.DISTANCE) {
      out.unusable = true;
      return;
    }
    out.inside = in.distanceMicrons < enterMicrons;
    out.outside = in.distanceMicrons > leaveMicrons;
    out.placed = true;
    out.remainingMicrons = in.distanceMicrons;
    out.sdMicrons = sdMicrons;
    out.boundMicrons = boundMicrons;
  }
}
