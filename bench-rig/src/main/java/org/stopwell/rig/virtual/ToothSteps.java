package org.stopwell.rig.virtual;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.network.Pair;
import org.stopwell.rig.network.StepTable;
import org.stopwell.rig.network.StepTable.Step;
import org.stopwell.rig.network.Target;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;

/**
 * What a network must show by position to be taken for the tooth of a scene by who looks at
 * magnitudes at the lowest and the highest frequency: the same magnitudes, with different phases.
 */
public final class ToothSteps {
  private static final int EACH_MICRONS = 50;

  /** Past the foramen, as far as the table of the canal board goes, µm. */
  private static final int BEYOND_MICRONS = 3_000;

  private ToothSteps() {}

  /**
   * Whether a scene asks for such a network.
   *
   * @param scene the scene
   * @return true when the kind of its canal is that
   */
  public static boolean areWantedBy(Scene scene) {
    return CanalSection.kind(scene.section("canal")) == CanalKind.NETWORK;
  }

  /**
   * The table of a scene, from the tooth that its canal would be.
   *
   * @param scene the scene
   * @return a step each 50 µm, as far up as the fluid closes the circuit; cable left out
   */
  public static StepTable of(Scene scene) {
    double[] hertz = FrontEndSection.hertz(scene.section("front_end"));
    int last = hertz.length - 1;
    Specimen tooth = Specimen.tooth(scene);
    List<Step> steps = new ArrayList<>();
    // From the orifice down, as the file goes in and takes the place of the fluid.
    int length = (int) Canal.lengthMicrons(scene.section("canal"));
    for (int microns = length; microns >= -BEYOND_MICRONS; microns -= EACH_MICRONS) {
      MeasuringCircuit circuit = tooth.at(microns * 1e-6);
      if (tooth.closesCircuit(microns * 1e-6)) {
        steps.add(
            new Step(
                microns * 1e-6, pair(target(circuit, hertz, 0), target(circuit, hertz, last))));
      }
    }
    Collections.reverse(steps);
    return new StepTable(steps);
  }

  private static Target target(MeasuringCircuit circuit, double[] hertz, int k) {
    return new Target(hertz[k], new Impedance(circuit.ohmsRe(k), circuit.ohmsIm(k)));
  }

  private static Pair pair(Target low, Target high) {
    return low.hertz() == high.hertz()
        ? new Pair(low.impedance().magnitude(), 0)
        : Pair.ofMagnitudes(low, high);
  }
}
