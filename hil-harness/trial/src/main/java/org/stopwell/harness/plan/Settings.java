package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Fault;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;

/**
 * A settings file: the settings of the controller.
 *
 * @param source the file
 * @param name what the settings are called
 * @param controller the checked settings
 * @param policies the policies that they may name
 * @param weights what a policy that reads by weights was taught
 */
public record Settings(
    Source source,
    String name,
    ControllerSettings controller,
    Policies policies,
    WeightsSource weights) {

  static final String CALIBRATION = "calibration";

  /** Version and nothing else: the rest of the file is named sections. */
  static final ParameterTable HEAD =
      new ParameterTable(
          List.of(
              Parameter.of("settings")
                  .range("1", "1")
                  .initially("1")
                  .required()
                  .text("File format, always 1.")
                  .source("assumed")));

  private static final Parameter REMAINING =
      Parameter.of("remaining_mm")
          .unit("mm", 3)
          .range("-2", "40")
          .initially("0")
          .required()
          .text("Distance from file tip to foramen at this point; positive: short of it.")
          .source("measured on the bench");

  private static final Parameter RATIO =
      Parameter.of("ratio")
          .decimals(6)
          .range("0", "100")
          .initially("0")
          .required()
          .text("Magnitude at high_hz divided by magnitude at low_hz.")
          .source("measured on the bench");

  private static final Parameter RESISTANCE =
      Parameter.of("resistance_ohm")
          .unit("Ω", 3)
          .range("0", "10000000")
          .initially("0")
          .required()
          .text("Resistance from file to lip clip.")
          .source("measured on the bench");

  private static final Parameter LOW =
      Parameter.of("low_ohm")
          .unit("Ω", 3)
          .range("0", "10000000")
          .initially("0")
          .text("Magnitude at low_hz at this point; 0: unknown.")
          .source("measured on the bench");

  private static final Parameter BOUND =
      Parameter.of("bound_mm")
          .unit("mm", 3)
          .range("0", "10")
          .initially("0")
          .text(
              "Half-width around remaining_mm that holds the true distance 95 times in 100, over the"
                  + " canals that the curve was measured on; 0: not measured, and no reading is SURE.")
          .source("measured on the bench, in many canals");

  /** One point of the curve, for sensing by the ratio of two frequencies. */
  static final ParameterTable RATIO_POINT =
      new ParameterTable(List.of(RATIO, LOW, REMAINING, BOUND));

  /** One point of the curve, for sensing by resistance. */
  static final ParameterTable RESISTANCE_POINT =
      new ParameterTable(List.of(RESISTANCE, REMAINING, BOUND));

  /** Keys of the file beside the head and the sections. */
  static final Set<String> OTHERS = Set.of("name", "purpose", CALIBRATION);

  /**
   * Reads and checks a settings file.
   *
   * @param source the file
   * @return the settings
   * @throws PlanException with every mistake in it
   */
  public static Settings read(Source source) throws PlanException {
    return read(source, Policies.BUILT_IN);
  }

  /**
   * Reads and checks a settings file that may name policies that are not built in.
   *
   * @param source the file
   * @param policies the policies that it may name
   * @return the settings
   * @throws PlanException with every mistake in it
   */
  public static Settings read(Source source, Policies policies) throws PlanException {
    Mistakes mistakes = new Mistakes(source.name());
    Yaml.Mapping top = source.top(mistakes);
    if (top.entries().isEmpty()) {
      mistakes.throwIfAny();
    }
    Map<String, ParameterTable> tables = ControllerSettings.tables(policies.tables());
    Set<String> groups = groups(tables);
    Sections.resolve(top, "", HEAD, groups, mistakes);
    Set<String> others = new TreeSet<>(OTHERS);
    others.add("settings");
    String name = FreeText.name(top, "name", mistakes);
    FreeText.optional(top, "purpose", mistakes);
    Calibration calibration = calibration(top, "", mistakes);
    Mistakes inSections = new Mistakes(source.name());
    Sections sections = Sections.read(withoutUnknown(top, groups), "", tables, others, inSections);
    mistakes.addAll(inSections.all());
    WeightsSource weights = WeightsSource.of(source, sections, mistakes);
    try {
      ControllerSettings controller =
          ControllerSettings.of(
              sections.texts(), calibration, policies.tables(), weights.weights());
      unreadCurve(top, controller, mistakes);
      mistakes.throwIfAny();
      return new Settings(source, name, controller, policies, weights);
    } catch (SettingsException e) {
      // The curve's own mistakes were found above, with the line of the point.
      boolean curveIsWrong = mistakes.all().stream().anyMatch(m -> m.key().startsWith(CALIBRATION));
      sections.place(
          e.faults().stream().filter(f -> !(curveIsWrong && f.key().equals(CALIBRATION))).toList(),
          "",
          mistakes);
      throw mistakes.asException();
    }
  }

  /**
   * These settings with some values replaced.
   *
   * @param values the other values, written as in a settings file
   * @return the changed settings
   * @throws PlanException when the values cannot be used
   */
  public Settings with(String values) throws PlanException {
    Mistakes mistakes = new Mistakes(source.name());
    Yaml.Mapping top = new Source(source.name(), values).top(mistakes);
    Settings changed = with(Overlay.read(top, "", policies, mistakes), "", mistakes);
    mistakes.throwIfAny();
    return changed;
  }

  /**
   * These settings with the values of a plan's levels put over them.
   *
   * @param over the values, each with its place in the plan
   * @param path where the plan's mistakes are placed that concern no value of its own
   * @param mistakes receives what is wrong with them
   * @return the changed settings; these where something is wrong
   */
  Settings with(Overlay over, String path, Mistakes mistakes) {
    if (over.isNothing()) {
      return this;
    }
    // The file was read and checked before: nothing is wrong with it alone.
    Mistakes none = new Mistakes(source.name());
    Map<String, ParameterTable> tables = ControllerSettings.tables(policies.tables());
    Yaml.Mapping top = withoutUnknown(source.top(none), groups(tables));
    Sections own = Sections.read(top, "", tables, OTHERS, none);
    WeightsSource read = WeightsSource.of(source, own.under(over.values()), mistakes);
    try {
      return new Settings(
          source,
          name,
          ControllerSettings.of(
              read(own, over.values()),
              over.curve().orElseGet(controller::calibration),
              policies.tables(),
              read.weights()),
          policies,
          read);
    } catch (SettingsException e) {
      over.values().place(e.faults(), path, mistakes);
      return this;
    }
  }

  /**
   * The values of the file with those of a level over them. Where the level chooses another policy,
   * the file's keys that this policy does not read are left out.
   */
  private Map<String, Map<String, String>> read(Sections file, Sections level) {
    Map<String, Map<String, String>> texts = file.under(level).texts();
    Map<String, Map<String, String>> ofLevel = level.texts();
    for (Fault unread : ControllerSettings.unused(texts, policies.tables())) {
      if (ofLevel.containsKey(unread.key()) || level.flat().containsKey(unread.key())) {
        continue;
      }
      if (texts.remove(unread.key()) == null) {
        int dot = unread.key().lastIndexOf('.');
        texts
            .getOrDefault(unread.key().substring(0, dot), new LinkedHashMap<>())
            .remove(unread.key().substring(dot + 1));
      }
    }
    return texts;
  }

  private static void unreadCurve(
      Yaml.Mapping top, ControllerSettings controller, Mistakes mistakes) {
    Yaml.Entry curve = top.entries().get(CALIBRATION);
    if (curve != null && !controller.sensing().byCurve()) {
      mistakes.add(
          curve.line(),
          CALIBRATION,
          "policy " + controller.sensingPolicy() + " does not read this key; remove it");
    }
  }

  /**
   * The settings of a level.
   *
   * @param file another settings file
   * @param values values by section, over those of the file
   * @param curve another curve from signal to distance
   */
  record Overlay(Optional<Settings> file, Sections values, Optional<Calibration> curve) {
    /** Another settings file as it is. */
    static Overlay of(Settings file) {
      Sections nothing =
          Sections.read(
              Yaml.Mapping.empty(0), "", Map.of(), Set.of(), new Mistakes(file.source().name()));
      return new Overlay(Optional.of(file), nothing, Optional.empty());
    }

    /** Reads the group of a level. */
    static Overlay read(Yaml.Mapping at, String path, Policies policies, Mistakes mistakes) {
      Sections values =
          Sections.read(
              at,
              path,
              ControllerSettings.tables(policies.tables()),
              Set.of(CALIBRATION),
              mistakes);
      return new Overlay(
          Optional.empty(),
          values,
          at.entries().containsKey(CALIBRATION)
              ? Optional.of(calibration(at, path, mistakes))
              : Optional.empty());
    }

    boolean isNothing() {
      return curve.isEmpty() && values.flat().isEmpty();
    }

    /** This, with another put over it. */
    Overlay under(Overlay over) {
      return new Overlay(
          over.file.or(() -> file), values.under(over.values), over.curve.or(() -> curve));
    }
  }

  private static Set<String> groups(Map<String, ParameterTable> tables) {
    Set<String> groups = new TreeSet<>(OTHERS);
    tables.keySet().forEach(t -> groups.add(t.contains(".") ? t.substring(0, t.indexOf('.')) : t));
    return groups;
  }

  /** Unknown keys at the top are already reported and must not be reported twice. */
  private static Yaml.Mapping withoutUnknown(Yaml.Mapping top, Set<String> known) {
    Map<String, Yaml.Entry> kept = new LinkedHashMap<>(top.entries());
    kept.keySet().retainAll(known);
    return new Yaml.Mapping(kept, top.line());
  }

  /** The word for a stage in files. */
  static String word(Enum<?> value) {
    return value.name().toLowerCase(Locale.ROOT);
  }

  private static Calibration calibration(Yaml.Mapping top, String path, Mistakes mistakes) {
    String key = Sections.join(path, CALIBRATION);
    Yaml.Entry entry = top.entries().get(CALIBRATION);
    if (entry == null) {
      return Calibration.NONE;
    }
    if (!(entry.value() instanceof Yaml.Items items)) {
      mistakes.add(entry.line(), key, entry.value().notA("a list of points"));
      return Calibration.NONE;
    }
    List<Calibration.Point> points = new ArrayList<>();
    boolean ohms =
        !items.items().isEmpty()
            && items.items().get(0) instanceof Yaml.Mapping first
            && first.entries().containsKey(RESISTANCE.key());
    for (Yaml item : items.items()) {
      if (item instanceof Yaml.Mapping point) {
        Calibration.Point read = point(point, key, ohms, mistakes);
        if (!points.isEmpty()) {
          ascending(points.get(points.size() - 1), read, key, ohms, point.line(), mistakes);
        }
        points.add(read);
      } else {
        mistakes.add(item.line(), key, item.word() + " is not a point");
      }
    }
    return new Calibration(points);
  }

  private static Calibration.Point point(
      Yaml.Mapping at, String key, boolean ohms, Mistakes mistakes) {
    ParameterTable table = ohms ? RESISTANCE_POINT : RATIO_POINT;
    ParameterValues v = Sections.resolve(at, key, table, Set.of(), mistakes);
    return ohms
        ? new Calibration.Point(v.get(RESISTANCE), v.getInt(REMAINING), 0, v.getInt(BOUND))
        : new Calibration.Point(v.get(RATIO), v.getInt(REMAINING), v.get(LOW), v.getInt(BOUND));
  }

  private static void ascending(
      Calibration.Point before,
      Calibration.Point point,
      String key,
      boolean ohms,
      int line,
      Mistakes mistakes) {
    Parameter feature = ohms ? RESISTANCE : RATIO;
    if (!(point.feature() > before.feature())) {
      notAbove(key, feature, point.feature(), before.feature(), line, mistakes);
    }
    if (!(point.remainingMicrons() > before.remainingMicrons())) {
      notAbove(key, REMAINING, point.remainingMicrons(), before.remainingMicrons(), line, mistakes);
    }
  }

  private static void notAbove(
      String key, Parameter p, long value, long before, int line, Mistakes mistakes) {
    mistakes.add(
        line,
        Sections.join(key, p.key()),
        p.human(value) + " is not above " + p.human(before) + " of the point before");
  }
}
