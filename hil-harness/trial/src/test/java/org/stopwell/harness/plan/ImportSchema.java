package org.stopwell.harness.plan;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.stopwell.harness.trial.Expectation;

/** The JSON Schema of plans of stops that were measured elsewhere. */
final class ImportSchema {
  private ImportSchema() {}

  /**
   * The schema.
   *
   * @return nested maps and lists
   */
  static Map<String, Object> of() {
    Map<String, Object> properties = new LinkedHashMap<>(JsonSchema.table(StopPlanReader.HEAD));
    properties.put("name", JsonSchema.name("Name of the plan."));
    properties.put("purpose", JsonSchema.text("Purpose of the plan."));
    properties.put("place", JsonSchema.text("Who measures; no name of a person."));
    properties.put(StopPlanReader.STANDOFFS, standoffs());
    properties.put(StopPlanReader.DEVICES, codes("Codes of the devices; as in the table without."));
    properties.put(StopPlanReader.OPERATORS, codes("Codes of the operators, for a schedule."));
    properties.put(StopPlanReader.TEETH, codes("Codes of the teeth, for a schedule."));
    properties.put(
        "claims",
        JsonSchema.described(
            JsonSchema.closedGroup(JsonSchema.claims(e -> e.isAbout(Expectation.STOP))),
            "Claims that the stops must show."));
    properties.put(
        "analysis",
        JsonSchema.described(
            JsonSchema.closedGroup(new LinkedHashMap<>(JsonSchema.table(PlanTables.ANALYSIS))),
            "Further statistics of the report."));
    properties.put(ProtocolTables.ENDPOINTS, JsonSchema.endpoints());
    properties.put(
        ProtocolTables.BLIND,
        JsonSchema.described(
            Map.of("const", StopPlan.FACTORS.get(0)), "The devices go by codes until unblind."));
    return JsonSchema.head(
        "A plan of stops that were measured elsewhere",
        properties,
        List.of("import", "name", StopPlanReader.STANDOFFS));
  }

  private static Map<String, Object> standoffs() {
    return JsonSchema.described(
        Map.of(
            "type",
            "object",
            "minProperties",
            1,
            "propertyNames",
            Map.of("pattern", "^" + StopPlanReader.CODE + "$"),
            "additionalProperties",
            JsonSchema.value(StopPlanReader.STANDOFF)),
        "Distance short of the foramen that each setting claims, by its code.");
  }

  private static Map<String, Object> codes(String what) {
    return JsonSchema.described(
        Map.of(
            "type",
            "array",
            "uniqueItems",
            true,
            "items",
            new TreeMap<>(Map.of("type", "string", "pattern", "^" + StopPlanReader.CODE + "$"))),
        what);
  }
}
