package org.stopwell.harness.tryout;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.weights.ShippedWeights;

/** The engine of the page and the Java machine live the same life, bit for bit. */
class SameBitsTest {
  /** The file goes in as far as the motor stops, the chamber floods, it goes on, and out. */
  private static final String SCENE = "fluid.level_mm=12&stage=length&hand.start_above_mm=5";

  /** Depth of the hand, µm, demand, milliseconds, and a new level of the fluid, mm, or nothing. */
  private record Part(int depth, boolean demand, int milliseconds, String level) {}

  private static final List<Part> LIFE =
      List.of(
          new Part(500, true, 1_000, ""),
          new Part(6_000, true, 800, ""),
          new Part(12_000, true, 900, ""),
          new Part(14_500, true, 1_000, ""),
          new Part(15_300, true, 600, ""),
          new Part(15_300, true, 300, "19"),
          new Part(16_300, true, 400, ""),
          new Part(12_000, false, 700, "10"),
          new Part(-4_000, true, 1_500, ""));

  /** Speaks what {@link #java} writes, a line after every step. */
  private static final String DRIVER =
      """
      require('./engine.js')
      const engine = Stopwell.open(%s)
      const lines = []
      for (const [depth, demand, milliseconds, level] of %s) {
        engine.hand(depth)
        engine.demand(demand)
        if (level && engine.setting('fluid.level_mm', level)) {
          throw new Error(level)
        }
        for (let i = 0; i < milliseconds; i++) {
          engine.advance(1)
          lines.push(engine.hash(0) + ' ' + engine.hash(1))
        }
        for (const lane of [0, 1]) {
          lines.push(JSON.stringify(engine.frame(lane)), JSON.stringify(engine.scene(lane)), engine.sentence(lane))
        }
        lines.push(engine.advice())
      }
      lines.push(engine.plan().replaceAll('\\n', '|'))
      process.stdout.write(lines.join('\\n'))
      """;

  @TempDir Path folder;

  @Test
  void everyStepOfBothLanesHasTheSameState() throws Exception {
    List<String> here = java();
    assertTrue(
        here.stream().anyMatch(line -> line.contains("\"cause\":\"LEAKING\"")),
        "the chamber leaks on the way");
    assertTrue(
        here.stream().anyMatch(line -> line.contains("\"state\":\"TURNING\"")), "a motor turns");
    assertTrue(
        here.stream().anyMatch(line -> line.startsWith("Stopped because")), "a motor is stopped");
    List<String> there = script(TryPage.engine());
    for (int i = 0; i < Math.min(here.size(), there.size()); i++) {
      assertEquals(here.get(i), there.get(i), "line " + i);
    }
    assertEquals(here.size(), there.size());
  }

  /** So that the test above can fail: ln 2 of the engine is off by one bit in its last place. */
  @Test
  void oneBitOfOneConstantShows() throws Exception {
    double ln2 = 0.6931471803691238;
    String engine = TryPage.engine();
    String spoiled = engine.replace(Double.toString(ln2), Double.toString(Math.nextUp(ln2)));
    assertNotEquals(engine, spoiled, "the constant is in the engine");
    assertNotEquals(java(), script(spoiled));
  }

  private static List<String> java() throws SettingsException {
    TryMachine machine =
        TryMachine.open(
            SCENE, new LaneSettings(TryPage.resource("ratio.yaml"), ShippedWeights.get()));
    List<String> lines = new ArrayList<>();
    for (Part part : LIFE) {
      machine.hand(part.depth);
      machine.demand(part.demand);
      if (!part.level.isEmpty()) {
        assertEquals("", machine.setting("fluid.level_mm", part.level));
      }
      for (int i = 0; i < part.milliseconds; i++) {
        machine.advance(1);
        lines.add(machine.hash(0) + " " + machine.hash(1));
      }
      for (int lane = 0; lane < TryMachine.LANES; lane++) {
        lines.add(machine.frame(lane));
        lines.add(machine.scene(lane));
        lines.add(machine.sentence(lane));
      }
      lines.add(machine.advice());
    }
    lines.add(machine.plan().replace('\n', '|'));
    return lines;
  }

  private List<String> script(String engine) throws Exception {
    StringBuilder parts = new StringBuilder("[");
    for (Part part : LIFE) {
      parts.append(
          "[%d,%b,%d,'%s'],".formatted(part.depth, part.demand, part.milliseconds, part.level));
    }
    Files.writeString(folder.resolve("engine.js"), engine);
    Files.writeString(
        folder.resolve("driver.js"), DRIVER.formatted("'" + SCENE + "'", parts + "]"));
    Path lines = folder.resolve("lines");
    Process process =
        new ProcessBuilder("node", "driver.js")
            .directory(folder.toFile())
            .redirectOutput(lines.toFile())
            .redirectErrorStream(true)
            .start();
    int code = process.waitFor();
    String said = Files.readString(lines, StandardCharsets.UTF_8);
    assertEquals(0, code, said);
    return List.of(said.split("\n", -1));
  }
}
