package org.stopwell.rig.calibration;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.Calibration;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.MeasuringCircuit;
import org.stopwell.rig.virtual.Specimen;

/**
 * Sweeps a file through the canal of a scene without noise and writes down a feature of the
 * impedance per distance: the curve that the core needs to read a distance from that feature.
 */
public final class ReferenceSweep {
  private final Scene scene;
  private final Feature feature;
  private final int highest;

  /** What is read off the impedance. */
  public enum Feature {
    /** Magnitude at the highest over magnitude at the lowest frequency, millionths. */
    RATIO,
    /** Magnitude at the lowest frequency, mΩ. */
    RESISTANCE
  }

  /**
   * A sweep of one scene.
   *
   * @param scene canal, fluid, file and frequencies; its noise and its hand do not count
   * @param feature what is read off
   */
  public ReferenceSweep(Scene scene, Feature feature) {
    this.scene = scene;
    this.feature = feature;
    highest =
        (int)
                FrontEndSection.FREQUENCIES.stream()
                    .filter(f -> scene.section("front_end").get(f) != 0)
                    .count()
            - 1;
  }

  /**
   * The curve over a range. It keeps the part that rises all the way from the deepest place, as a
   * {@link Calibration} must.
   *
   * @param deepestMicrons deepest place of the tip, µm, negative past the foramen
   * @param shallowestMicrons shallowest place, µm
   * @param stepMicrons distance from place to place, µm, positive
   * @return the curve
   * @throws IllegalArgumentException when the feature does not rise from the deepest place on
   */
  public Calibration curve(int deepestMicrons, int shallowestMicrons, int stepMicrons) {
    List<Calibration.Point> points = new ArrayList<>();
    long last = Long.MIN_VALUE;
    for (int microns = deepestMicrons; microns <= shallowestMicrons; microns += stepMicrons) {
      long value = at(microns);
      if (value <= last) {
        break;
      }
      points.add(new Calibration.Point(value, microns, lowMilliOhms(microns)));
      last = value;
    }
    if (points.size() < 2) {
      throw new IllegalArgumentException(
          feature + " does not rise from " + deepestMicrons + " µm on");
    }
    return new Calibration(points);
  }

  /**
   * The feature with the tip at one place.
   *
   * @param microns height of the tip above the foramen, µm
   * @return the feature, in its unit
   */
  public long at(int microns) {
    return switch (feature) {
      case RATIO -> {
        MeasuringCircuit circuit = new Specimen(scene).at(microns * 1e-6);
        yield Math.round(1e6 * magnitude(circuit, highest) / magnitude(circuit, 0));
      }
      case RESISTANCE -> lowMilliOhms(microns);
    };
  }

  private long lowMilliOhms(int microns) {
    return Math.round(1e3 * magnitude(new Specimen(scene).at(microns * 1e-6), 0));
  }

  private static double magnitude(MeasuringCircuit circuit, int frequency) {
    return Elementary.hypot(circuit.ohmsRe(frequency), circuit.ohmsIm(frequency));
  }
}
