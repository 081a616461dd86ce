package org.stopwell.rig.device.twin;

import java.util.List;

/**
 * What the maker of a simulated device measured in one canal: magnitudes at its frequencies.
 *
 * @param deepestMicrons distance to the foramen of the first row, µm
 * @param stepMicrons from row to row, µm
 * @param ohms magnitudes by row, then by frequency, Ω
 */
public record MakersCurve(int deepestMicrons, int stepMicrons, List<double[]> ohms) {
  /** Copies the list. */
  public MakersCurve {
    ohms = List.copyOf(ohms);
  }

  /**
   * Distance where a feature has a value, for a feature that grows with the distance.
   *
   * @param value the value
   * @param feature the feature of a row
   * @return µm; the end of the curve where the value lies beyond it
   */
  double distance(double value, Feature feature) {
    double before = feature.of(ohms.get(0));
    if (value <= before) {
      return deepestMicrons;
    }
    for (int i = 1; i < ohms.size(); i++) {
      double here = feature.of(ohms.get(i));
      if (here >= value && here > before) {
        return deepestMicrons + stepMicrons * (i - 1 + (value - before) / (here - before));
      }
      before = Math.max(before, here);
    }
    return deepestMicrons + (double) stepMicrons * (ohms.size() - 1);
  }

  /** Makes one number of the magnitudes. */
  interface Feature {
    /** The number. */
    double of(double[] ohms);
  }
}
