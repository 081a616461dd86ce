package org.stopwell.harness.assess;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.LinkedHashMap;
import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * The same canal, file and front end in a second visit, for the shaping stage: filled again, with a
 * slightly different fluid.
 */
final class SecondVisit {
  /** Greatest change of the conductivity either way: residues, temperature; assumed. */
  private static final double FLUID_CHANGE = 0.3;

  private SecondVisit() {}

  /**
   * A second visit.
   *
   * @param population the population
   * @param index which member
   * @param fill how full the canal is this time
   * @param first the values that the first visit replaced, by key, by section
   * @param random source of the change
   * @return the scene
   * @throws SettingsException never with this population
   */
  static Scene of(
      Population population,
      long index,
      Fill fill,
      Map<String, Map<String, String>> first,
      RandomStream random)
      throws SettingsException {
    double conductivity =
        FluidSection.siemensPerMetreAt25(population.member(index, fill, first).section("fluid"))
            * random.nextBetween(1 - FLUID_CHANGE, 1 + FLUID_CHANGE);
    Map<String, Map<String, String>> changed = new LinkedHashMap<>(first);
    changed.put(
        "fluid",
        Map.of(
            FluidSection.CONDUCTIVITY.key(),
            BigDecimal.valueOf(conductivity).setScale(4, RoundingMode.HALF_EVEN).toPlainString()));
    return population.member(index, fill, changed);
  }
}
