package org.stopwell.harness.plan;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Predicate;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Endpoint;
import org.stopwell.rig.bench.Scene;

/**
 * JSON Schemas of plans and settings, made from the tables that check them. An editor that supports
 * JSON Schema completes keys and marks errors; {@code stopwell check} finds errors that involve
 * several keys.
 */
public final class JsonSchema {
  private static final String DIALECT = "https://json-schema.org/draft/2020-12/schema";
  private static final String NAME = "^[\\p{L}\\p{N}][\\p{L}\\p{N}._ +-]{0,59}$";

  private JsonSchema() {}

  /**
   * The schema of settings files.
   *
   * @return nested maps and lists
   */
  public static Map<String, Object> settings() {
    Map<String, Object> properties = new LinkedHashMap<>(table(Settings.HEAD));
    properties.put("name", name("Name of the settings."));
    properties.put("purpose", text("Purpose of the settings."));
    properties.putAll(groups(ControllerSettings.tables(), "", List.of("file", "sense", "stages")));
    properties.put(Settings.CALIBRATION, curve());
    return head(
        "Settings of the controller",
        properties,
        List.of("settings", "name", "file", "sense", "stages"));
  }

  private static Map<String, Object> curve() {
    return described(
        Map.of(
            "type",
            "array",
            "items",
            Map.of(
                "oneOf", List.of(closed(Settings.RATIO_POINT), closed(Settings.RESISTANCE_POINT)))),
        "Points of the curve from signal to distance, deepest first.");
  }

  /**
   * The schema of plans.
   *
   * @return nested maps and lists
   */
  public static Map<String, Object> plan() {
    Map<String, Object> properties = new LinkedHashMap<>(table(PlanTables.HEAD));
    properties.put("name", name("Name of the plan."));
    properties.put("purpose", text("Purpose of the plan."));
    properties.put("settings", text("Settings file, relative to the plan."));
    properties.put(
        "scene",
        described(closedGroup(scene()), "Scene of every condition; a level can change it."));
    properties.put("factors", factors());
    properties.put("vary", described(closedGroup(vary()), "Values drawn for every trial."));
    properties.put(
        "claims", described(closedGroup(claims(e -> true)), "Claims that the campaign must show."));
    Map<String, Object> analysis = new LinkedHashMap<>(table(PlanTables.ANALYSIS));
    analysis.put(
        StatisticsReader.GROUPS,
        described(
            Map.of("type", "array", "uniqueItems", true, "items", Map.of("type", "string")),
            "Factors whose levels are a sample of many, such as canals, the outermost first."));
    properties.put(
        "analysis", described(closedGroup(analysis), "Further statistics of the report."));
    properties.put(TeethReader.KEY, teeth());
    properties.put(DeviceReader.KEY, device(DeviceReader.REQUIRED));
    properties.put(MountReader.KEY, mount());
    properties.put(FaultReader.KEY, faults());
    protocol(properties);
    Map<String, Object> schema =
        head("A plan", properties, List.of("plan", "name", "settings", "stage", "trials"));
    Map<String, Object> sections = new LinkedHashMap<>();
    PlanTables.SCENE.forEach((name, table) -> sections.put(name, closed(table)));
    schema.put("$defs", sections);
    return schema;
  }

