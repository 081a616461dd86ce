package org.stopwell.harness.plan;

import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.stats.Cholesky;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.Outcome;

/** Reads a space and finds all mistakes in it, in its plan and in its settings at once. */
final class SpaceReader {
  /** Most points of a list. */
  private static final int MOST_POINTS = 10_000;

  /**
   * A matrix with an eigenvalue this far below 0 counts as positive semidefinite: correlations have
   * three decimals.
   */
  private static final double ROUNDING = 1e-9;

  private final Source source;
  private final Policies policies;
  private final @Nullable Plan given;
  private final Mistakes mistakes;

  /** A reader; with a plan that was read before, no file is read. */
  SpaceReader(Source source, Policies policies, @Nullable Plan given) {
    this.source = source;
    this.given = given;
    this.policies = policies;
    this.mistakes = new Mistakes(source.name());
  }

  Space read() throws PlanException {
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    ParameterValues head =
        Sections.resolve(top, "", SpaceTables.HEAD, SpaceTables.OTHERS, mistakes);
    String name = FreeText.name(top, "name", mistakes);
    String purpose = FreeText.optional(top, "purpose", mistakes);
    Space.Design design = Space.Design.values()[(int) head.get(SpaceTables.DESIGN)];
    Outcome outcome = Outcome.values()[(int) head.get(SpaceTables.OUTCOME)];
    Plan plan = plan(top);
    Optional<PlannedCondition> condition = plan == null ? Optional.empty() : condition(top, plan);
    if (plan == null || condition.isEmpty()) {
      throw mistakes.asException();
    }
    estimable(top, outcome, condition.get());
    List<Factor> factors =
        new FactorReader(mistakes)
            .factors(Groups.of(top, SpaceTables.FACTORS, mistakes), plan, condition.get());
    int repeats = head.getInt(SpaceTables.REPEATS);
    List<List<Double>> correlations = correlations(top, factors, design, repeats);
    List<List<Long>> points = points(top, factors, design);
    repeats(top, repeats, design, factors);
    Optional<TuneTarget> target = new TuneTargetReader(mistakes).read(top, plan, condition.get());
    if (mistakes.isEmpty()) {
      ends(plan, condition.get(), factors);
    }
    mistakes.throwIfAny();
    return new Space(
        source,
        plan,
        condition.get(),
        new Space.Head(
            name,
            purpose,
            outcome,
            design,
            head.get(SpaceTables.SEED),
            head.get(SpaceTables.TRIALS),
            repeats,
            head.getInt(SpaceTables.LEVELS)),
        factors,
        correlations,
        points,
        target);
  }

  private @Nullable Plan plan(Yaml.Mapping top) {
    String named = FreeText.required(top, SpaceTables.PLAN, mistakes);
    if (named.isEmpty()) {
      return null;
    }
    int line = Groups.line(top, SpaceTables.PLAN);
    if (given != null) {
      return given;
    }
    try {
      Plan plan = Plan.read(Source.of(Path.of(source.name()).resolveSibling(named)), policies);
      if (!plan.teeth().isEmpty()) {
        mistakes.add(line, SpaceTables.PLAN, named + " has extracted teeth; a space needs models");
      }
      if (plan.isExternal()) {
        mistakes.add(
            line, SpaceTables.PLAN, named + " tests a device; a space needs controller: own");
      }
      return plan;
    } catch (InvalidPathException e) {
      mistakes.add(line, SpaceTables.PLAN, "\"" + named + "\" is not a file name");
    } catch (PlanException e) {
      for (Mistake mistake : e.mistakes()) {
        if (mistake.line() > 0) {
          mistakes.addAll(List.of(mistake));
        } else {
          mistakes.add(line, SpaceTables.PLAN, named + ": " + mistake.message());
        }
      }
    }
    return null;
  }

  private Optional<PlannedCondition> condition(Yaml.Mapping top, Plan plan) {
    List<PlannedCondition> all = plan.plannedConditions();
    List<String> names = all.stream().map(PlannedCondition::name).toList();
    String wanted = FreeText.optional(top, SpaceTables.CONDITION, mistakes);
    if (wanted.isEmpty() && all.size() == 1) {
      return Optional.of(all.get(0));
    }
    Optional<PlannedCondition> found =
        all.stream().filter(c -> c.name().equals(wanted)).findFirst();
    if (found.isEmpty()) {
      mistakes.add(
          Groups.line(top, SpaceTables.CONDITION),
          SpaceTables.CONDITION,
          (wanted.isEmpty() ? "missing" : wanted + " is not a condition of the plan")
              + "; give one of "
              + String.join(", ", names));
    }
    return found;
  }

