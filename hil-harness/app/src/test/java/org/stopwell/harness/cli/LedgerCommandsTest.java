package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.trial.TestPlans;

/** Running a frozen plan until it passes is seen in what the last run shows. */
class LedgerCommandsTest {
  private record Said(int code, String out, String err) {}

  @TempDir Path dir;
  private Path plan = Path.of("");

  @BeforeEach
  void writePlan() throws Exception {
    plan = dir.resolve("plan.yaml");
    Files.writeString(plan, TestPlans.quick(1).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
  }

  @Test
  void theSecondRunNamesTheFirstBeforeItsVerdict() throws Exception {
    stopwell("run", plan, "--freeze", "--out", dir.resolve("runs/a"));
    Said second = stopwell("run", plan, "--seed", "77", "--out", dir.resolve("runs/b"));
    String verdict =
        second
            .out()
            .lines()
            .filter(l -> l.contains("Run 2 under this frozen plan."))
            .findFirst()
            .orElse("");
    assertTrue(verdict.matches("(PASS|FAIL|UNDECIDED): .*"), second.out());
    assertTrue(verdict.contains("Run 1 (a): "), verdict);
    assertTrue(
        verdict.contains("Not as frozen: 1 deviation from the frozen plan. plan.seed:"), verdict);
    String page = Files.readString(dir.resolve("runs/b/report.html"));
    int head = page.indexOf("Not as frozen: 1 deviation");
    int place = page.indexOf("Run 2 under this frozen plan. Run 1 (a): ");
    assertTrue(head > 0 && place > head && place < page.indexOf("<div class=\"verdict"), page);
    String junit = Files.readString(dir.resolve("runs/b/junit.xml"));
    assertTrue(junit.contains("<property name=\"frozen_plan_run\" value=\"Run 2 under"), junit);
    assertTrue(
        junit.contains("<property name=\"frozen_plan_warning\" value=\"Not as frozen"), junit);

    Said verified = stopwell("verify", dir.resolve("runs/b"));
    assertEquals(0, verified.code(), verified.out());
    assertTrue(verified.out().contains("Run 2 under this frozen plan."), verified.out());

    delete(dir.resolve("runs/a"));
    Said again = stopwell("report", dir.resolve("runs/b"));
    assertTrue(again.out().contains(", directory gone."), again.out());
    assertEquals(0, stopwell("verify", dir.resolve("runs/b")).code());

    Path ledger = dir.resolve("runs/ledger.jsonl");
    String whole = Files.readString(ledger);
    Files.writeString(ledger, whole.replaceFirst("\"plan\":\"", "\"plan\":\"x"));
    Said broken = stopwell("verify", dir.resolve("runs/b"));
    assertEquals(1, broken.code(), broken.out());
    assertTrue(broken.out().contains("FAIL: The ledger is broken: ledger.jsonl:"), broken.out());
    stopwell("report", dir.resolve("runs/b"));
    String marked = Files.readString(dir.resolve("runs/b/report.html"));
    assertTrue(
        marked.indexOf("The ledger is broken") < marked.indexOf("<div class=\"verdict"), marked);
    assertTrue(marked.contains("The ledger is broken"), marked);

    Files.delete(ledger);
    Said missing = stopwell("report", dir.resolve("runs/b"));
    assertTrue(
        missing.out().contains("The ledger ledger.jsonl beside the run is missing."),
        missing.out());
    Said mailed = stopwell("verify", dir.resolve("runs/b"));
    assertEquals(0, mailed.code(), "a mailed run has no ledger beside it: " + mailed.out());
    assertTrue(mailed.out().contains("not checked: the ledger"), mailed.out());
  }

  @Test
  void aPlanThatIsNotFrozenHasNoLedger() throws Exception {
    Said said = stopwell("run", plan, "--out", dir.resolve("runs/a"));
    assertFalse(Files.exists(dir.resolve("runs/ledger.jsonl")), said.out());
    assertFalse(Files.readString(dir.resolve("runs/a/report.html")).contains("ledger"));
  }

  private static void delete(Path directory) throws Exception {
    try (Stream<Path> files = Files.list(directory)) {
      for (Path file : files.toList()) {
        Files.delete(file);
      }
    }
    Files.delete(directory);
  }

  private static Said stopwell(Object... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] words = Stream.of(args).map(Object::toString).toArray(String[]::new);
    int code = Main.run(words, new PrintWriter(out, true), new PrintWriter(err, true));
    return new Said(code, out.toString(), err.toString());
  }
}
