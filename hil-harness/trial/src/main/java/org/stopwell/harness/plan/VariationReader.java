package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.Scene;

/** Reads what a plan draws anew for every trial. */
final class VariationReader {
  private final Mistakes mistakes;
  private final List<Variation> variations = new ArrayList<>();

  private VariationReader(Mistakes mistakes) {
    this.mistakes = mistakes;
  }

  static List<Variation> read(Yaml.Mapping vary, Mistakes mistakes) {
    VariationReader reader = new VariationReader(mistakes);
    Map<String, ParameterTable> tables = Scene.tables();
    vary.entries()
        .forEach(
            (section, entry) -> {
              String path = "vary." + section;
              ParameterTable table = tables.get(section);
              if (table == null) {
                mistakes.add(entry.line(), path, "unknown key" + Hint.of(section, tables.keySet()));
              } else if (entry.value() instanceof Yaml.Mapping keys) {
                reader.section(section, path, table, keys);
              } else {
                mistakes.add(entry.line(), path, entry.value().notA("a group of keys"));
              }
            });
    return reader.variations;
  }

  private void section(String section, String path, ParameterTable table, Yaml.Mapping keys) {
    Set<String> known = new TreeSet<>();
    table.parameters().forEach(p -> known.add(p.key()));
    keys.entries()
        .forEach(
            (key, entry) -> {
              String full = path + "." + key;
              if (!known.contains(key)) {
                mistakes.add(entry.line(), full, "unknown key" + Hint.of(key, known));
              }
              table.parameters().stream()
                  .filter(p -> p.key().equals(key))
                  .forEach(p -> value(section, full, p, entry));
            });
  }

  private void value(String section, String path, Parameter p, Yaml.Entry entry) {
    if (p.kind() != Parameter.Kind.NUMBER) {
      mistakes.add(entry.line(), path, "is not a number; make it a factor to vary it");
      return;
    }
    if (!(entry.value() instanceof Yaml.Mapping spread)) {
      mistakes.add(entry.line(), path, "write {from: …, to: …} or {mean: …, sd: …}");
      return;
    }
    boolean bell = spread.entries().containsKey("mean") || spread.entries().containsKey("sd");
    ParameterTable table = PlanTables.variation(p, bell);
    ParameterValues v = Sections.resolve(spread, path, table, Set.of(), mistakes);
    long a = v.get(table.parameters().get(0));
    long b = v.get(table.parameters().get(1));
    long low = bell ? a - Variation.CUT * b : a;
    long high = bell ? a + Variation.CUT * b : b;
    if (low > high) {
      mistakes.add(entry.line(), path, "from " + p.human(low) + " is above to " + p.human(high));
    }
    if (bell && !(low >= p.min() && high <= p.max())) {
      mistakes.add(
          entry.line(),
          path,
          "mean ± "
              + Variation.CUT
              + " sd is "
              + p.human(low)
              + " to "
              + p.human(high)
              + ", outside "
              + p.human(p.min())
              + " to "
              + p.human(p.max())
              + (p.unit().isEmpty() ? "" : " " + p.unit()));
    }
    variations.add(
        new Variation(
            section,
            p,
            bell ? Variation.Shape.BELL : Variation.Shape.EVEN,
            low,
            high,
            a,
            b,
            entry.line()));
  }
}
