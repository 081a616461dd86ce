package org.stopwell.harness.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthNetwork;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.rig.weights.ShippedWeights;

/** Settings name the weights that policy approach reads by. */
class SettingsWeightsTest {
  private static final String SETTINGS =
      """
      settings: 1
      name: told
      file: {size: 15, taper: 0.02}
      sense:
        policy: approach
        weights: my.weights
      stages:
        length: {standoff_mm: 0.5, torque_ncm: 0.1}
      """;

  private static final String OWN =
      DepthWeightsText.encode(
          new DepthWeights(
              DepthWeights.Origin.NONE,
              new DepthWeights.Validity(
                  List.of(400, 1500, 7000, 20_000), List.of(10, 15), List.of(200, 400), List.of()),
              DepthNetwork.silent(DepthWeights.INPUTS, 2 * DepthWeights.TARGETS),
              Optional.empty(),
              DepthBound.NORMAL));

  @TempDir Path directory;

  private Settings read(String text) throws Exception {
    Path file = directory.resolve("told.yaml");
    Files.writeString(file, text);
    return Settings.read(Source.of(file));
  }

  private List<String> mistakes(String text) {
    return assertThrows(PlanException.class, () -> read(text)).mistakes().stream()
        .map(Mistake::toString)
        .map(line -> line.replace(directory + "/", ""))
        .toList();
  }

  @Test
  void theFileBesideTheSettingsIsRead() throws Exception {
    Files.writeString(directory.resolve("my.weights"), OWN);
    Settings own = read(SETTINGS);
    assertEquals("my.weights", own.weights().name());
    assertEquals(OWN, own.weights().text());
    assertEquals(400, own.controller().sensedHertz()[0], "the weights state the frequencies");
    Settings shipped = read(SETTINGS.replace("  weights: my.weights\n", ""));
    assertEquals(WeightsSource.SHIPPED, shipped.weights().name());
    assertEquals("", shipped.weights().text());
    assertEquals(
        ShippedWeights.get().fingerprint(),
        shipped.controller().weights().orElseThrow().fingerprint());
    assertNotEquals(own.controller().fingerprint(), shipped.controller().fingerprint());
  }

  @Test
  void whatIsWrongIsNamedByTheLineOfBothFiles() throws Exception {
    assertEquals(
        List.of("told.yaml:6: sense.weights: my.weights: no such file"), mistakes(SETTINGS));
    Files.writeString(directory.resolve("my.weights"), OWN.replace("seed: 0", "seed: x"));
    assertEquals(
        List.of("told.yaml:6: sense.weights: my.weights:4: seed: \"x\" is not a whole number"),
        mistakes(SETTINGS));
    Files.writeString(directory.resolve("my.weights"), OWN);
    assertEquals(
        List.of(
            "told.yaml:3: file.size: 16 1/100 mm is outside 10 to 15, the files that the weights"
                + " were fitted for; use such a file, other weights or another policy"),
        mistakes(SETTINGS.replace("size: 15", "size: 16")));
    List<String> unread = mistakes(SETTINGS.replace("policy: approach", "policy: locator"));
    assertTrue(
        unread.contains(
            "told.yaml:6: sense.weights: policy locator does not read this key; remove it"),
        unread.toString());
  }

  /** A run file keeps the texts: nothing is read from the disk then. */
  @Test
  void keptSettingsReadTheWeightsThatWereKeptWithThem() throws Exception {
    Settings kept =
        Settings.read(new Source("the recorded settings", SETTINGS, Map.of("my.weights", OWN)));
    assertEquals(OWN, kept.weights().text());
    Files.writeString(directory.resolve("my.weights"), OWN);
    PlanException e =
        assertThrows(
            PlanException.class,
            () ->
                Settings.read(
                    new Source(directory.resolve("told.yaml").toString(), SETTINGS, Map.of())));
    assertTrue(String.valueOf(e.getMessage()).contains("my.weights: is not kept with"));
  }

  /** Each level of a factor may read by weights of its own. */
  @Test
  void aLevelMayNameOtherWeights() throws Exception {
    Files.writeString(directory.resolve("my.weights"), OWN);
    Settings shipped = read(SETTINGS.replace("  weights: my.weights\n", ""));
    String plan =
        """
        plan: 1
        name: two
        settings: told.yaml
        stage: length
        trials: 1
        factors:
          weights:
            shipped:
            own: {settings: {sense: {weights: my.weights}}}
        """;
    Path file = directory.resolve("plan.yaml");
    Files.writeString(file, plan);
    Plan read = Plan.read(Source.of(file));
    List<WeightsSource> weights = WeightsSource.of(read);
    assertEquals(
        List.of(WeightsSource.SHIPPED, "my.weights"),
        weights.stream().map(WeightsSource::name).toList());
    assertEquals(
        shipped.controller().fingerprint(),
        read.plannedConditions().get(0).settings().controller().fingerprint());
    List<SettingsGroup> groups = SettingsGroup.of(read);
    assertEquals(2, groups.size());
    assertEquals("sense.weights shipped → my.weights", groups.get(1).changeWords());
    assertEquals(
        weights.get(1).weights().fingerprintText(),
        Canonical.of(read, null).get("weights.my.weights"));
  }
}
