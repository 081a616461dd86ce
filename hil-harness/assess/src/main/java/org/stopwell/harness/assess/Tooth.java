package org.stopwell.harness.assess;

import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.virtual.Specimen;

/** Fluid and electrical network of one tooth. */
interface Tooth {
  /**
   * Lets the fluid follow the file and solves the network.
   *
   * @param remaining height of the tip above the foramen, m
   * @return the network, solved
   */
  MeasuringCircuit at(double remaining);

  /** Level of the fluid above the foramen, m. */
  double level();

  /** The tooth that the bench makes of a scene. */
  static Tooth of(Scene scene) {
    Specimen specimen = new Specimen(scene);
    return new Tooth() {
      @Override
      public MeasuringCircuit at(double remaining) {
        return specimen.at(remaining);
      }

      @Override
      public double level() {
        return specimen.level();
      }
    };
  }
}