  /**
   * The schema of spaces.
   *
   * @return nested maps and lists
   */
  public static Map<String, Object> space() {
    Map<String, Object> properties = new LinkedHashMap<>(table(SpaceTables.HEAD));
    properties.put("name", name("Name of the space."));
    properties.put("purpose", text("Purpose of the exploration."));
    properties.put(
        SpaceTables.PLAN, text("Plan whose trials are explored, relative to this file."));
    properties.put(
        SpaceTables.CONDITION,
        text("Condition of the plan; may be missing where the plan has only one."));
    Map<String, Object> factors = new LinkedHashMap<>();
    factors.put("type", "object");
    factors.put("minProperties", 1);
    factors.put("propertyNames", Map.of("pattern", "^(scene|settings|faults)\\.[a-z0-9_.]+$"));
    factors.put("additionalProperties", Map.of("oneOf", spreads()));
    properties.put(
        SpaceTables.FACTORS,
        described(
            factors,
            "Values that change: scene.SECTION.KEY, settings.SECTION.KEY, or at_ms, for_ms and"
                + " strength of faults.N."));
    Map<String, Object> pair = new LinkedHashMap<>();
    pair.put(
        SpaceTables.OF,
        described(
            Map.of(
                "type", "array", "minItems", 2, "maxItems", 2, "items", Map.of("type", "string")),
            "Two factors."));
    pair.put(SpaceTables.IS.key(), value(SpaceTables.IS));
    Map<String, Object> one = closedGroup(pair);
    one.put("required", List.of(SpaceTables.OF, SpaceTables.IS.key()));
    properties.put(
        SpaceTables.CORRELATIONS,
        described(
            Map.of("type", "array", "minItems", 1, "items", one),
            "Correlations of normal scores; pairs that are missing are independent."));
    properties.put(
        SpaceTables.POINTS,
        described(
            Map.of("type", "array", "minItems", 1, "items", Map.of("type", "object")),
            "Points of design list, each with a value of every factor."));
    Map<String, Object> target = new LinkedHashMap<>(table(TuneTargetReader.HEAD));
    for (TuneTarget.Measure measure : TuneTarget.Measure.values()) {
      target.put(measure.key(), closed(TuneTargetReader.table(measure)));
    }
    Map<String, Object> goal = closedGroup(target);
    goal.put("required", List.of(TuneTargetReader.MINIMISE.key()));
    properties.put(
        SpaceTables.TARGET,
        described(goal, "For tune: limits that hold, and what is made small within them."));
    return head(
        "A space of an exploration",
        properties,
        List.of("space", "name", SpaceTables.PLAN, "outcome", "design", "trials", "factors"));
  }

  private static List<Map<String, Object>> spreads() {
    Map<String, Object> number = Map.of("type", "number");
    Map<String, Object> range = new LinkedHashMap<>();
    range.put(SpaceTables.FROM, described(number, "Least value."));
    range.put(SpaceTables.TO, described(number, "Greatest value, above from."));
    range.put(
        SpaceTables.LOG,
        described(Map.of("type", "boolean"), "true: evenly spread in the logarithm."));
    Map<String, Object> bell = new LinkedHashMap<>();
    bell.put(SpaceTables.MEAN, described(number, "Mean of a normal distribution."));
    bell.put(
        SpaceTables.SD,
        described(
            number, "Standard deviation; the distribution is cut at " + Factor.CUT + " of them."));
    Map<String, Object> choice = new LinkedHashMap<>();
    choice.put(
        SpaceTables.CHOICE,
        described(
            Map.of("type", "array", "minItems", 2, "uniqueItems", true),
            "Values, each as likely as any other."));
    List<Map<String, Object>> spreads = new ArrayList<>();
    spreads.add(closedGroup(range));
    spreads.get(0).put("required", List.of(SpaceTables.FROM, SpaceTables.TO));
    spreads.add(closedGroup(bell));
    spreads.get(1).put("required", List.of(SpaceTables.MEAN, SpaceTables.SD));
    spreads.add(closedGroup(choice));
    spreads.get(2).put("required", List.of(SpaceTables.CHOICE));
    return spreads;
  }

  /** Claims by the key of their endpoint. */
  static Map<String, Object> claims(Predicate<Claim.Endpoint> which) {
    Map<String, Object> claims = new LinkedHashMap<>();
    PlanTables.CLAIMS.forEach(
        (endpoint, table) -> {
          if (which.test(Claim.Endpoint.ofKey(endpoint))) {
            claims.put(
                endpoint, with(closed(table), ProtocolTables.WHY, text("Reason for this limit.")));
          }
        });
    return claims;
  }

