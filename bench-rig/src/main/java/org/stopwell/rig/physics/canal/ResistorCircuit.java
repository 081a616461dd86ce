package org.stopwell.rig.physics.canal;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.CanalSection;

/**
 * A network of resistors in place of a tooth: a resistance that falls in a straight line with the
 * depth, down to the body resistance at the foramen and on past it, with an optional capacitor and
 * an optional shunt across it. Above the orifice the circuit is open.
 */
public final class ResistorCircuit extends SolvedCircuit {
  /** The network ends at this resistance, as a network of switches would. */
  private static final double LEAST_OHMS = 100;

  private final double length;
  private final double bodyOhms;
  private final double ohmsPerMetre;
  private final double shuntSiemens;
  private final double farads;
  private final double strayFarads;
  private final double[] radPerS;

  /**
   * The network of a scene.
   *
   * @param canal values of the section {@code canal}
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of the measuring cable, F
   */
  public ResistorCircuit(ParameterValues canal, double[] hertz, double strayFarads) {
    super(hertz.length);
    length = Canal.of(canal).length();
    bodyOhms = canal.get(CanalSection.BODY);
    ohmsPerMetre = canal.get(CanalSection.OHM_PER_MM) * 1e3;
    long shunt = canal.get(CanalSection.SHUNT);
    shuntSiemens = shunt == 0 ? 0 : 1.0 / shunt;
    farads = canal.get(CanalSection.PARALLEL_CAPACITANCE) * 1e-10;
    this.strayFarads = strayFarads;
    radPerS = new double[hertz.length];
    for (int i = 0; i < hertz.length; i++) {
      radPerS[i] = 2 * Math.PI * hertz[i];
    }
  }

  @Override
  public void solve(double remaining, double level) {
    boolean open = remaining > length;
    double conductance =
        open ? 0 : shuntSiemens + 1 / Math.max(LEAST_OHMS, bodyOhms + ohmsPerMetre * remaining);
    double capacitance = open ? strayFarads : strayFarads + farads;
    for (int i = 0; i < radPerS.length; i++) {
      double susceptance = radPerS[i] * capacitance;
      double scale = 1 / (conductance * conductance + susceptance * susceptance);
      re[i] = conductance * scale;
      im[i] = -susceptance * scale;
    }
  }
}
