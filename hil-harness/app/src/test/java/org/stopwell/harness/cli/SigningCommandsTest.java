package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.trial.TestPlans;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.ObjectMapper;

/** From a key to a verified run: what stands, what does not, and the exit codes. */
class SigningCommandsTest {
  private record Said(int code, String out, String err) {}

  @TempDir Path dir;
  private Path key = Path.of("");
  private Path pub = Path.of("");
  private Path run = Path.of("");

  @BeforeEach
  void aSignedRun() throws Exception {
    key = dir.resolve("lab.key");
    pub = dir.resolve("lab.key.pub");
    run = dir.resolve("run");
    Said made = stopwell("key", key);
    assertEquals(0, made.code(), made.err());
    assertTrue(made.out().matches("(?s).*key number [0-9a-f]{64}\n"), made.out());
    try (RunFile file = RunFile.create(run, SampleRun.header(30, 0))) {
      for (int i = 0; i < 30; i++) {
        file.append(SampleRun.stop(i, i * 7), null);
      }
      file.finish("then");
      RunReport.write(file, Evidence.of(file, run), run);
    }
    Said signed = stopwell("sign", run, "--key", key);
    assertEquals(0, signed.code(), signed.err());
    assertTrue(Files.exists(run.resolve("run.db.sig")));
    assertTrue(Files.exists(run.resolve("report.html.sig")));
  }

  @Test
  void bothSignaturesStand() throws Exception {
    Said said = stopwell("verify", run, "--key", pub);
    assertEquals(0, said.code(), said.out());
    assertTrue(
        said.out().contains("PASS: run.db.sig stands: the fingerprint of a run"), said.out());
    assertTrue(said.out().contains("PASS: report.html.sig stands: the report"), said.out());
    Said without = stopwell("verify", run);
    assertEquals(0, without.code(), without.out());
    assertTrue(without.out().contains("run.db.sig was not checked; give the public key"));
  }

  @Test
  void aReportMadeAnewBreaksItsOwnSignatureOnly() throws Exception {
    Path page = run.resolve("report.html");
    Files.writeString(page, Files.readString(page) + "<!-- made anew -->");
    Said said = stopwell("verify", run, "--key", pub);
    assertEquals(1, said.code(), said.out());
    assertTrue(said.out().contains("PASS: run.db.sig stands"), said.out());
    assertTrue(said.out().contains("FAIL: report.html.sig signs the hash"), said.out());
    JsonNode json =
        new ObjectMapper().readTree(stopwell("verify", run, "--key", pub, "--json").out());
    assertEquals("FAIL", json.get("verdict").asString());
    assertEquals("PASS", json.get("signatures").get("run.db.sig").asString());
    assertEquals("FAIL", json.get("signatures").get("report.html.sig").asString());
    Said refused = stopwell("sign", run, "--key", key);
    assertEquals(1, refused.code(), refused.out());
    assertTrue(refused.out().contains("Nothing was signed."), refused.out());
    stopwell("report", run);
    assertEquals(0, stopwell("sign", run, "--key", key).code());
    assertEquals(0, stopwell("verify", run, "--key", pub).code());
    Files.delete(page);
    assertTrue(stopwell("verify", run, "--key", pub).out().contains("report.html is missing or"));
    Files.delete(run.resolve("report.html.sig"));
    assertTrue(
        stopwell("verify", run, "--key", pub).out().contains("FAIL: report.html.sig is missing"));
  }

  @Test
  void aRunThatWasReplacedWithAChainOfItsOwnHasNoSignature() throws Exception {
    for (String file : List.of("run.db", "run.db.sha256", "report.html", "junit.xml")) {
      Files.delete(run.resolve(file));
    }
    try (RunFile file = RunFile.create(run, SampleRun.header(30, 0))) {
      for (int i = 0; i < 30; i++) {
        file.append(SampleRun.stop(i, 0), null);
      }
      file.finish("then");
      RunReport.write(file, Evidence.of(file, run), run);
    }
    assertEquals(0, stopwell("verify", run).code(), "the file alone is whole");
    Said said = stopwell("verify", run, "--key", pub);
    assertEquals(1, said.code(), said.out());
    assertTrue(said.out().contains("FAIL: run.db.sig signs the hash"), said.out());
  }

  @Test
  void anUnfinishedRunAndAnOpenKeyAreRefused() throws Exception {
    Path open = dir.resolve("open");
    try (RunFile file = RunFile.create(open, SampleRun.header(3, 0))) {
      file.append(SampleRun.stop(0, 0), null);
    }
    Said said = stopwell("sign", open, "--key", key);
    assertEquals(2, said.code());
    assertTrue(said.err().contains("is not finished"), said.err());
    assertFalse(Files.exists(open.resolve("run.db.sig")));
    Files.setPosixFilePermissions(
        key, java.nio.file.attribute.PosixFilePermissions.fromString("rw-r--r--"));
    Said others = stopwell("sign", run, "--key", key);
    assertEquals(2, others.code());
    assertTrue(others.err().contains("chmod 600"), others.err());
    assertEquals(2, stopwell("key", key).code(), "a key is never replaced");
    assertEquals(
        2, stopwell("verify", run, "--key", key).code(), "the private key verifies nothing");
  }

  @Test
  void aFrozenPlanIsSignedWithItsDate() throws Exception {
    Path plan = dir.resolve("plan.yaml");
    Files.writeString(plan, TestPlans.quick(2).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(2).settings().source().text());
    Path frozen = dir.resolve("plan.frozen");
    Said said = stopwell("freeze", plan, "--key", key);
    assertEquals(0, said.code(), said.err());
    assertTrue(said.out().contains("signed the frozen plan "), said.out());
    Said stands = stopwell("verify", frozen, "--key", pub);
    assertEquals(0, stands.code(), stands.out());
    assertTrue(stands.out().contains("PASS: plan.frozen.sig stands"), stands.out());

    String text = Files.readString(frozen);
    Files.writeString(frozen, text.replaceFirst("frozen_at = 20..", "frozen_at = 2019"));
    Said changed = stopwell("verify", frozen, "--key", pub);
    assertEquals(1, changed.code(), changed.out());
    assertTrue(changed.out().contains("was changed: its lines give the hash"), changed.out());
  }

  /** A report shows only what its run directory holds, so it can be compared at any later time. */
  @Test
  void anEarlierRunStandsAfterALaterOneUnderTheSameFrozenPlan() throws Exception {
    Path plan = dir.resolve("plan.yaml");
    Files.writeString(plan, TestPlans.quick(1).source().text());
    Files.writeString(dir.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    assertEquals(0, stopwell("freeze", plan).code());
    Path first = dir.resolve("first");
    assertEquals(0, stopwell("run", plan, "--out", first).code());
    assertEquals(0, stopwell("sign", first, "--key", key).code());
    assertEquals(0, stopwell("run", plan, "--out", dir.resolve("second")).code());
    Said said = stopwell("verify", first, "--key", pub);
    assertEquals(0, said.code(), said.out());
    stopwell("report", first);
    assertEquals(0, stopwell("verify", first).code(), "a report made again is compared too");
  }

  private Said stopwell(Object... words) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    String[] args = new String[words.length];
    for (int i = 0; i < args.length; i++) {
      args[i] = words[i].toString();
    }
    int code = Main.run(args, new PrintWriter(out), new PrintWriter(err));
    return new Said(code, out.toString(), err.toString());
  }
}