  /** The primary endpoint and those beside it. */
  static Map<String, Object> endpoints() {
    Map<String, Object> secondary = new LinkedHashMap<>();
    secondary.put("type", "array");
    secondary.put("items", Map.of("enum", Endpoint.keys()));
    secondary.put("uniqueItems", true);
    return with(
        closed(Objects.requireNonNull(ProtocolTables.TABLES.get(ProtocolTables.ENDPOINTS))),
        ProtocolTables.SECONDARY,
        described(secondary, "Endpoints reported beside the primary one."));
  }

  /** What makes a plan a protocol. */
  private static void protocol(Map<String, Object> properties) {
    Map<String, Object> groups = new LinkedHashMap<>();
    ProtocolTables.TABLES.forEach((key, table) -> groups.put(key, closed(table)));
    groups.put(ProtocolTables.ENDPOINTS, endpoints());
    groups.computeIfPresent(
        ProtocolTables.SENTINELS,
        (k, table) ->
            with(
                table,
                ProtocolTables.SCENE,
                described(closedGroup(scene()), "Differences of their scene from the plan's.")));
    properties.putAll(groups);
    properties.put(
        ProtocolTables.BLIND, text("Factor whose levels are shown as codes until unblind."));
  }

  /** A closed group with one more key. */
  private static Map<String, Object> with(Object group, String key, Map<String, Object> value) {
    Map<String, Object> all = new LinkedHashMap<>();
    ((Map<?, ?>) group).forEach((k, v) -> all.put(String.valueOf(k), v));
    property(all, key, value);
    return all;
  }

  /**
   * A whole schema.
   *
   * @param title what the file is
   * @param properties schemas by key; no other key is allowed
   * @param required keys that must be there
   * @return the schema
   */
  public static Map<String, Object> head(
      String title, Map<String, Object> properties, List<String> required) {
    Map<String, Object> schema = new LinkedHashMap<>();
    schema.put("$schema", DIALECT);
    schema.put("title", title);
    schema.putAll(closedGroup(properties));
    schema.put("required", required);
    return schema;
  }

  /**
   * The stages of a settings file, each with its file.
   *
   * @return the schema
   */
  public static Map<String, Object> stages() {
    Map<String, Object> stages = groups(ControllerSettings.tables(), "stages.", List.of());
    return described(closedGroup(stages), "Stages over those of the settings file.");
  }

  private static Map<String, Object> scene() {
    Map<String, Object> sections = new LinkedHashMap<>();
    Scene.tables().keySet().forEach(name -> sections.put(name, Map.of("$ref", "#/$defs/" + name)));
    return sections;
  }

  private static Map<String, Object> teeth() {
    Map<String, Object> named =
        with(closed(TeethReader.TABLE), TeethReader.NAME, name("Name or code of the tooth."));
    Map<String, Object> one =
        with(
            with(named, ToothZeroReader.KEY, zero()),
            TeethReader.MEDIUM,
            text("Medium that the tooth is mounted in; required without mount."));
    one.put(
        "required",
        List.of(TeethReader.NAME, TeethReader.LENGTH.key(), TeethReader.UNCERTAINTY.key()));
    return described(
        Map.of("type", "array", "minItems", 1, "items", one),
        "Extracted teeth whose length a person measured.");
  }

  private static Map<String, Object> zero() {
    Map<String, Object> reading =
        described(
            Map.of(
                "type",
                "integer",
                "minimum",
                -ToothZero.FARTHEST_MICRONS,
                "maximum",
                ToothZero.FARTHEST_MICRONS),
            "Place of the foramen on the scale of the observers. Unit: µm.");
    Map<String, Object> readings =
        described(
            Map.of(
                "type",
                "array",
                "minItems",
                ToothZero.READINGS,
                "maxItems",
                ToothZero.READINGS,
                "items",
                reading),
            "Readings of one observer.");
    return described(
        Map.of(
            "type",
            "object",
            "minProperties",
            ToothZero.OBSERVERS,
            "maxProperties",
            ToothZero.OBSERVERS,
            "propertyNames",
            Map.of("pattern", "^" + DeviceReader.CODE + "$"),
            "additionalProperties",
            readings),
        "Readings of the foramen by the code of the observer.");
  }

