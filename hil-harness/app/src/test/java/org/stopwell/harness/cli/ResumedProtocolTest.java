package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.harness.trial.TrialResult;

/** A power cut changes neither which trials count nor when the stopping rule ends a campaign. */
class ResumedProtocolTest {
  @TempDir Path dir;

  @Test
  void cutAnywhereTheCampaignEndsAtTheSameTrialWithTheSameReport() throws Exception {
    Path plan = dir.resolve("plan.yaml");
    Files.writeString(
        plan,
        TestPlans.quick(30).source().text()
            + """
            blind: network
            sentinels:
              every: 4
              expected_mm: 0.5
              sd_mm: 0.2
              scene:
                canal: {body_ohm: 6500}
            exclude: {after_rig_fault: 1}
            claims:
              within: {share: 0.6, confidence: 0.95}
            stop: {rule: anytime, claim: within}
            """);
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(2).settings().source().text());
    Path whole = dir.resolve("whole");
    stopwell("run", plan, "--out", whole, "--jobs", 2);
    List<TrialResult> results = results(whole);
    String junit = withoutFingerprint(whole.resolve("junit.xml"));
    for (int after : new int[] {0, 1, 5, results.size() - 1}) {
      Path cut = dir.resolve("cut-" + after);
      try (RunFile from = RunFile.load(whole);
          RunFile to = RunFile.create(cut, from.header())) {
        for (TrialResult result : results.subList(0, after)) {
          to.append(result, from.trace(result.index()).orElse(null));
        }
      }
      Files.copy(whole.resolve("blinding.key"), cut.resolve("blinding.key"));
      stopwell("resume", cut, "--jobs", 2);
      assertEquals(results, results(cut), "cut after " + after);
      assertEquals(junit, withoutFingerprint(cut.resolve("junit.xml")), "cut after " + after);
      assertEquals(
          withoutFingerprint(whole.resolve("report.html")),
          withoutFingerprint(cut.resolve("report.html")),
          "cut after " + after);
    }
  }

  /** The fingerprint covers the note of the resumption and the date of the end. */
  private static String withoutFingerprint(Path file) throws Exception {
    String text = Files.readString(file);
    String without =
        text.replaceAll("<property name=\"fingerprint\" value=\"[0-9a-f]{64}\"/>", "")
            .replaceAll("<dt>Finished</dt>\\s*<dd>[0-9TZ:.-]+</dd>\\s*", "")
            .replaceAll("<dt>Fingerprint of this run</dt>\\s*<dd>[0-9a-f]{64}</dd>", "");
    assertNotEquals(text, without, "it has a fingerprint");
    return without;
  }

  private static List<TrialResult> results(Path run) throws Exception {
    try (RunFile file = RunFile.load(run)) {
      return file.results();
    }
  }

  private static void stopwell(Object... args) {
    String[] words = new String[args.length];
    for (int i = 0; i < words.length; i++) {
      words[i] = args[i].toString();
    }
    StringWriter err = new StringWriter();
    int code = Main.run(words, new PrintWriter(new StringWriter()), new PrintWriter(err, true));
    assertEquals(0, code, err.toString());
  }
}
