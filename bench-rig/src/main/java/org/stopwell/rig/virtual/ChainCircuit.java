package org.stopwell.rig.virtual;

import org.stopwell.rig.network.Chain;
import org.stopwell.rig.network.ChainTable;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.physics.canal.MeasuringCircuit;

/** A chain that follows a table by position. */
final class ChainCircuit implements MeasuringCircuit {
  private static final Impedance OPEN = new Impedance(1e12, 0);

  private final ChainTable table;
  private final Chain chain;
  private final double[] hertz;
  private final Impedance[] now;

  ChainCircuit(ToothChain.Fit fit, double[] hertz) {
    table = fit.table();
    chain = fit.chain();
    this.hertz = hertz.clone();
    now = new Impedance[hertz.length];
  }

  @Override
  public void solve(double remaining, double level) {
    double[] ohms = table.at(remaining);
    for (int k = 0; k < hertz.length; k++) {
      now[k] = ohms.length == 0 ? OPEN : chain.impedance(ohms, hertz[k]);
    }
  }

  @Override
  public double ohmsRe(int frequency) {
    return now[frequency].re();
  }

  @Override
  public double ohmsIm(int frequency) {
    return now[frequency].im();
  }
}