  private static Map<String, Object> device(List<String> texts) {
    Map<String, Object> properties = new LinkedHashMap<>();
    DeviceReader.TEXTS.forEach(
        (key, text) ->
            properties.put(
                key,
                described(
                    Map.of("type", "string", "pattern", "^" + DeviceReader.CODE + "$"), text)));
    properties.putAll(table(DeviceReader.TABLE));
    Map<String, Object> group = closedGroup(properties);
    if (!texts.isEmpty()) {
      List<String> required = new ArrayList<>(texts);
      required.add(DeviceReader.STANDOFF.key());
      group.put("required", required);
    }
    return described(group, "Device under test, with controller: external.");
  }

  /** A level states only what differs, so no key is required by the schema. */
  private static Map<String, Object> mount() {
    return described(
        closedGroup(new LinkedHashMap<>(table(MountReader.TABLE))),
        "Mount of the tooth, with teeth or controller: external.");
  }

  private static Map<String, Object> faults() {
    Map<String, Object> one = closed(FaultReader.TABLE);
    Map<String, Object> keys = new LinkedHashMap<>(table(FaultReader.TABLE));
    keys.put(
        FaultReader.CAUSE,
        described(
            Map.of("type", "string", "enum", List.copyOf(FaultReader.CAUSES)),
            FaultReader.CAUSE_TEXT));
    one.put("properties", keys);
    return described(Map.of("type", "array", "items", one), "Faults on purpose.");
  }

  private static Map<String, Object> factors() {
    Map<String, Object> level = new LinkedHashMap<>(table(PlanTables.LEVEL));
    level.putAll(scene());
    Map<String, Object> told =
        new LinkedHashMap<>(groups(ControllerSettings.tables(), "", List.of()));
    told.put(Settings.CALIBRATION, curve());
    level.put(
        PlanReader.SETTINGS,
        described(
            Map.of(
                "oneOf",
                List.of(
                    text("Settings file of this level, relative to the plan."), closedGroup(told))),
            "Settings of this level: another file, or values over those of the settings file."));
    level.put(FaultReader.KEY, faults());
    level.put(DeviceReader.KEY, device(List.of()));
    level.put(MountReader.KEY, mount());
    Map<String, Object> levels = new LinkedHashMap<>();
    levels.put("type", "object");
    levels.put("minProperties", 1);
    levels.put("propertyNames", Map.of("pattern", NAME));
    Map<String, Object> orNothing = closedGroup(level);
    orNothing.put("type", List.of("object", "null"));
    levels.put("additionalProperties", orNothing);
    return described(
        Map.of("type", "object", "additionalProperties", levels),
        "Factors and their levels; every level is combined with every level of the other factors.");
  }

  private static Map<String, Object> vary() {
    Map<String, Object> sections = new LinkedHashMap<>();
    Scene.tables()
        .forEach(
            (name, table) -> {
              Map<String, Object> keys = new LinkedHashMap<>();
              for (Parameter p : table.parameters()) {
                if (p.kind() == Parameter.Kind.NUMBER) {
                  List<Object> spreads = new ArrayList<>();
                  spreads.add(closed(PlanTables.variation(p, false)));
                  spreads.add(closed(PlanTables.variation(p, true)));
                  keys.put(p.key(), Map.of("oneOf", spreads));
                }
              }
              sections.put(name, closedGroup(keys));
            });
    return sections;
  }

