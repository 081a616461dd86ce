package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;

/** Reads the factors of a space: what varies, and how it is spread. */
final class FactorReader {
  /** Most factors; assumed: with more, screen them in groups. */
  private static final int MOST_FACTORS = 100;

  private final Mistakes mistakes;

  FactorReader(Mistakes mistakes) {
    this.mistakes = mistakes;
  }

  /** The factors; every mistake is added to the others. */
  List<Factor> factors(Yaml.Mapping at, Plan plan, PlannedCondition condition) {
    List<Factor> factors = new ArrayList<>();
    Map<String, Parameter> keys = PlanPoint.keys(plan, condition);
    if (at.entries().isEmpty()) {
      mistakes.add(at.line(), SpaceTables.FACTORS, "missing; state at least one factor");
    }
    if (at.entries().size() > MOST_FACTORS) {
      mistakes.add(
          at.line(),
          SpaceTables.FACTORS,
          at.entries().size() + " factors, at most " + MOST_FACTORS + " are allowed");
    }
    at.entries()
        .forEach(
            (key, entry) -> {
              String path = SpaceTables.FACTORS + "." + key;
              Parameter parameter = keys.get(key);
              if (parameter == null) {
                mistakes.add(
                    entry.line(),
                    path,
                    "unknown key"
                        + Hint.of(key, keys.keySet())
                        + (key.contains(".")
                            ? ""
                            : "; write scene.SECTION.KEY, settings.SECTION.KEY or faults.N.KEY"));
              } else if (entry.value() instanceof Yaml.Mapping spread) {
                factor(key, path, parameter, spread, entry.line()).ifPresent(factors::add);
              } else {
                mistakes.add(
                    entry.line(),
                    path,
                    "write {from: …, to: …}, {from: …, to: …, log: true}, {mean: …, sd: …} or"
                        + " {choice: […]}");
              }
            });
    return factors;
  }

  private Optional<Factor> factor(
      String key, String path, Parameter parameter, Yaml.Mapping spread, int line) {
    int before = mistakes.all().size();
    Factor factor;
    if (spread.entries().containsKey(SpaceTables.CHOICE)) {
      factor = choice(key, path, parameter, spread, line);
    } else if (parameter.kind() != Parameter.Kind.NUMBER) {
      mistakes.add(line, path, "is not a number; write {choice: […]}");
      return Optional.empty();
    } else {
      factor = range(key, path, parameter, spread, line);
    }
    return mistakes.all().size() > before ? Optional.empty() : Optional.of(factor);
  }

  private Factor range(String key, String path, Parameter p, Yaml.Mapping spread, int line) {
    boolean bell =
        spread.entries().containsKey(SpaceTables.MEAN)
            || spread.entries().containsKey(SpaceTables.SD);
    ParameterTable table = PlanTables.variation(p, bell);
    ParameterValues v =
        Sections.resolve(spread, path, table, bell ? Set.of() : Set.of(SpaceTables.LOG), mistakes);
    long a = v.get(table.parameters().get(0));
    long b = v.get(table.parameters().get(1));
    long low = bell ? a - Factor.CUT * b : a;
    long high = bell ? a + Factor.CUT * b : b;
    boolean log = false;
    Yaml.Entry flag = spread.entries().get(SpaceTables.LOG);
    if (!bell && flag != null) {
      log = flag.value() instanceof Yaml.Scalar s && s.text().equals("true");
      if (!(flag.value() instanceof Yaml.Scalar s && s.sort() == Yaml.Sort.FLAG)) {
        mistakes.add(
            flag.line(), path + ".log", flag.value().word() + " is neither true nor false");
      }
    }
    String unit = p.unit().isEmpty() ? "" : " " + p.unit();
    if (!(low < high)) {
      mistakes.add(
          line,
          path,
          "the range is empty: from "
              + p.human(low)
              + " to "
              + p.human(high)
              + unit
              + "; to must be above from");
    } else if (bell && !(low >= p.min() && high <= p.max())) {
      mistakes.add(
          line,
          path,
          "mean ± "
              + Factor.CUT
              + " sd is "
              + p.human(low)
              + " to "
              + p.human(high)
              + ", outside "
              + p.human(p.min())
              + " to "
              + p.human(p.max())
              + unit);
    } else if (log && !(low > 0)) {
      mistakes.add(line, path, "log needs a range above 0; from is " + p.human(low) + unit);
    }
    return new Factor(
        key,
        p,
        bell ? Factor.Shape.BELL : log ? Factor.Shape.LOG : Factor.Shape.EVEN,
        low,
        high,
        List.of(),
        line);
  }

  private Factor choice(String key, String path, Parameter p, Yaml.Mapping spread, int line) {
    List<String> choices = new ArrayList<>();
    spread.entries().keySet().stream()
        .filter(other -> !other.equals(SpaceTables.CHOICE))
        .forEach(other -> mistakes.add(line, path + "." + other, "cannot stand beside choice"));
    Yaml.Entry entry = spread.entries().get(SpaceTables.CHOICE);
    if (entry != null && entry.value() instanceof Yaml.Items items) {
      ParameterTable one = new ParameterTable(List.of(p));
      for (Yaml item : items.items()) {
        List<Fault> faults = new ArrayList<>();
        String text = Sections.text(p, item);
        one.resolve(Map.of(p.key(), text), faults);
        faults.forEach(fault -> mistakes.add(line, path, Sections.bare(fault)));
        choices.add(text);
      }
    }
    if (new LinkedHashSet<>(choices).size() < Math.max(2, choices.size())) {
      mistakes.add(line, path, "choice needs a list of two or more different values");
    }
    return new Factor(
        key, p, Factor.Shape.CHOICE, 0, Math.max(1, choices.size() - 1), choices, line);
  }
}
