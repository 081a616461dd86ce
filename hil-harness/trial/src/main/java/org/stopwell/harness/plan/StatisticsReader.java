package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.stats.StatisticsChoice;

/** Reads which statistics a plan asks for. */
public final class StatisticsReader {
  static final String GROUPS = "groups";

  private StatisticsReader() {}

  /**
   * The statistics that a plan asks for. The rest of the plan is not read, so that a plan of
   * another version still has its choice.
   *
   * @param plan the plan
   * @return what it asks for
   * @throws PlanException when this version cannot read the choice, with every mistake in it
   */
  public static StatisticsChoice read(Source plan) throws PlanException {
    Mistakes mistakes = new Mistakes(plan.name());
    Yaml.Mapping top = plan.top(mistakes);
    Yaml.Entry analysis = top.entries().get("analysis");
    Yaml.Entry factors = top.entries().get("factors");
    StatisticsChoice read =
        read(
            analysis != null && analysis.value() instanceof Yaml.Mapping m
                ? m
                : Yaml.Mapping.empty(0),
            factors != null && factors.value() instanceof Yaml.Mapping f
                ? List.copyOf(f.entries().keySet())
                : List.of(),
            mistakes);
    mistakes.throwIfAny();
    return read;
  }

  static StatisticsChoice read(Yaml.Mapping at, List<String> factors, Mistakes mistakes) {
    ParameterValues v =
        Sections.resolve(at, "analysis", PlanTables.ANALYSIS, Set.of(GROUPS), mistakes);
    List<String> groups = groups(at, factors, mistakes);
    if (!mistakes.isEmpty()) {
      return StatisticsChoice.DEFAULT;
    }
    return new StatisticsChoice(
        v.flag(PlanTables.COVERAGE),
        v.flag(PlanTables.PRECISION),
        v.flag(PlanTables.AGREEMENT),
        v.flag(PlanTables.SEQUENTIAL),
        v.getInt(PlanTables.EQUIVALENCE),
        v.get(PlanTables.PART) / 1e6,
        v.get(PlanTables.CONFIDENCE) / 1e6,
        factors,
        groups);
  }

  private static List<String> groups(Yaml.Mapping at, List<String> factors, Mistakes mistakes) {
    Yaml.Entry entry = at.entries().get(GROUPS);
    List<String> groups = new ArrayList<>();
    if (entry == null) {
      return groups;
    }
    if (!(entry.value() instanceof Yaml.Items items)) {
      mistakes.add(entry.line(), "analysis." + GROUPS, entry.value().notA("a list of factors"));
      return groups;
    }
    for (Yaml item : items.items()) {
      String word = item.word();
      if (!factors.contains(word)) {
        mistakes.add(
            item.line(),
            "analysis." + GROUPS,
            word + " is not a factor of this plan" + Hint.of(word, Set.copyOf(factors)));
      } else if (groups.contains(word)) {
        mistakes.add(item.line(), "analysis." + GROUPS, word + " is given twice");
      } else {
        groups.add(word);
      }
    }
    return groups;
  }
}
