package org.stopwell.harness.report;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TrialResult;

/**
 * Page and JUnit file of 10,000 trials from their run file, by a machine that has just started:
 * what a user waits for after a campaign.
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 0)
@Measurement(iterations = 1)
@Fork(5)
public class ReportBenchmark {
  private static final int PER_CONDITION = 2500;

  private Path directory = Path.of("");

  @SuppressWarnings("NullAway.Init") // Opened in the setup.
  private RunFile run;

  /** A made-up campaign of four conditions in a run file of its own. */
  @Setup
  public void write() throws IOException {
    directory = Files.createTempDirectory("report-benchmark");
    List<TrialResult> trials = SampleCampaign.trials(PER_CONDITION);
    run = RunFile.create(directory, SampleCampaign.header(PER_CONDITION));
    for (TrialResult trial : trials) {
      run.append(trial, null);
    }
    run.finish("2026-01-02T03:05:05Z");
  }

  /** The whole of it. */
  @Benchmark
  public void tenThousandTrials() throws IOException {
    RunReport.write(run, Evidence.of(run, directory), directory);
  }

  /** Leaves nothing behind. */
  @TearDown
  public void clear() throws IOException {
    run.close();
    try (var files = Files.list(directory)) {
      for (Path file : files.toList()) {
        Files.delete(file);
      }
    }
    Files.delete(directory);
  }
}
