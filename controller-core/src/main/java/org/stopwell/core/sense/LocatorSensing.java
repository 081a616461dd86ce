package org.stopwell.core.sense;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;

/** Distance straight from an outside locator. */
final class LocatorSensing implements Sensing {
  private final int enterMicrons;
  private final int leaveMicrons;
  private final double noiseMicrons;

  LocatorSensing(ParameterValues sense) {
    enterMicrons = sense.getInt(SenseParameters.ENTER_DISTANCE);
    leaveMicrons = sense.getInt(SenseParameters.LEAVE_DISTANCE);
    noiseMicrons = sense.get(SenseParameters.DISTANCE_NOISE);
  }

  @Override
  public void read(ControllerInput in, Measurement out) {
    if (in.positionKind != PositionKind.DISTANCE) {
      out.unusable = true;
      return;
    }
    out.inside = in.distanceMicrons < enterMicrons;
    out.outside = in.distanceMicrons > leaveMicrons;
    out.placed = true;
    out.remainingMicrons = in.distanceMicrons;
    out.sdMicrons = noiseMicrons;
  }
}
