package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.fault.Injection;

/**
 * Plans of one condition and one trial, made from a plan by replacing values. What the trial draws
 * beside them, canal and noise, depends on the seed alone. The same trial can be written as a plan
 * that {@code run} runs.
 */
public final class PlanPoint {
  /** Top-level keys that a plan of one trial keeps. */
  private static final Set<String> KEPT =
      Set.of(
          "plan",
          PlanReader.SETTINGS,
          "stage",
          "tolerance_mm",
          "expect",
          "time_limit_s",
          "draw",
          "scene",
          FaultReader.KEY);

  private static final String SCENE = "scene.";
  private static final String SETTINGS = "settings.";
  private static final String VARY = "vary";
  private static final String FAULTS = "faults.";

  /** Plans with other settings, faults or fill that are kept; assumed: some megabytes. */
  private static final int MOST_KEPT = 200;

  private final Plan plan;
  private final PlannedCondition condition;
  private final List<Factor> factors;
  private final String file;
  private final Map<Map<String, String>, Plan> known;

  /**
   * A trial and the settings of its controller.
   *
   * @param spec what to do
   * @param controller the settings
   */
  public record Point(TrialSpec spec, ControllerSettings controller) {}

  /**
   * The points of a space.
   *
   * @param space the space
   */
  public PlanPoint(Space space) {
    this(space.plan(), space.condition(), space.factors(), space.source().name());
  }

  PlanPoint(Plan plan, PlannedCondition condition, List<Factor> factors, String file) {
    this(plan, condition, factors, file, new Known());
  }

  private PlanPoint(
      Plan plan,
      PlannedCondition condition,
      List<Factor> factors,
      String file,
      Map<Map<String, String>, Plan> known) {
    this.plan = plan;
    this.condition = condition;
    this.factors = List.copyOf(factors);
    this.file = file;
    this.known = known;
  }

  /**
   * The trials of one condition of a plan, with no value replaced.
   *
   * @param plan the plan
   * @param condition its condition
   * @return points without factors
   */
  public static PlanPoint of(Plan plan, PlannedCondition condition) {
    return new PlanPoint(plan, condition, List.of(), plan.source().name());
  }

  /**
   * The same plan with other values to replace.
   *
   * @param chosen values of the scene
   * @return its points
   */
  public PlanPoint with(List<Factor> chosen) {
    return new PlanPoint(plan, condition, chosen, file, known);
  }

  /** The plans that were used last. */
  private static final class Known extends LinkedHashMap<Map<String, String>, Plan> {
    private static final long serialVersionUID = 1L;

    Known() {
      super(16, 0.75f, true);
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<Map<String, String>, Plan> eldest) {
      return size() > MOST_KEPT;
    }
  }

  /**
   * A trial.
   *
   * @param values a value of each factor, base units
   * @param seed seed of the plan of one trial, 0 or more
   * @return the trial
   * @throws SettingsException when the values contradict each other
   */
  public Point at(long[] values, long seed) throws SettingsException {
    Map<String, String> built = new TreeMap<>();
    Map<String, Map<String, String>> scene = new LinkedHashMap<>();
    for (int i = 0; i < values.length; i++) {
      Factor factor = factors.get(i);
      String text = factor.text(values[i]);
      if (isOfScene(factor)) {
        String[] key = factor.key().split("\\.", -1);
        scene.computeIfAbsent(key[1], s -> new LinkedHashMap<>()).put(key[2], text);
      } else {
        built.put(factor.key(), text);
      }
    }
    Plan at = built(built);
    TrialSpec spec = at.alone(seed, scene);
    return new Point(spec, at.controller(spec));
  }

  private static boolean isOfScene(Factor factor) {
    return factor.key().startsWith(SCENE)
        && !factor.key().equals(SCENE + PlanTables.FLUID + "." + PlanTables.FILL.key());
  }

  private Plan built(Map<String, String> values) throws SettingsException {
    synchronized (known) {
      Plan found = known.get(values);
      if (found != null) {
        return found;
      }
    }
    try {
      Plan made = read(values, 0);
      synchronized (known) {
        known.put(values, made);
      }
      return made;
    } catch (PlanException e) {
      throw new SettingsException(
          e.mistakes().stream()
              .map(m -> new org.stopwell.core.settings.Fault(m.key(), m.message()))
              .toList());
    }
  }

  /** A plan with these values, read as any other plan. */
  Plan read(Map<String, String> values, long seed) throws PlanException {
    Map<String, Settings> files = new LinkedHashMap<>(plan.settingsFiles());
    files.put("", plan.settings());
    return new PlanReader(Source.of(file, tree(values, seed)), null, plan.policies(), files).read();
  }

  /**
   * A trial as a plan that {@code run} runs: same canal, same noise, same bytes.
   *
   * @param values a value of each factor, base units
   * @param seed seed of the plan
   * @param settings the settings files as the new plan names them, by their name in the plan; the
   *     plan's own by the empty name
   * @return YAML
   */
  public String text(long[] values, long seed, Map<String, String> settings) {
    return text(values, seed, settings, List.of());
  }

