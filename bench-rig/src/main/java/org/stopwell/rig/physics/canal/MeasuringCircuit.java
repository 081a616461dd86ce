package org.stopwell.rig.physics.canal;

/** What lies between the file and the lip clip, seen by the front end. */
public interface MeasuringCircuit {
  /**
   * Works out the impedance at every frequency for one place of the file.
   *
   * @param remaining height of the file tip above the foramen, m; negative past it
   * @param level fluid level above the foramen, m
   */
  void solve(double remaining, double level);

  /**
   * Real part of the impedance solved last.
   *
   * @param frequency index of the frequency
   * @return Ω
   */
  double ohmsRe(int frequency);

  /**
   * Imaginary part of the impedance solved last.
   *
   * @param frequency index of the frequency
   * @return Ω, negative where capacitance rules
   */
  double ohmsIm(int frequency);
}
