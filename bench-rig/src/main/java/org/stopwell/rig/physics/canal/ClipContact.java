package org.stopwell.rig.physics.canal;

/**
 * A circuit whose lip clip has a contact resistance. It lies in series with tooth and body, and the
 * measuring cable lies beside both.
 */
public final class ClipContact extends SolvedCircuit {
  private final MeasuringCircuit tooth;
  private final double ohms;
  private final double[] straySiemens;

  /**
   * The same circuit with a contact resistance.
   *
   * @param tooth the circuit with its cable
   * @param ohms contact resistance, Ω
   * @param hertz measuring frequencies, Hz
   * @param strayFarads capacitance of that cable, F
   */
  public ClipContact(MeasuringCircuit tooth, double ohms, double[] hertz, double strayFarads) {
    super(hertz.length);
    this.tooth = tooth;
    this.ohms = ohms;
    straySiemens = new double[hertz.length];
    for (int i = 0; i < hertz.length; i++) {
      straySiemens[i] = 2 * Math.PI * hertz[i] * strayFarads;
    }
  }

  @Override
  public void solve(double remaining, double level) {
    tooth.solve(remaining, level);
    for (int i = 0; i < re.length; i++) {
      set(i, tooth.ohmsRe(i), tooth.ohmsIm(i));
      invert(i);
      im[i] -= straySiemens[i];
      if (re[i] != 0 || im[i] != 0) { // a file in air closes no circuit
        invert(i);
        re[i] += ohms;
        invert(i);
      }
      im[i] += straySiemens[i];
      invert(i);
    }
  }

  private void set(int i, double real, double imaginary) {
    re[i] = real;
    im[i] = imaginary;
  }

  private void invert(int i) {
    double size = 1 / (re[i] * re[i] + im[i] * im[i]);
    set(i, re[i] * size, -im[i] * size);
  }
}