  /** Outcomes that the plan rules out before anything runs. */
  private void estimable(Yaml.Mapping top, Outcome outcome, PlannedCondition condition) {
    boolean neverStops =
        condition.expectation() == Expectation.SURVEY
            || condition.expectation() == Expectation.DEPTH_LIMIT;
    boolean ofStops = outcome == Outcome.STOP_ERROR || outcome == Outcome.EARLY_STOP;
    if (neverStops && ofStops) {
      mistakes.add(
          Groups.line(top, SpaceTables.OUTCOME.key()),
          SpaceTables.OUTCOME.key(),
          Outcome.keys().get(outcome.ordinal())
              + " cannot be estimated: no trial of condition "
              + condition.name()
              + " ("
              + condition.expectation().text()
              + ") stops at the standoff");
    }
  }

  private List<List<Double>> correlations(
      Yaml.Mapping top, List<Factor> factors, Space.Design design, int repeats) {
    Yaml.Entry entry = top.entries().get(SpaceTables.CORRELATIONS);
    if (entry == null) {
      return List.of();
    }
    String key = SpaceTables.CORRELATIONS;
    if (design != Space.Design.LATIN_HYPERCUBE && design != Space.Design.RANDOM) {
      mistakes.add(
          entry.line(),
          key,
          "design "
              + design.key()
              + " needs independent factors; use latin-hypercube or random, or remove this key");
    }
    int n = factors.size();
    double[][] matrix = new double[n][n];
    for (int i = 0; i < n; i++) {
      matrix[i][i] = 1;
    }
    List<Yaml> items = entry.value() instanceof Yaml.Items list ? list.items() : List.of();
    if (items.isEmpty()) {
      mistakes.add(entry.line(), key, "write a list of {of: [factor, factor], is: 0.3}");
    }
    Set<String> pairs = new LinkedHashSet<>();
    int unknown = 0;
    for (Yaml item : items) {
      if (!(item instanceof Yaml.Mapping pair)) {
        mistakes.add(item.line(), key, item.notA("a group of keys"));
        unknown++;
        continue;
      }
      ParameterValues v =
          Sections.resolve(
              pair,
              key,
              new ParameterTable(List.of(SpaceTables.IS)),
              Set.of(SpaceTables.OF),
              mistakes);
      List<Integer> of = pair(pair, factors);
      if (of.size() != 2) {
        unknown++;
        continue;
      }
      if (repeats > 1
          && factors.get(of.get(0)).isOfSettings() != factors.get(of.get(1)).isOfSettings()) {
        mistakes.add(
            pair.line(),
            key + "." + SpaceTables.OF,
            "joins a setting with another factor; with repeats all settings meet the same draws of"
                + " the other factors: remove this pair, or repeats");
        unknown++;
        continue;
      }
      if (!pairs.add(Math.min(of.get(0), of.get(1)) + " " + Math.max(of.get(0), of.get(1)))) {
        mistakes.add(pair.line(), key, "this pair is stated twice");
      }
      double r = v.get(SpaceTables.IS) / 1000.0;
      matrix[of.get(0)][of.get(1)] = r;
      matrix[of.get(1)][of.get(0)] = r;
    }
    if (unknown == 0 && !isPossible(matrix)) {
      mistakes.add(
          entry.line(),
          key,
          "no factors can have these correlations together: the matrix is not positive semidefinite;"
              + " bring them nearer to 0");
    }
    List<List<Double>> rows = new ArrayList<>();
    for (double[] row : matrix) {
      rows.add(java.util.Arrays.stream(row).boxed().toList());
    }
    return rows;
  }

  private List<Integer> pair(Yaml.Mapping at, List<Factor> factors) {
    Yaml.Entry entry = at.entries().get(SpaceTables.OF);
    List<String> keys = factors.stream().map(Factor::key).toList();
    Set<String> written =
        Groups.of(source.top(new Mistakes("")), SpaceTables.FACTORS, new Mistakes(""))
            .entries()
            .keySet();
    List<Integer> of = new ArrayList<>();
    if (entry != null && entry.value() instanceof Yaml.Items items) {
      for (Yaml item : items.items()) {
        int place = keys.indexOf(item.word());
        if (place < 0 && written.contains(item.word())) {
          return List.of(); // what is wrong with the factor itself was said
        }
        if (place < 0) {
          mistakes.add(
              item.line(),
              SpaceTables.CORRELATIONS + ".of",
              item.word() + " is not a factor of this space" + Hint.of(item.word(), keys));
        } else if (!of.contains(place)) {
          of.add(place);
        }
      }
      if (of.size() == 2 || of.size() < items.items().size()) {
        return of;
      }
    }
    mistakes.add(at.line(), SpaceTables.CORRELATIONS + ".of", "needs two different factors");
    return List.of();
  }

  private static boolean isPossible(double[][] matrix) {
    double[][] a = new double[matrix.length][];
    for (int i = 0; i < matrix.length; i++) {
      a[i] = matrix[i].clone();
      a[i][i] += ROUNDING;
    }
    return !Double.isNaN(Cholesky.factor(a));
  }

