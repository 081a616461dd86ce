package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.report.ReportPage;

/**
 * Run files of version 1 of the format, written by the build before protocols: they read as they
 * are, byte for byte under their old seal, and nothing is added to them.
 */
class OlderRunFileTest {
  @TempDir Path dir;

  @Test
  void aFinishedOneIsReadAsItIs() throws Exception {
    Path file = resource("version-1.db");
    byte[] before = Files.readAllBytes(file);
    Files.writeString(
        dir.resolve("run.db.sha256"),
        "95905144afd7e7af30e2a2620f7bf42754f0e1d1941a3e9acbf9dc99260b3926  run.db\n");
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(
          List.of(
              SampleRun.stop(0, 12),
              SampleRun.rigFault(1, "LINK"),
              SampleRun.stop(2, -40),
              SampleRun.refusal(3)),
          run.results());
      assertEquals(SampleRun.header(3, 1), run.header());
      assertEquals(Protocol.NONE, run.header().protocol());
      assertEquals(Registration.NONE, run.header().registration());
      // What the build that wrote it printed.
      assertEquals(
          "9771b063b9d041dc6226fa395815a672b1c13a34f18b423244d9f1b29e6c3eff", run.headHash());
      assertEquals(
          "858871c48e393c677acec742ea0e1443a1f15fbbf92fca9b339e2b1d29452efa",
          ContentHash.of(run.header(), run.results()));
      assertEquals(3, run.trace(0).orElseThrow().length);
      assertTrue(
          ReportPage.html(run.header(), run.results(), Map.of()).contains("half-wet accuracy"));
    }
    Verification verification = Verification.of(dir);
    assertTrue(verification.isWhole(), verification.faults().toString());
    org.junit.jupiter.api.Assertions.assertArrayEquals(before, Files.readAllBytes(file));
  }

  @Test
  void anUnfinishedOneIsNotGoneOnWith() throws Exception {
    resource("version-1-unfinished.db");
    RunFileException e = assertThrows(RunFileException.class, () -> RunFile.open(dir));
    assertEquals(RunFileException.Kind.OLDER, e.kind());
    assertTrue(e.getMessage().contains("version 1"), e.getMessage());
    try (RunFile run = RunFile.load(dir)) {
      assertEquals(1, run.results().size());
      assertFalse(run.finishedAt().isPresent());
    }
  }

  private Path resource(String name) throws Exception {
    Path file = dir.resolve(RunFile.NAME);
    try (InputStream in = OlderRunFileTest.class.getResourceAsStream("/record/" + name)) {
      Files.copy(java.util.Objects.requireNonNull(in), file);
    }
    return file;
  }
}
