package org.stopwell.rig.virtual;

import org.stopwell.rig.network.Pair;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.physics.canal.MeasuringCircuit;

/**
 * A network of resistors and capacitors that follows a table of steps, with the measuring cable.
 */
final class NetworkCircuit implements MeasuringCircuit {
  private final StepTable table;
  private final double[] radPerS;
  private final double strayFarads;
  private Pair now = Pair.OPEN;

  NetworkCircuit(StepTable table, double[] hertz, double strayFarads) {
    this.table = table;
    this.strayFarads = strayFarads;
    radPerS = new double[hertz.length];
    for (int i = 0; i < hertz.length; i++) {
      radPerS[i] = 2 * Math.PI * hertz[i];
    }
  }

  @Override
  public void solve(double remaining, double level) {
    now = table.at(remaining);
  }

  @Override
  public double ohmsRe(int frequency) {
    return siemens() / square(frequency);
  }

  @Override
  public double ohmsIm(int frequency) {
    return -susceptance(frequency) / square(frequency);
  }

  private double siemens() {
    return 1 / now.ohms();
  }

  private double susceptance(int frequency) {
    return radPerS[frequency] * (now.farads() + strayFarads);
  }

  private double square(int frequency) {
    double b = susceptance(frequency);
    return siemens() * siemens() + b * b;
  }
}
