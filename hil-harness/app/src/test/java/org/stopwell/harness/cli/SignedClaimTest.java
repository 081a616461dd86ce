package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;

/** The page "From a plan to a signed claim", walked with a smaller copy of its plan. */
class SignedClaimTest {
  private static final Path PAGE = Path.of("../../docs/signed-claim.md");

  @TempDir Path dir;

  private record Said(int code, String out, String err) {}

  @Test
  void theCommandsOfThePageLeadToAVerdict() throws Exception {
    Path plan = dir.resolve("signed-claim.yaml");
    Files.writeString(plan, smaller(Files.readString(TestPlans.file("signed-claim"))));
    Files.copy(
        Path.of("../../docs/settings/reference-canal.yaml"), dir.resolve("reference-canal.yaml"));
    List<String> commands =
        Files.readAllLines(PAGE).stream()
            .filter(line -> line.startsWith("    ./stopwell "))
            .map(line -> line.substring("    ./stopwell ".length()))
            .toList();
    assertEquals(
        List.of("sentinel", "freeze", "run", "report", "unblind", "verify"),
        commands.stream().map(c -> c.split(" ", 2)[0]).toList());
    Map<String, String> places =
        Map.of(
            "docs/plans/signed-claim.yaml", plan.toString(),
            "runs/signed", dir.resolve("signed").toString(),
            "1000", "30");
    StringBuilder screen = new StringBuilder();
    for (String command : commands) {
      String[] words = command.split(" ", -1);
      for (int i = 0; i < words.length; i++) {
        words[i] = places.getOrDefault(words[i], words[i]);
      }
      Said said = stopwell(words);
      assertEquals(0, said.code(), command + "\n" + said.err() + said.out());
      screen.append(said.out());
    }
    String all = screen.toString();
    assertTrue(all.contains("these trials agree with it"), all);
    assertTrue(all.contains("A sound bench gives a false alarm in 0.5 % of campaigns"), all);
    assertTrue(all.contains("no deviation."), all);
    assertTrue(all.contains(", 0 bad."), all);
    assertTrue(all.contains("= hand hesitating"), all);
    assertTrue(all.contains("PASS: "), all);
    Path run = dir.resolve("signed");
    try (RunFile file = RunFile.load(run)) {
      assertTrue(file.finishedAt().isPresent());
    }
    String report = Files.readString(run.resolve("report.html")).replace('\u00a0', ' ');
    assertFalse(report.contains("Blinded: "), "unblinded");
    assertTrue(report.contains("A lasting shift is found with 90 % probability"), "power");
  }

  /** The same protocol with fewer trials and laxer claims; a plan without size needs no number. */
  private static String smaller(String plan) {
    return plan.replaceFirst("(?s)\nsize:.*", "\n")
        .replaceFirst("\ntrials: \\d+", "\ntrials: 12")
        .replaceFirst("\ncanal_trials: \\d+", "\ncanal_trials: 1")
        .replaceFirst("share: 0\\.95", "share: 0.8")
        .replaceFirst("share: 0\\.05", "share: 0.2")
        .replace("../settings/", "");
  }

  private static Said stopwell(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int code = Main.run(args, new PrintWriter(out, true), new PrintWriter(err, true));
    return new Said(code, out.toString(), err.toString());
  }
}
