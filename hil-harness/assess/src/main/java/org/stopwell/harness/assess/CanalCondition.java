package org.stopwell.harness.assess;

import java.util.Locale;
import org.stopwell.rig.population.Population.Fill;

/** The condition of the canal that a file is put into. */
public enum CanalCondition {
  /** The apical half is wet and the chamber is dry. */
  HALF_WET("half-wet", Fill.HALF_WET),
  /** Filled to the orifice. */
  BRIMFUL("brimful", Fill.BRIMFUL),
  /** Filled up into the chamber. */
  FLOODED("flooded", Fill.FLOODED),
  /** Brimful; the controller has learned the canal in an earlier visit. */
  BRIMFUL_LEARNED("brimful, canal learned", Fill.BRIMFUL),
  /** Flooded; the controller has learned the canal in an earlier visit. */
  FLOODED_LEARNED("flooded, canal learned", Fill.FLOODED),
  /** Flooded; the controller has learned another canal. */
  OTHER_LEARNED("flooded, another canal learned", Fill.FLOODED);

  final String words;
  final Fill fill;

  CanalCondition(String words, Fill fill) {
    this.words = words;
    this.fill = fill;
  }

  /** Whether the controller has learned a canal in an earlier visit. */
  boolean learned() {
    return compareTo(BRIMFUL_LEARNED) >= 0;
  }

  /** The word for it on the command line. */
  @Override
  public String toString() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
