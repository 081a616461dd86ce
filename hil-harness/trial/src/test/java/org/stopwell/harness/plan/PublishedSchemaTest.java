package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.networknt.schema.Error;
import com.networknt.schema.InputFormat;
import com.networknt.schema.Schema;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.trial.TestPlans;
import tools.jackson.jr.ob.JSON;

/** What is published under docs is what the tables say, and an independent validator agrees. */
class PublishedSchemaTest {
  private static final Path DOCS = docs();

  @Test
  void theSettingsSchemaIsUpToDate() throws IOException {
    assertPublished(DOCS.resolve("schema/settings.schema.json"), json(JsonSchema.settings()));
  }

  @Test
  void thePlanSchemaIsUpToDate() throws IOException {
    assertPublished(DOCS.resolve("schema/plan.schema.json"), json(JsonSchema.plan()));
  }

  @Test
  void theSpaceSchemaIsUpToDate() throws IOException {
    assertPublished(DOCS.resolve("schema/space.schema.json"), json(JsonSchema.space()));
  }

  @Test
  void theSchemaOfImportPlansIsUpToDate() throws IOException {
    assertPublished(DOCS.resolve("schema/import.schema.json"), json(ImportSchema.of()));
  }

  /** Reader and schema agree on the shipped plan, and on one slip after the other in it. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "import: 1 -> import: 1",
        "import: 1 -> import: 2",
        "place: -> laboratory:",
        "tolerance_mm: 0.5 -> tolerance_mm: wide",
        "uncertainty_mm: 0.05 -> uncertainty_mm: 6",
        "uncertainty_mm: 0.05 -> constriction_u95_mm: 0.05",
        "uncertainty_mm: 0.05 -> constriction_u95_mm: 0.101",
        "s10: 1.0} -> s10: 5.5}",
        "s10: 1.0} -> s 10: 1.0}",
        "{share: 0.8, each: condition} -> {share: 1.8}",
        "claims: -> seed: 7\nclaims:",
        "over_travel: {share -> refused: {share",
        "primary: stop_error -> primary: mood",
        "claims: -> devices: [A, B]\nclaims:",
        "claims: -> devices: [A B]\nclaims:",
        "claims: -> blind: device\nclaims:",
        "claims: -> blind: operator\nclaims:",
        "claims: -> trials: 59\nclaims:"
      })
  void theSchemaOfImportPlansAgreesWithTheReader(String slip) throws Exception {
    List<String> sides = List.of(slip.split(" -> "));
    String shipped = Files.readString(DOCS.resolve("import/plan.yaml"));
    String changed = shipped.replace(sides.get(0), sides.get(1));
    assertTrue(shipped.contains(sides.get(0)), slip);
    Schema schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(json(ImportSchema.of()), InputFormat.JSON);
    List<Error> errors = List.copyOf(schema.validate(changed, InputFormat.YAML));
    boolean read = true;
    try {
      StopPlan.read(new Source("plan.yaml", changed));
    } catch (PlanException e) {
      read = false;
    }
    assertEquals(read, errors.isEmpty(), slip + ": " + errors);
  }

  @Test
  void everyShippedSpaceIsRightByReaderAndBySchema() throws Exception {
    Schema schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(json(JsonSchema.space()), InputFormat.JSON);
    try (Stream<Path> files = Files.list(DOCS.resolve("spaces"))) {
      List<Path> spaces = files.filter(f -> f.toString().endsWith(".yaml")).sorted().toList();
      assertTrue(!spaces.isEmpty());
      for (Path file : spaces) {
        Source source = Source.of(file);
        Space.read(source, Policies.BUILT_IN);
        assertEquals(
            List.of(), List.copyOf(schema.validate(source.text(), InputFormat.YAML)), file + "");
      }
    }
  }

  @Test
  void theReferencePageIsUpToDate() throws IOException {
    Path file = DOCS.resolve("plan-reference.md");
    String mark = "<!-- From here on made from the tables in the code. -->\n";
    String page = Files.exists(file) ? Files.readString(file) : mark;
    int cut = page.indexOf(mark);
    assertTrue(cut >= 0, "docs/plan-reference.md has lost its mark");
    assertPublished(file, page.substring(0, cut + mark.length()) + ReferencePage.tables());
  }

  @Test
  void everyShippedFileIsRightByTableAndBySchema() throws Exception {
    for (Path file : shipped()) {
      Source source = Source.of(file);
      if (source.isPlan()) {
        Plan.read(source);
      } else {
        Settings.read(source);
      }
      assertEquals(List.of(), errors(source), file.toString());
    }
    assertTrue(shipped().size() >= 2);
  }

  /** One slip per line: what to replace in the shipped files, and by what. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "trials: -> trails:",
        "trials: 20 -> trials: 0",
        "trials: 20 -> trials: many",
        "trials: 20 -> trials: 2.5",
        "plan: 1 -> plan: 2",
        "name: reference-canal -> name: 7",
        "name: reference-canal -> name: a/b",
        "stage: length -> stage: lenght",
        "stage: length\n -> ",
        "tolerance_mm: 0.5 -> tolerance_um: 500",
        "tolerance_mm: 0.5 -> tolerance_mm: 0.00001",
        "tolerance_mm: 0.5 -> tolerance_mm: '0.5'",
        "tolerance_mm: 0.5 -> tolerance_mm: [0.5]",
        "level_mm: 8 -> level_mm: 41",
        "level_mm: 8 -> level: 8",
        "expect: refuse -> expect: perhaps",
        "share: 0.95 -> share: 95",
        "within: -> inside:",
        "settings: 1 -> settings: one",
        "speed_rpm: 300 -> speed_rpm: 0",
        "speed_rpm: 300 -> speed_hz: 5",
        "standoff_mm: 0.5 -> standoff_mm: 9",
        "standoff_mm: 0.5 -> standoff_mm: 0.0001",
        "apical: hold -> apical: explode",
        "policy: ratio -> policy: guess",
        "  length:\n -> lengths:\n",
        "{ratio: -> {ratioo:",
        "remaining_mm: 0.25 -> remaining_mm: near",
        "from: 0.35 -> form: 0.35",
      })
  void tableAndSchemaRefuseTheSameSlip(String slip) throws Exception {
    String[] change = slip.split(" -> ", -1);
    int changed = 0;
    for (String name : List.of("plans/reference-canal.yaml", "settings/reference-canal.yaml")) {
      Source right = Source.of(DOCS.resolve(name));
      String wrong = right.text().replace(change[0], change[1]);
      if (!wrong.equals(right.text())) {
        changed++;
        Source source = new Source(right.name(), wrong);
        assertTrue(!mistakes(source).isEmpty(), "the tables let it through: " + slip);
        assertTrue(!errors(source).isEmpty(), "the schema lets it through: " + slip);
      }
    }
    assertTrue(changed > 0, "nothing to change: " + slip);
  }

  private static List<Mistake> mistakes(Source source) {
    try {
      if (source.isPlan() || source.name().contains("plans/")) {
        Plan.read(source);
      } else {
        Settings.read(source);
      }
      return List.of();
    } catch (PlanException e) {
      return e.mistakes();
    }
  }

  private static List<String> errors(Source source) {
    Map<String, Object> made =
        source.name().contains("plans/") ? JsonSchema.plan() : JsonSchema.settings();
    Schema schema =
        SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
            .getSchema(json(made), InputFormat.JSON);
    List<String> errors = new ArrayList<>();
    for (Error error : schema.validate(source.text(), InputFormat.YAML)) {
      errors.add(error.toString());
    }
    return errors;
  }

  private static List<Path> shipped() throws IOException {
    List<Path> files = new ArrayList<>();
    for (String folder : List.of("plans", "settings")) {
      try (Stream<Path> found = Files.walk(DOCS.resolve(folder))) {
        found.filter(f -> f.toString().endsWith(".yaml")).sorted().forEach(files::add);
      }
    }
    return files;
  }

  /** With -Dstopwell.publish=true a stale file is written anew instead of failing. */
  private static void assertPublished(Path file, String current) throws IOException {
    if (Boolean.getBoolean("stopwell.publish")) {
      Files.createDirectories(file.getParent());
      Files.writeString(file, current);
    }
    assertTrue(
        Files.exists(file) && Files.readString(file).equals(current),
        file + " is stale; run: mvn test -Dtest=PublishedSchemaTest -Dstopwell.publish=true");
  }

  private static String json(Map<String, Object> schema) {
    return JSON.std.with(JSON.Feature.PRETTY_PRINT_OUTPUT).asString(schema) + "\n";
  }

  private static Path docs() {
    return TestPlans.root().resolve("docs");
  }
}
