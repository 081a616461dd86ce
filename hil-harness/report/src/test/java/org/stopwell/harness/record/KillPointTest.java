package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.report.JUnitFile;
import org.stopwell.harness.report.ReportPage;
import org.stopwell.harness.trial.TrialResult;

/**
 * Power is cut while the run file is written: of the write-ahead log only a part, ending at any
 * byte, reaches the disk. Every trial reported before the part ended is there, none twice, and the
 * resumed campaign has the same report, byte for byte. {@code -Dstopwell.killpoints=1000} for the
 * long form.
 */
class KillPointTest {
  private static final int TRIALS = 60;

  @Test
  void aCampaignCutAtAnyByteGoesOnToTheSameReport(@TempDir Path directory) throws IOException {
    int points = Integer.getInteger("stopwell.killpoints", 40);
    long seed = 20260103;
    System.out.println("seed " + seed + ", kill points " + points);
    Random random = new Random(seed);
    Path whole = directory.resolve("whole");
    List<Long> logAfter = new ArrayList<>();
    byte[] base;
    byte[] log;
    try (RunFile run = RunFile.create(whole, SampleRun.header(TRIALS, 0))) {
      for (int i = 0; i < TRIALS; i++) {
        run.append(trial(i), trace(i));
        logAfter.add(Files.size(whole.resolve("run.db-wal")));
      }
      base = Files.readAllBytes(whole.resolve(RunFile.NAME));
      log = Files.readAllBytes(whole.resolve("run.db-wal"));
      run.finish("then");
    }
    String report = report(whole);
    String junit = junit(whole);
    for (int point = 0; point < points; point++) {
      int cut = point == 0 ? 0 : random.nextInt(log.length + 1);
      Path resumed = Files.createDirectory(directory.resolve("cut-" + point));
      Files.write(resumed.resolve(RunFile.NAME), base);
      Files.write(resumed.resolve("run.db-wal"), Arrays.copyOf(log, cut));
      int reported = (int) logAfter.stream().filter(size -> size <= cut).count();
      try (RunFile run = RunFile.open(resumed)) {
        Set<Integer> done = new HashSet<>();
        run.results().forEach(t -> assertTrue(done.add(t.index()), "twice: " + t.index()));
        assertTrue(
            done.size() >= reported, done.size() + " kept, " + reported + " reported, cut " + cut);
        for (int i = 0; i < TRIALS; i++) {
          if (!done.contains(i)) {
            run.append(trial(i), trace(i));
          }
        }
        run.finish("then");
      }
      assertEquals(report, report(resumed), "cut at byte " + cut);
      assertEquals(junit, junit(resumed), "cut at byte " + cut);
      assertTrue(Verification.of(resumed).isWhole(), "cut at byte " + cut);
    }
  }

  private static TrialResult trial(int i) {
    return i % 9 == 4 ? SampleRun.rigFault(i, "LATE") : SampleRun.stop(i, i * 13 % 400 - 200);
  }

  private static byte[] trace(int i) {
    byte[] trace = new byte[i % 4 == 0 ? 2000 : 10];
    new Random(i).nextBytes(trace);
    return trace;
  }

  private static String report(Path directory) throws IOException {
    try (RunFile run = RunFile.load(directory)) {
      return ReportPage.html(run.header(), run.results(), Map.of());
    }
  }

  private static String junit(Path directory) throws IOException {
    try (RunFile run = RunFile.load(directory)) {
      return JUnitFile.xml(run.header(), run.results());
    }
  }
}
