package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.weights.DepthBound;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunFile;
import org.stopwell.rig.weights.ShippedWeights;

/** A run keeps the weights that its controller read by, and is run again with them. */
class OwnWeightsTest {
  private static final String PLAN =
      """
      plan: 1
      name: own
      settings: own.yaml
      stage: length
      trials: 1
      time_limit_s: 20
      scene: {hand: {feed_mm_per_s: 1, passive_mm: 12}}
      factors:
        weights:
          own:
          shipped: {settings: {sense: {weights: shipped.copy}}}
      """;

  private static final String SETTINGS =
      """
      settings: 1
      name: own
      file: {size: 15, taper: 0.02}
      sense: {policy: approach, weights: own.weights}
      stages:
        length: {standoff_mm: 0.5, torque_ncm: 0.1}
      """;

  @TempDir Path dir;

  private final StringWriter out = new StringWriter();

  private int stopwell(String... words) {
    out.getBuffer().setLength(0);
    PrintWriter writer = new PrintWriter(out);
    return Main.run(words, writer, writer);
  }

  @Test
  void aRunIsReplayedWithTheWeightsThatItKeeps() throws Exception {
    DepthWeights shipped = ShippedWeights.get();
    DepthWeights own =
        new DepthWeights(
            new DepthWeights.Origin("a test", "none", 0, 0, List.of("T1"), "none"),
            shipped.validity(),
            shipped.alone(),
            shipped.recorded(),
            new DepthBound(DepthBound.NORMAL.sums(), new double[] {0}, new double[] {3}, 1_000));
    Files.writeString(dir.resolve("own.weights"), DepthWeightsText.encode(own));
    Files.writeString(dir.resolve("shipped.copy"), DepthWeightsText.encode(shipped));
    Files.writeString(dir.resolve("own.yaml"), SETTINGS);
    Path plan = Files.writeString(dir.resolve("plan.yaml"), PLAN);
    Path run = dir.resolve("run");
    stopwell("run", plan.toString(), "--out", run.toString());
    Files.delete(dir.resolve("own.weights"));
    Files.delete(dir.resolve("shipped.copy"));
    try (RunFile file = RunFile.load(run)) {
      List<Design.Weights> kept = file.header().design().weights();
      assertEquals(
          List.of("own.weights", "shipped.copy"), kept.stream().map(Design.Weights::name).toList());
      assertEquals(own.fingerprintText(), kept.get(0).fingerprint());
      assertEquals("a test", kept.get(0).recipe());
      assertEquals(DepthWeightsText.encode(own), kept.get(0).text());
    }
    assertEquals(0, stopwell("replay", run.toString()), out.toString());
    assertTrue(out.toString().contains("2 identical"), out.toString());
    assertEquals(0, stopwell("verify", run.toString()), out.toString());
    String line = "weights own.weights, " + own.fingerprintText() + ": a test";
    assertTrue(out.toString().contains(line), out.toString());
    String page = Files.readString(run.resolve("report.html"));
    assertTrue(page.contains("own.weights, " + own.fingerprintText() + ": a test"));
    assertTrue(page.contains("Weights of the depth estimate"));
  }
}
