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
import org.stopwell.rig.network.ChainParts;
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

  /** Where a trial of a device ends at the latest that still has a stop, m. */
  private static final double LAST = -1e-3;

  /** Every so many places the capacitors are tried. */
  private static final int LOOKED_AT_EACH = 6;

  /** What a place costs that misses the limits, so that the number of these decides. */
  private static final double MISSED = 100;

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
   * A chain that shows a tooth.
   *
   * @param capacitors which of the switched capacitors are in, as {@link ChainParts#at} takes it
   * @param chain the chain with them
   * @param table its resistances by position, a place each 50 µm
   */
  public record Fit(int capacitors, Chain chain, ChainTable table) {}

  /**
   * The greatest errors of a chain.
   *
   * @param magnitude of the magnitude, as a share
   * @param degrees of the phase, °
   */
  public record Miss(double magnitude, double degrees) {
    /**
     * Whether a device may be played with it.
     *
     * @return true within the limits of {@link ChainFit}
     */
    public boolean isWithin() {
      return magnitude <= ChainFit.MAGNITUDE && degrees <= Math.toDegrees(ChainFit.PHASE);
    }
  }

  /**
   * The greatest errors near the foramen, from 3 mm short of it to 1 mm past it, of the chain with
   * nominal parts and without steps.
   *
   * @param scene the scene
   * @return the errors over the band
   */
  public static Miss near(Scene scene) {
    Map<Double, List<Target>> targets = targets(scene);
    Fit fit = fitted(targets, ChainParts.NOMINAL);
    double magnitude = 0;
    double degrees = 0;
    for (Map.Entry<Double, List<Target>> place : targets.entrySet()) {
      if (place.getKey() >= LAST && place.getKey() <= BEGINS) {
        double[] ohms = fit.table().at(place.getKey());
        for (Target target : place.getValue()) {
          Impedance made = fit.chain().impedance(ohms, target.hertz());
          Impedance wanted = target.impedance();
          magnitude = Math.max(magnitude, Math.abs(made.magnitude() / wanted.magnitude() - 1));
          degrees = Math.max(degrees, Math.toDegrees(Math.abs(made.phase() - wanted.phase())));
        }
      }
    }
    return new Miss(magnitude, degrees);
  }

  /**
   * The chain for the tooth that the canal of a scene would be.
   *
   * @param scene the scene
   * @param parts the parts as they are built
   * @return capacitors and resistances
   */
  public static Fit of(Scene scene, ChainParts parts) {
    return fitted(targets(scene), parts);
  }

  /**
   * The chain that fits known impedances: the capacitors that serve most places near the foramen,
   * and then the resistances.
   *
   * @param targets as {@link #targets(Scene)} gives them
   * @param parts the parts as they are built
   * @return capacitors and resistances
   */
  public static Fit fitted(Map<Double, List<Target>> targets, ChainParts parts) {
    List<List<Target>> near = new ArrayList<>();
    List<Double> places =
        targets.keySet().stream().filter(place -> place >= LAST && place <= BEGINS).toList();
    for (int i = places.size() - 1; i >= 0; i -= LOOKED_AT_EACH) {
      near.add(targets.getOrDefault(places.get(i), List.of()));
    }
    int chosen = ChainParts.TRIED.get(0);
    double least = Double.POSITIVE_INFINITY;
    for (int code : ChainParts.TRIED) {
      double cost = cost(near, parts.at(code), least);
      if (cost < least) {
        least = cost;
        chosen = code;
      }
    }
    for (int segment = 0; segment < parts.farads().size() && least > MISSED; segment++) {
      for (int bits = 0; bits < 4; bits++) {
        int code = (chosen & ~(3 << (2 * segment))) | (bits << (2 * segment));
        double cost = code == chosen ? least : cost(near, parts.at(code), least);
        if (cost < least) {
          least = cost;
          chosen = code;
        }
      }
    }
    Chain chain = parts.at(chosen);
    return new Fit(chosen, chain, fitted(targets, chain));
  }

  /** The sum of the errors, and much for each place that misses the limits; stops at a limit. */
  private static double cost(List<List<Target>> near, Chain chain, double limit) {
    double[] ohms = {};
    double cost = 0;
    for (int i = 0; i < near.size() && cost < limit; i++) {
      ohms = ChainFit.of(chain, near.get(i), ohms);
      double worst = ChainFit.worst(chain, near.get(i), ohms);
      cost += worst > 1 ? MISSED + worst : worst;
    }
    return cost;
  }

  private static ChainTable fitted(Map<Double, List<Target>> targets, Chain chain) {
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
