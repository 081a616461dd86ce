package org.stopwell.harness.assess;

import java.util.Locale;
import org.stopwell.rig.population.Population.Fill;

/** The condition of the canal that a file is put into. */
enum CanalCondition {
  HALF_WET("half-wet", Fill.HALF_WET, false, false),
  BRIMFUL("brimful", Fill.BRIMFUL, false, false),
  FLOODED("flooded", Fill.FLOODED, false, false),
  BRIMFUL_LEARNED("brimful, canal learned", Fill.BRIMFUL, true, false),
  FLOODED_LEARNED("flooded, canal learned", Fill.FLOODED, true, false),
  OTHER_LEARNED("flooded, another canal learned", Fill.FLOODED, true, true);

  final String words;
  final Fill fill;

  /** Whether the controller has learned a canal in an earlier visit. */
  final boolean learned;

  /** Whether it has learned a canal other than the one it works on. */
  final boolean another;

  CanalCondition(String words, Fill fill, boolean learned, boolean another) {
    this.words = words;
    this.fill = fill;
    this.learned = learned;
    this.another = another;
  }

  /** The word for it on the command line. */
  String key() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