  /**
   * A trial with more faults as a plan that {@code run} runs.
   *
   * @param values a value of each factor, base units
   * @param seed seed of the plan
   * @param settings the settings files as the new plan names them
   * @param more faults after those of the condition; none of them has a seed or a required result
   * @return YAML
   */
  public String text(
      long[] values, long seed, Map<String, String> settings, List<PlannedFault> more) {
    Map<String, String> texts = new LinkedHashMap<>();
    for (int i = 0; i < values.length; i++) {
      texts.put(factors.get(i).key(), factors.get(i).text(values[i]));
    }
    Yaml.Mapping tree = tree(texts, seed, more);
    replaceNames(tree, settings);
    return YamlText.of(tree);
  }

  private static void replaceNames(Yaml.Mapping tree, Map<String, String> settings) {
    name(tree, settings.getOrDefault("", ""));
    for (Yaml.Entry factor : Groups.of(tree, "factors", new Mistakes("")).entries().values()) {
      if (!(factor.value() instanceof Yaml.Mapping levels)) {
        continue;
      }
      for (Yaml.Entry level : levels.entries().values()) {
        if (level.value() instanceof Yaml.Mapping inside) {
          Yaml.Entry named = inside.entries().get(PlanReader.SETTINGS);
          if (named != null && named.value() instanceof Yaml.Scalar file) {
            name(inside, settings.getOrDefault(file.text(), file.text()));
          }
        }
      }
    }
  }

  private static void name(Yaml.Mapping at, String settings) {
    put(at, PlanReader.SETTINGS, new Yaml.Scalar(settings, Yaml.Sort.TEXT, 0), 0);
  }

  private Yaml.Mapping tree(Map<String, String> values, long seed) {
    return tree(values, seed, List.of());
  }

  /**
   * The keys of the plan with one level of each factor, and a last factor with the values and more
   * faults.
   */
  private Yaml.Mapping tree(Map<String, String> values, long seed, List<PlannedFault> more) {
    Yaml.Mapping whole = plan.source().top(new Mistakes(file));
    Yaml.Mapping top = copy(whole);
    top.entries().keySet().retainAll(KEPT);
    put(top, "name", new Yaml.Scalar(plan.head().name(), Yaml.Sort.TEXT, 0), 0);
    put(top, "seed", new Yaml.Scalar(Long.toString(seed), Yaml.Sort.NUMBER, 0), 0);
    put(top, "trials", new Yaml.Scalar("1", Yaml.Sort.NUMBER, 0), 0);
    Yaml.Mapping drawn = withoutFactors(Groups.of(whole, VARY, new Mistakes(file)));
    if (!drawn.entries().isEmpty()) {
      put(top, VARY, drawn, 0);
    }
    Yaml.Mapping all = Yaml.Mapping.empty(0);
    List<Yaml.Mapping> lists = new ArrayList<>(List.of(top));
    Groups.of(whole, "factors", new Mistakes(file))
        .entries()
        .forEach(
            (factor, entry) -> {
              String word = condition.levels().getOrDefault(factor, "");
              if (entry.value() instanceof Yaml.Mapping levels
                  && levels.entries().get(word) != null) {
                Yaml level = levels.entries().get(word).value();
                Yaml.Mapping one = Yaml.Mapping.empty(entry.line());
                if (level instanceof Yaml.Mapping inside) {
                  level = copy(inside);
                  lists.add((Yaml.Mapping) level);
                }
                put(one, word, level, entry.line());
                put(all, factor, one, entry.line());
              }
            });
    Yaml.Mapping here = Yaml.Mapping.empty(0);
    values.forEach(
        (key, text) -> {
          Factor factor =
              factors.stream().filter(f -> f.key().equals(key)).findFirst().orElseThrow();
          Yaml.Scalar value = new Yaml.Scalar(text, sort(factor), factor.line());
          if (key.startsWith(FAULTS)) {
            fault(lists, key, value);
          } else {
            String rest = key.startsWith(SCENE) ? key.substring(SCENE.length()) : key;
            List<String> path = new ArrayList<>(List.of(rest.split("\\.", -1)));
            Yaml.Mapping at = here;
            while (path.size() > 1) {
              at = inside(at, path.remove(0), factor.line());
            }
            put(at, path.get(0), value, factor.line());
          }
        });
    if (!more.isEmpty()) {
      put(
          here,
          FaultReader.KEY,
          new Yaml.Items(more.stream().map(f -> written(f.injection())).toList(), 0),
          0);
    }
    if (!here.entries().isEmpty()) {
      Yaml.Mapping one = Yaml.Mapping.empty(0);
      put(one, "here", here, 0);
      put(all, all.entries().containsKey("point") ? "explored" : "point", one, 0);
    }
    if (!all.entries().isEmpty()) {
      put(top, "factors", all, 0);
    }
    return top;
  }

