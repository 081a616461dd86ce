package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.util.List;
import java.util.Locale;
import java.util.SortedMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;

/**
 * The values of a plan one by one, to compare two plans whatever their layout: every key with its
 * value, numbers without redundant zeros, without comments and key order. The order of factors and
 * levels stays, because the order of the trials depends on it.
 */
public final class Canonical {
  private final SortedMap<String, String> items = new TreeMap<>();

  private Canonical() {}

  /**
   * The values of a plan with its settings and its station.
   *
   * @param plan the plan, with the seed and the number of trials it is run with
   * @param station the station, or null
   * @return values by full key
   */
  public static SortedMap<String, String> of(Plan plan, @Nullable Station station) {
    Canonical canonical = new Canonical();
    canonical.file("plan", plan.source());
    // The settings count by what they say, not by where they lie.
    canonical.items.remove("plan.settings");
    canonical.items.put("plan.seed", Long.toString(plan.head().seed()));
    canonical.items.put("plan.trials", Integer.toString(plan.head().trials()));
    canonical.items.put(
        "plan.conditions",
        String.join(" ", plan.plannedConditions().stream().map(PlannedCondition::name).toList()));
    canonical.file("settings", plan.settings().source());
    plan.settingsFiles()
        .forEach((name, file) -> canonical.file("settings file " + name, file.source()));
    for (WeightsSource weights : WeightsSource.of(plan)) {
      canonical.items.put("weights." + weights.name(), weights.weights().fingerprintText());
    }
    if (station != null) {
      canonical.file("station", station.source());
    }
    return canonical.items;
  }

  /**
   * The values of a plan of stops that are measured elsewhere.
   *
   * @param plan the plan
   * @return values by full key
   */
  public static SortedMap<String, String> of(StopPlan plan) {
    Canonical canonical = new Canonical();
    canonical.file("plan", plan.source());
    return canonical.items;
  }

  private void file(String name, Source source) {
    // The file was read and checked before: nothing is wrong with it.
    add(name, source.top(new Mistakes(source.name())));
  }

  private void add(String key, Yaml value) {
    if (value instanceof Yaml.Mapping mapping) {
      mapping.entries().forEach((k, entry) -> add(Sections.join(key, k), entry.value()));
    } else if (value instanceof Yaml.Items list) {
      List<Yaml> all = list.items();
      for (int i = 0; i < all.size(); i++) {
        add(key + "[" + (i + 1) + "]", all.get(i));
      }
    } else if (value instanceof Yaml.Scalar scalar) {
      items.put(key, text(scalar));
    }
  }

  private static String text(Yaml.Scalar scalar) {
    return switch (scalar.sort()) {
      case NUMBER -> number(scalar.text());
      case FLAG -> scalar.text().toLowerCase(Locale.ROOT);
      case TEXT -> scalar.text().strip();
      case NOTHING -> "";
    };
  }

  private static String number(String text) {
    try {
      BigDecimal value = new BigDecimal(text);
      return value.signum() == 0 ? "0" : value.stripTrailingZeros().toPlainString();
    } catch (NumberFormatException e) {
      return text;
    }
  }
}
