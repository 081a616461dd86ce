package org.stopwell.harness.casework;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.plan.JsonSchema;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.bench.Scene;
import tools.jackson.jr.ob.JSON;

/** The published schema of case files is what the tables say. */
class CaseSchemaTest {
  private static final Path PUBLISHED = TestPlans.root().resolve("docs/schema/case.schema.json");

  /** With -Dstopwell.publish=true a stale file is written anew instead of failing. */
  @Test
  void theCaseSchemaIsUpToDate() throws IOException {
    String current = json();
    if (Boolean.getBoolean("stopwell.publish")) {
      Files.writeString(PUBLISHED, current);
    }
    assertTrue(
        Files.exists(PUBLISHED) && Files.readString(PUBLISHED).equals(current),
        PUBLISHED + " is stale; run: mvn test -Dtest=CaseSchemaTest -Dstopwell.publish=true");
  }

  @Test
  void everyNewCaseFitsTheSchema() {
    for (int tooth : List.of(11, 14, 26, 36, 55)) {
      String text = CaseTemplate.text(tooth, CaseTemplate.usual(tooth), "A1");
      assertEquals(
          List.of(),
          schema().validate(text, InputFormat.YAML).stream().map(Object::toString).toList());
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "tooth: 36 -> tooth: 99",
        "tooth: 36 -> tooth: 56",
        "tooth: 36 -> patient: 4711",
        "operator: A1 -> operator: Anna",
        "mb_cusp -> elbow",
        "  MB: -> Miller:",
        "length_mm: 13.2 -> lenght_mm: 13.2",
        "reference_to_orifice_mm: 7 -> reference_to_orifice_mm: 70",
        "settings: settings.yaml -> settings: 3"
      })
  void theSchemaRefusesWhatTheReaderRefuses(String slip) {
    String[] change = slip.split(" -> ", -1);
    String right = CaseTemplate.text(36, List.of("MB"), "A1");
    String wrong = right.replace(change[0], change[1]);
    assertFalse(wrong.equals(right), slip);
    assertFalse(schema().validate(wrong, InputFormat.YAML).isEmpty(), slip);
  }

  private static Schema schema() {
    return SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
        .getSchema(json(), InputFormat.JSON);
  }

  private static String json() {
    Map<String, Object> properties = new LinkedHashMap<>(JsonSchema.table(CaseTables.HEAD));
    Map<String, Object> teeth = new LinkedHashMap<>();
    teeth.put("enum", IntStream.rangeClosed(11, 85).filter(CaseTables::isTooth).boxed().toList());
    properties.put(CaseTables.TOOTH.key(), JsonSchema.described(teeth, CaseTables.TOOTH.text()));
    properties.put(
        CaseTables.OPERATOR,
        JsonSchema.described(
            Map.of("type", "string", "pattern", "^" + CaseTables.OPERATOR_CODE + "$"),
            "Code of the operator with at least one digit; never a name."));
    properties.put(
        CaseTables.SETTINGS, JsonSchema.text("Settings file, relative to the case file."));
    properties.put(CaseTables.STAGES, JsonSchema.stages());
    properties.put(CaseTables.SIMULATED, simulated());
    Map<String, Object> canal = new LinkedHashMap<>(JsonSchema.closed(CaseTables.CANAL));
    Map<String, Object> keys = new LinkedHashMap<>(JsonSchema.table(CaseTables.CANAL));
    keys.put(CaseTables.STAGES, Map.of("$ref", "#/properties/" + CaseTables.STAGES));
    keys.put(CaseTables.SIMULATED, Map.of("$ref", "#/properties/" + CaseTables.SIMULATED));
    canal.put("properties", keys);
    Map<String, Object> canals = new LinkedHashMap<>();
    canals.put("type", "object");
    canals.put("minProperties", 1);
    canals.put("propertyNames", Map.of("pattern", "^(" + CaseTables.CANAL_NAME + ")$"));
    canals.put("additionalProperties", canal);
    properties.put(CaseTables.CANALS, JsonSchema.described(canals, "The canals by name."));
    Map<String, Object> schema =
        JsonSchema.head(
            "The case of one tooth",
            properties,
            List.of("case", "tooth", CaseTables.OPERATOR, CaseTables.SETTINGS, CaseTables.CANALS));
    return JSON.std.with(JSON.Feature.PRETTY_PRINT_OUTPUT).asString(schema) + "\n";
  }

  private static Map<String, Object> simulated() {
    Map<String, Object> sections = new LinkedHashMap<>();
    Scene.tables().forEach((name, table) -> sections.put(name, JsonSchema.closed(table)));
    return JsonSchema.described(
        JsonSchema.closedGroup(sections),
        "What the bench plays: a model on the virtual and the emulated bench, a resistor network on"
            + " a physical one.");
  }
}