  /** What the plan draws, without the values that are factors: a factor replaces them. */
  private Yaml.Mapping withoutFactors(Yaml.Mapping vary) {
    Yaml.Mapping left = copy(vary);
    for (Factor factor : factors) {
      String[] key = factor.key().split("\\.", -1);
      if (factor.key().startsWith(SCENE)
          && left.entries().get(key[1]) != null
          && left.entries().get(key[1]).value() instanceof Yaml.Mapping section) {
        Yaml.Mapping rest = copy(section);
        rest.entries().remove(key[2]);
        put(left, key[1], rest, section.line());
      }
    }
    left.entries()
        .values()
        .removeIf(e -> e.value() instanceof Yaml.Mapping m && m.entries().isEmpty());
    return left;
  }

  /** The faults of a condition are numbered from 1: those of the plan, then those of its levels. */
  private static void fault(List<Yaml.Mapping> lists, String key, Yaml.Scalar value) {
    String[] path = key.split("\\.", -1);
    int number = Integer.parseInt(path[1]);
    for (Yaml.Mapping at : lists) {
      Yaml.Entry entry = at.entries().get(FaultReader.KEY);
      if (entry == null || !(entry.value() instanceof Yaml.Items items)) {
        continue;
      }
      if (number <= items.items().size()) {
        List<Yaml> changed = new ArrayList<>(items.items());
        if (changed.get(number - 1) instanceof Yaml.Mapping one) {
          Yaml.Mapping fault = copy(one);
          put(fault, path[2], value, value.line());
          changed.set(number - 1, fault);
        }
        put(at, FaultReader.KEY, new Yaml.Items(changed, items.line()), entry.line());
        return;
      }
      number -= items.items().size();
    }
  }

  private static Yaml written(Injection fault) {
    Yaml.Mapping at = Yaml.Mapping.empty(0);
    put(at, "kind", new Yaml.Scalar(fault.kind().key(), Yaml.Sort.TEXT, 0), 0);
    if (fault.since() == Injection.Since.TURN) {
      put(at, "since", new Yaml.Scalar("turn", Yaml.Sort.TEXT, 0), 0);
    }
    put(at, "at_ms", number(BigDecimal.valueOf(fault.startNs(), 6)), 0);
    if (fault.durationNs() != Long.MAX_VALUE) {
      put(at, "for_ms", number(BigDecimal.valueOf(fault.durationNs(), 6)), 0);
    }
    if (!fault.kind().strength().meaning().isEmpty()) {
      put(at, "strength", number(BigDecimal.valueOf(fault.strength())), 0);
    }
    return at;
  }

  private static Yaml number(BigDecimal value) {
    String text = value.signum() == 0 ? "0" : value.stripTrailingZeros().toPlainString();
    return new Yaml.Scalar(text, Yaml.Sort.NUMBER, 0);
  }

  static Yaml.Sort sort(Factor factor) {
    return switch (factor.parameter().kind()) {
      case NUMBER -> Yaml.Sort.NUMBER;
      case FLAG -> Yaml.Sort.FLAG;
      case CHOICE, FILE -> Yaml.Sort.TEXT;
    };
  }

  private static Yaml.Mapping inside(Yaml.Mapping at, String key, int line) {
    Yaml.Entry entry = at.entries().get(key);
    if (entry != null && entry.value() instanceof Yaml.Mapping known) {
      return known;
    }
    Yaml.Mapping fresh = Yaml.Mapping.empty(line);
    put(at, key, fresh, line);
    return fresh;
  }

  private static Yaml.Mapping copy(Yaml.Mapping of) {
    return new Yaml.Mapping(new LinkedHashMap<>(of.entries()), of.line());
  }

  private static void put(Yaml.Mapping at, String key, Yaml value, int line) {
    at.entries().put(key, new Yaml.Entry(line, value));
  }

  /** The parameter of a key that a space may name, by the tables of scene, settings and faults. */
  static Map<String, Parameter> keys(Plan plan, PlannedCondition condition) {
    Map<String, Parameter> keys = new TreeMap<>();
    PlanTables.SCENE.forEach(
        (section, table) ->
            table.parameters().forEach(p -> keys.put(SCENE + section + "." + p.key(), p)));
    if (condition.fill().isEmpty()) {
      keys.remove(SCENE + PlanTables.FLUID + "." + PlanTables.FILL.key());
    }
    ControllerSettings.tables(plan.policies().tables())
        .forEach(
            (section, table) ->
                table.parameters().stream()
                    .filter(p -> p.kind() != Parameter.Kind.FILE)
                    .forEach(p -> keys.put(SETTINGS + section + "." + p.key(), p)));
    for (int i = 1; i <= condition.faults().size(); i++) {
      for (Parameter p : FaultReader.TABLE.parameters()) {
        if (Set.of("at_ms", "for_ms", "strength").contains(p.key())) {
          keys.put(FAULTS + i + "." + p.key(), p);
        }
      }
    }
    return keys;
  }
}