  /** Tables whose names have dots stand in groups within groups. */
  private static Map<String, Object> groups(
      Map<String, ParameterTable> tables, String begin, List<String> required) {
    Map<String, Object> groups = new LinkedHashMap<>();
    tables.forEach(
        (name, table) -> {
          if (!name.startsWith(begin)) {
            return;
          }
          String rest = name.substring(begin.length());
          int dot = rest.indexOf('.');
          if (dot < 0) {
            groups.put(rest, closed(table));
          } else {
            String group = rest.substring(0, dot);
            Map<String, Object> within = groups(tables, begin + group + ".", List.of());
            ParameterTable own = tables.get(begin + group);
            Map<String, Object> inside = own == null ? closedGroup(within) : closed(own);
            if (own != null) {
              within.forEach((key, value) -> property(inside, key, value));
            }
            if (required.contains(group)) {
              inside.put("minProperties", 1);
            }
            groups.put(group, inside);
          }
        });
    return groups;
  }

  private static void property(Map<String, Object> group, String key, Object value) {
    Map<String, Object> properties = new LinkedHashMap<>();
    ((Map<?, ?>) group.getOrDefault("properties", Map.of()))
        .forEach((k, v) -> properties.put(String.valueOf(k), v));
    properties.put(key, value);
    group.put("properties", properties);
  }

  /**
   * A group with the keys of a table.
   *
   * @param table the table
   * @return the schema
   */
  public static Map<String, Object> closed(ParameterTable table) {
    Map<String, Object> group = closedGroup(table(table));
    List<String> required =
        table.parameters().stream().filter(Parameter::required).map(Parameter::key).toList();
    if (!required.isEmpty()) {
      group.put("required", required);
    }
    return group;
  }

  /**
   * A group of keys.
   *
   * @param properties schemas by key; no other key is allowed
   * @return the schema
   */
  public static Map<String, Object> closedGroup(Map<String, Object> properties) {
    Map<String, Object> group = new LinkedHashMap<>();
    group.put("type", "object");
    group.put("properties", properties);
    group.put("additionalProperties", false);
    return group;
  }

  /**
   * The keys of a table.
   *
   * @param table the table
   * @return schemas by key
   */
  public static Map<String, Object> table(ParameterTable table) {
    Map<String, Object> properties = new LinkedHashMap<>();
    table.parameters().forEach(p -> properties.put(p.key(), value(p)));
    return properties;
  }

  static Map<String, Object> value(Parameter p) {
    Map<String, Object> value = new LinkedHashMap<>();
    switch (p.kind()) {
      case NUMBER -> {
        value.put("type", "number");
        value.put("minimum", number(p, p.min()));
        value.put("maximum", number(p, p.max()));
        value.put("multipleOf", number(p, 1));
      }
      case CHOICE -> value.put("enum", p.choices());
      case FLAG -> value.put("type", "boolean");
      case FILE -> value.put("type", "string");
    }
    if (!p.required() && p.kind() != Parameter.Kind.FILE) {
      value.put(
          "default",
          switch (p.kind()) {
            case NUMBER -> number(p, p.defaultValue());
            case CHOICE -> p.human(p.defaultValue());
            case FLAG -> p.defaultValue() == 1;
            case FILE -> "";
          });
    }
    return described(value, p.text() + (p.unit().isEmpty() ? "" : " Unit: " + p.unit() + "."));
  }

  private static BigDecimal number(Parameter p, long base) {
    return new BigDecimal(p.human(base));
  }

  static Map<String, Object> name(String description) {
    Map<String, Object> name = new LinkedHashMap<>();
    name.put("type", "string");
    name.put("pattern", NAME);
    return described(name, description);
  }

  /**
   * A text that is not blank.
   *
   * @param description what it is
   * @return the schema
   */
  public static Map<String, Object> text(String description) {
    Map<String, Object> text = new LinkedHashMap<>();
    text.put("type", "string");
    text.put("pattern", "\\S");
    return described(text, description);
  }

  /**
   * A schema with its description first.
   *
   * @param schema the schema
   * @param description what it is
   * @return the schema
   */
  public static Map<String, Object> described(Map<String, Object> schema, String description) {
    Map<String, Object> described = new LinkedHashMap<>();
    described.put("description", description);
    described.putAll(new java.util.TreeMap<>(schema));
    return described;
  }
}
