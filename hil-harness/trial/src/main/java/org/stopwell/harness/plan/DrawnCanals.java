package org.stopwell.harness.plan;

import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;
import org.stopwell.rig.random.Tapes;

/**
 * The canals that a plan draws from the population of the virtual bench. A canal is a function of
 * campaign seed and number alone, and none of them is a canal of the training or of a calibration.
 */
final class DrawnCanals {
  /** So many canals are drawn until one fits what the plan states; assumed. */
  private static final int TRIES = 100;

  /** Distance to the next canal that is tried: above the number of canals of any plan. */
  private static final long APART = 1L << 40;

  private final Population population;

  DrawnCanals(long campaignSeed) {
    population = new Population(RandomStream.of(campaignSeed, "canals of a plan").nextLong());
  }

  /**
   * A trial in a canal. A canal that contradicts what the plan states is drawn again.
   *
   * @param canal number of the canal, from 0
   * @param fill fluid before the file goes in
   * @param stated what the plan states, by section and key
   * @param seed seed of noise and tremor
   * @param tapes tapes in place of streams
   * @throws SettingsException when no canal fits
   */
  Scene scene(
      long canal, Fill fill, Map<String, Map<String, String>> stated, long seed, Tapes tapes)
      throws SettingsException {
    int tries = 0;
    while (true) {
      try {
        return population.member(canal + tries * APART, fill, stated, tapes).seeded(seed, tapes);
      } catch (SettingsException e) {
        tries++;
        if (tries == TRIES) {
          throw e;
        }
      }
    }
  }
}