  private List<List<Long>> points(Yaml.Mapping top, List<Factor> factors, Space.Design design) {
    Yaml.Entry entry = top.entries().get(SpaceTables.POINTS);
    boolean wanted = design == Space.Design.LIST;
    List<Yaml> items =
        entry != null && entry.value() instanceof Yaml.Items list ? list.items() : List.of();
    if (wanted && (items.isEmpty() || items.size() > MOST_POINTS)) {
      mistakes.add(
          Groups.line(top, SpaceTables.POINTS),
          SpaceTables.POINTS,
          "design list needs 1 to " + MOST_POINTS + " points, each with a value of every factor");
    } else if (!wanted && entry != null) {
      mistakes.add(entry.line(), SpaceTables.POINTS, "goes with design list");
      return List.of();
    }
    List<List<Long>> points = new ArrayList<>();
    for (Yaml item : items) {
      if (!(item instanceof Yaml.Mapping at)) {
        mistakes.add(item.line(), SpaceTables.POINTS, item.notA("a group of keys"));
        continue;
      }
      at.entries()
          .forEach(
              (key, value) -> {
                if (factors.stream().noneMatch(f -> f.key().equals(key))) {
                  mistakes.add(
                      value.line(),
                      SpaceTables.POINTS + "." + key,
                      "is not a factor of this space");
                }
              });
      List<Long> point = new ArrayList<>();
      for (Factor factor : factors) {
        value(at, factor).ifPresent(point::add);
      }
      points.add(point);
    }
    return points;
  }

  private Optional<Long> value(Yaml.Mapping at, Factor factor) {
    String path = SpaceTables.POINTS + "." + factor.key();
    Yaml.Entry entry = at.entries().get(factor.key());
    if (entry == null) {
      mistakes.add(at.line(), path, "missing");
      return Optional.empty();
    }
    String text = Sections.text(factor.parameter(), entry.value());
    if (factor.shape() == Factor.Shape.CHOICE) {
      int place = factor.choices().indexOf(text);
      if (place < 0) {
        mistakes.add(
            entry.line(), path, text + " is none of " + String.join(", ", factor.choices()));
      }
      return Optional.of((long) place);
    }
    List<Fault> faults = new ArrayList<>();
    Map<String, String> written = new LinkedHashMap<>();
    written.put(factor.parameter().key(), text);
    ParameterTable table = new ParameterTable(List.of(factor.parameter()));
    long value = table.resolve(written, faults).get(factor.parameter());
    if (faults.isEmpty() && !(value >= factor.low() && value <= factor.high())) {
      mistakes.add(entry.line(), path, text + " is outside of the factor, " + factor.spread());
    }
    faults.forEach(fault -> mistakes.add(entry.line(), path, Sections.bare(fault)));
    return Optional.of(value);
  }

  private void repeats(Yaml.Mapping top, int repeats, Space.Design design, List<Factor> factors) {
    if (repeats == 1) {
      return;
    }
    int line = Groups.line(top, SpaceTables.REPEATS.key());
    String key = SpaceTables.REPEATS.key();
    if (design == Space.Design.SOBOL || design == Space.Design.MORRIS) {
      mistakes.add(
          line,
          key,
          "does not go with design " + design.key() + ", which needs one trial at a point");
    } else if (factors.stream().noneMatch(Factor::isOfSettings)) {
      mistakes.add(
          line, key, "needs a factor of the settings; only these are placed by the design");
    }
    if (design == Space.Design.LIST && !factors.stream().allMatch(Factor::isOfSettings)) {
      mistakes.add(line, key, "a list with repeats can only name settings");
    }
  }

  /** Runs the plan's own checks at the middle, and at either end of each factor alone. */
  private void ends(Plan plan, PlannedCondition condition, List<Factor> factors) {
    PlanPoint points = new PlanPoint(plan, condition, factors, source.name());
    Map<String, String> middle = new LinkedHashMap<>();
    factors.forEach(f -> middle.put(f.key(), f.text(f.at(0.5))));
    if (!isFit(points, middle, factors, "")) {
      return;
    }
    for (Factor factor : factors) {
      for (long end : List.of(factor.low(), factor.high())) {
        Map<String, String> values = new LinkedHashMap<>(middle);
        values.put(factor.key(), factor.text(end));
        isFit(points, values, factors, factor.key());
      }
    }
  }

  private boolean isFit(
      PlanPoint points, Map<String, String> values, List<Factor> factors, String moved) {
    try {
      points.read(values, 0);
      return true;
    } catch (PlanException e) {
      for (Mistake mistake : e.mistakes()) {
        Optional<Factor> named =
            factors.stream()
                .filter(f -> moved.isEmpty() ? f.line() == mistake.line() : f.key().equals(moved))
                .findFirst();
        String at =
            named
                .map(f -> f.key() + " " + values.get(f.key()) + unit(f.parameter()))
                .orElse("the middle of every factor");
        mistakes.add(
            named.map(Factor::line).orElse(0),
            named.map(f -> SpaceTables.FACTORS + "." + f.key()).orElse(SpaceTables.FACTORS),
            "with "
                + at
                + ", "
                + mistake.key().replace("factors.point.here.", "")
                + ": "
                + mistake.message());
      }
      return false;
    }
  }

  private static String unit(Parameter p) {
    return p.unit().isEmpty() ? "" : " " + p.unit();
  }
}
