package org.stopwell.harness.protocol;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.SortedMap;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.plan.Canonical;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trial.TestPlans;

/** What was fixed before the first trial stays fixed, or is seen to have changed. */
class FreezeTest {
  @TempDir Path dir;

  @Test
  void layoutAndCommentsDoNotCountAndValuesDo() throws Exception {
    SortedMap<String, String> items = items(text());
    assertEquals(
        items, items("# a comment\n" + text().replace("{kind: resistors,", "{  kind: resistors,")));
    assertEquals(items, items(text().replace("feed_mm_per_s: 1,", "feed_mm_per_s: 1.00,")));
    assertNotEquals(items, items(text().replace("feed_mm_per_s: 1,", "feed_mm_per_s: 1.1,")));
    assertEquals("1", items.get("plan.scene.hand.feed_mm_per_s"));
    assertTrue(items.containsKey("settings.stages.length.standoff_mm"), items.toString());
  }

  @Test
  void theOrderOfFactorsCountsBecauseTheOrderOfTrialsFollowsIt() throws Exception {
    String sound = "    sound:\n      canal: {body_ohm: 6500}\n";
    String swapped = text().replace(sound, "") + sound;
    assertNotEquals(items(text()).get("plan.conditions"), items(swapped).get("plan.conditions"));
  }

  @Test
  void whatIsReadIsWhatWasWritten() throws Exception {
    Path file = dir.resolve("plan.frozen");
    Freeze freeze =
        new Freeze("2026-01-01T00:00:00Z", new TreeMap<>(Map.of("a", "1\n\\n = 2", "b", "")));
    freeze.write(file);
    assertEquals(freeze, Freeze.read(file));
    assertThrows(Freeze.FreezeException.class, () -> freeze.write(file));
  }

  @Test
  void anOlderFileIsReadAndANewerOneIsRefused() throws Exception {
    Path file = dir.resolve("plan.frozen");
    // As version 2 wrote it: sha256sum of the line "plan.trials = 20", without its end.
    String text =
        """
        # A frozen plan of Stopwell. One value a line; a changed line no longer gives the hash.
        version = 2
        sha256 = %s
        frozen_at = then
        plan.trials = 20
        """
            .formatted("6648c55833417eb643c15d52980a80b2788366afd066e77b6585f541965a35f8");
    Files.writeString(file, text);
    Freeze freeze = Freeze.read(file);
    assertEquals(new Freeze("then", new TreeMap<>(Map.of("plan.trials", "20")), false), freeze);
    Files.writeString(file, text.replace("version = 2\n", ""));
    assertEquals(freeze, Freeze.read(file), "version 1 has no line with its version");
    Files.writeString(file, text.replace("version = 2", "version = 4"));
    Freeze.FreezeException e = assertThrows(Freeze.FreezeException.class, () -> Freeze.read(file));
    assertTrue(
        String.valueOf(e.getMessage())
            .endsWith("has version 4; this program reads versions 1 to 3"),
        e.toString());
  }

  @Test
  void aDateThatWasChangedByHandIsRefused() throws Exception {
    Path file = dir.resolve("plan.frozen");
    new Freeze("2026-01-01T00:00:00Z", new TreeMap<>(Map.of("plan.trials", "20"))).write(file);
    Files.writeString(file, Files.readString(file).replace("2026", "2019"));
    Freeze.FreezeException e = assertThrows(Freeze.FreezeException.class, () -> Freeze.read(file));
    assertTrue(String.valueOf(e.getMessage()).contains("was changed: its lines"), e.toString());
  }

  @Test
  void everyDifferenceIsADeviation() {
    Freeze freeze =
        new Freeze("then", new TreeMap<>(Map.of("same", "1", "gone", "2", "other", "3")));
    assertEquals(
        List.of(
            new Deviation("gone", "2", ""),
            new Deviation("new", "", "9"),
            new Deviation("other", "3", "4")),
        freeze.against(Map.of("same", "1", "other", "4", "new", "9")).deviations());
  }

  @Test
  void aFreezeThatWasChangedByHandIsRefused() throws Exception {
    Path file = dir.resolve("plan.frozen");
    new Freeze("then", new TreeMap<>(Map.of("plan.trials", "20"))).write(file);
    Files.writeString(file, Files.readString(file).replace("plan.trials = 20", "plan.trials = 5"));
    Freeze.FreezeException e = assertThrows(Freeze.FreezeException.class, () -> Freeze.read(file));
    assertTrue(String.valueOf(e.getMessage()).contains("was changed: its lines"), e.toString());
  }

  private static String text() throws Exception {
    return TestPlans.quick(2).source().text();
  }

  private static SortedMap<String, String> items(String text) throws Exception {
    Plan plan = Plan.read(new Source("quick.yaml", text), TestPlans.quick(2).settings().source());
    return Canonical.of(plan, null);
  }
}
