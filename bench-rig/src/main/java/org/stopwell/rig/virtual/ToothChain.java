package org.stopwell.rig.virtual;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.network.Chain;
import org.stopwell.rig.network.ChainFit;
import org.stopwell.rig.network.ChainTable;
import org.stopwell.rig.network.ChainTable.Place;
import org.stopwell.rig.network.Impedance;
import org.stopwell.rig.network.Target;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.canal.MeasuringCircuit;

/**
 * What a {@link Chain} must show by position to be taken for the tooth of a scene by a device whose
 * frequencies nobody knows: magnitude and phase from 0.2 to 20 kHz.
 */
public final class ToothChain {
  /** Frequencies of the fit, Hz; a scene measures four at a time. */
  private static final List<List<Integer>> HERTZ =
      List.of(
          List.of(200, 320, 500, 800),
          List.of(1_250, 2_000, 3_150, 5_000),
          List.of(8_000, 12_500, 16_000, 20_000));

  private static final int EACH_MICRONS = 50;

  /** Past the foramen, as far as the table of the canal board goes, µm. */
  private static final int BEYOND_MICRONS = 3_000;

  /** Where the fit begins; there it has one best place, m. */
  private static final double BEGINS = 3e-3;

  private ToothChain() {}

  /**
   * Whether a scene asks for such a chain.
   *
   * @param scene the scene
   * @return true when the kind of its canal is that
   */
  public static boolean isWantedBy(Scene scene) {
    return CanalSection.kind(scene.section("canal")) == CanalKind.CHAIN;
  }

  /**
   * The impedance of the tooth that the canal of a scene would be, cable left out.
   *
   * @param scene the scene; its own frequencies do not matter
   * @return targets by frequency, by height of the tip above the foramen in m, ascending, as far up
   *     as the fluid closes the circuit
   */
  public static Map<Double, List<Target>> targets(Scene scene) {
    List<Specimen> teeth =
        HERTZ.stream().map(hertz -> Specimen.tooth(measuring(scene, hertz))).toList();
    Map<Double, List<Target>> down = new LinkedHashMap<>();
    int length = (int) Canal.lengthMicrons(scene.section("canal"));
    // From the orifice down, as the file goes in and takes the place of the fluid.
    for (int microns = length; microns >= -BEYOND_MICRONS; microns -= EACH_MICRONS) {
      List<Target> there = new ArrayList<>();
      for (int set = 0; set < HERTZ.size(); set++) {
        MeasuringCircuit circuit = teeth.get(set).at(microns * 1e-6);
        for (int k = 0; k < HERTZ.get(set).size(); k++) {
          there.add(
              new Target(
                  HERTZ.get(set).get(k), new Impedance(circuit.ohmsRe(k), circuit.ohmsIm(k))));
        }
      }
      if (teeth.get(0).closesCircuit(microns * 1e-6)) {
        down.put(microns * 1e-6, there);
      }
    }
    List<Double> up = new ArrayList<>(down.keySet());
    Collections.reverse(up);
    Map<Double, List<Target>> ascending = new LinkedHashMap<>();
    up.forEach(place -> ascending.put(place, down.getOrDefault(place, List.of())));
    return ascending;
  }

  private static Scene measuring(Scene scene, List<Integer> hertz) {
    Map<String, String> keys = new LinkedHashMap<>();
    for (int k = 0; k < hertz.size(); k++) {
      keys.put(FrontEndSection.FREQUENCIES.get(k).key(), hertz.get(k).toString());
    }
    try {
      return scene.taking("front_end", Scene.of(Map.of("front_end", keys), 1));
    } catch (SettingsException e) {
      throw new IllegalStateException(e);
    }
  }

  /**
   * The table of a scene, from the tooth that its canal would be.
   *
   * @param scene the scene
   * @param chain the chain as it is built
   * @return a place each 50 µm
   */
  public static ChainTable of(Scene scene, Chain chain) {
    return fitted(targets(scene), chain);
  }

  /**
   * The table that fits known impedances.
   *
   * @param targets as {@link #targets(Scene)} gives them
   * @param chain the chain as it is built
   * @return a place for each
   */
  public static ChainTable fitted(Map<Double, List<Target>> targets, Chain chain) {
    List<Double> up = new ArrayList<>(targets.keySet());
    int first = 0;
    while (first < up.size() - 1 && up.get(first) < BEGINS) {
      first++;
    }
    List<Place> places = new ArrayList<>();
    double[] ohms = {};
    double[] middle = {};
    for (int i = first; i < up.size(); i++) {
      ohms = ChainFit.of(chain, targets.getOrDefault(up.get(i), List.of()), ohms);
      middle = i == first ? ohms : middle;
      places.add(place(up.get(i), ohms));
    }
    ohms = middle;
    for (int i = first - 1; i >= 0; i--) {
      ohms = ChainFit.of(chain, targets.getOrDefault(up.get(i), List.of()), ohms);
      places.add(0, place(up.get(i), ohms));
    }
    return new ChainTable(places);
  }

  private static Place place(double remaining, double[] ohms) {
    List<Double> list = new ArrayList<>();
    for (double each : ohms) {
      list.add(each);
    }
    return new Place(remaining, list);
  }
}
