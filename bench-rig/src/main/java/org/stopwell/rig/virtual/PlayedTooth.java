package org.stopwell.rig.virtual;

import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.ToothSection;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * A tooth of the field model in place of an extracted one, so that a plan on extracted teeth can be
 * rehearsed. Its canal is drawn from the population by the number of the tooth, so a tooth has the
 * same canal in every trial, every fluid and every plan. Its length is the measured one.
 */
final class PlayedTooth {
  /** Seed of the played teeth: any number. */
  private static final long SEED = 0x7EE7_0001L;

  /** So many canals are drawn until one fits the length; assumed. */
  private static final int TRIES = 100;

  /** Distance to the next canal that is tried: above every number of a tooth. */
  private static final long APART = 1L << 40;

  private PlayedTooth() {}

  /** The scene that is played; the same one where it is of no extracted tooth. */
  static Scene of(Scene scene) {
    int number = ToothSection.number(scene);
    if (number == 0) {
      return scene;
    }
    Map<String, String> stated =
        Map.of(
            CanalSection.KIND.key(),
            "field",
            CanalSection.LENGTH.key(),
            CanalSection.LENGTH.human(scene.section("canal").get(CanalSection.LENGTH)));
    Population teeth = new Population(SEED);
    for (int i = 0; i < TRIES; i++) {
      try {
        return scene.taking(
            "canal", teeth.member(number + i * APART, Fill.HALF_WET, Map.of("canal", stated)));
      } catch (SettingsException e) {
        // This canal does not fit the length: the next one.
      }
    }
    throw new IllegalStateException("no canal fits a length of " + stated);
  }

  /** Seed of the anatomy that no scene states: of the tooth where there is one. */
  static long anatomySeed(Scene scene) {
    int number = ToothSection.number(scene);
    return number == 0 ? scene.seed() : RandomStream.trialSeed(SEED, number);
  }
}
