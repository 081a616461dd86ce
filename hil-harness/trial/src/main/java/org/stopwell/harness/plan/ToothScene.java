package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.util.LinkedHashMap;
import java.util.Map;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.ToothSection;
import org.stopwell.rig.population.Population;

/** The scene of a trial in an extracted tooth. */
final class ToothScene {
  /** A survey ends so far past the foramen, µm; assumed: what learn wants, and a little. */
  static final int BEYOND_MICRONS = 600;

  /** A file that stops is carried so near to the foramen before the motor turns, µm; assumed. */
  private static final int APICAL_MICRONS = 3_000;

  /** Where between its least and its greatest level a fluid stands; assumed: in the middle. */
  private static final double MIDDLE = 0.5;

  private ToothScene() {}

  /**
   * A trial.
   *
   * @param tooth its tooth
   * @param condition its condition
   * @param written what the plan states, by section and key
   * @param seed seed of everything random in the trial
   * @throws SettingsException when the tooth cannot have what is stated
   */
  static Scene of(
      ExtractedTooth tooth,
      PlannedCondition condition,
      Map<String, Map<String, String>> written,
      long seed)
      throws SettingsException {
    Map<String, String> canal = section(written, "canal");
    canal.put(CanalSection.KIND.key(), "tooth");
    canal.put(CanalSection.LENGTH.key(), CanalSection.LENGTH.human(tooth.lengthMicrons()));
    section(written, "tooth")
        .put(ToothSection.NUMBER.key(), ToothSection.NUMBER.human(tooth.number()));
    Map<String, String> fluid = section(written, "fluid");
    fluid.putIfAbsent(
        FluidSection.TEMPERATURE.key(), FluidSection.TEMPERATURE.human(tooth.temperatureTenths()));
    condition
        .fill()
        .ifPresent(fill -> fluid.putIfAbsent(FluidSection.LEVEL.key(), level(fill, tooth, fluid)));
    boolean survey = condition.expectation() == Expectation.SURVEY;
    int passive = tooth.lengthMicrons() + (survey ? BEYOND_MICRONS : -APICAL_MICRONS);
    section(written, "hand")
        .putIfAbsent(HandSection.PASSIVE_DEPTH.key(), HandSection.PASSIVE_DEPTH.human(passive));
    return Scene.of(written, seed);
  }

  private static String level(
      Population.Fill fill, ExtractedTooth tooth, Map<String, String> fluid) {
    String depth = FluidSection.CHAMBER_DEPTH.key();
    double chamber =
        new BigDecimal(
                fluid.getOrDefault(
                    depth,
                    FluidSection.CHAMBER_DEPTH.human(FluidSection.CHAMBER_DEPTH.defaultValue())))
            .doubleValue();
    double mm = Population.level(fill, tooth.lengthMicrons() / 1e3, chamber, MIDDLE);
    return FluidSection.LEVEL.human(Math.round(mm * 1e3));
  }

  private static Map<String, String> section(
      Map<String, Map<String, String>> written, String section) {
    return written.computeIfAbsent(section, s -> new LinkedHashMap<>());
  }
}
