package org.stopwell.harness.record;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.trial.TrialResult;

/** A process that writes trials is killed without warning; what it had reported must be there. */
class KillTest {
  @Test
  void aTrialThatWasReportedSurvivesAKill(@TempDir Path directory) throws Exception {
    long seed = 20260102;
    System.out.println("seed " + seed);
    Random random = new Random(seed);
    int finished = 0;
    RunFile.create(directory, SampleRun.header(100_000, 0)).close();
    for (int kill = 0; kill < 5; kill++) {
      Process writer = write(directory, finished);
      int reported = finished;
      try (BufferedReader said =
          new BufferedReader(
              new InputStreamReader(writer.getInputStream(), StandardCharsets.UTF_8))) {
        int target = finished + 1 + random.nextInt(40);
        for (String line = said.readLine(); line != null; line = said.readLine()) {
          reported = Integer.parseInt(line);
          if (reported == target) {
            writer
                .toHandle()
                .destroyForcibly(); // The process would close the pipe, its handle does not.
          }
        }
      }
      writer.waitFor();
      try (RunFile run = RunFile.load(directory)) {
        List<TrialResult> results = run.results();
        assertTrue(results.size() >= reported, results.size() + " kept, " + reported + " reported");
        for (int i = 0; i < results.size(); i++) {
          assertEquals(SampleRun.stop(i, i % 300), results.get(i));
        }
        finished = results.size();
      }
    }
    assertTrue(finished >= 5, "trials finished: " + finished);
  }

  @Test
  void aDiskThatTakesNoMoreLosesNoFinishedTrial(@TempDir Path directory) throws Exception {
    RunFile.create(directory, SampleRun.header(100_000, 0)).close();
    // A limit of 8 MiB on every file stands in for the full disk: the write fails in the same
    // place.
    Process writer = write(directory, 0, "sh", "-c", "ulimit -f 16384; exec \"$@\"", "sh");
    String said = new String(writer.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    List<String> lines = said.lines().toList();
    String last = lines.get(lines.size() - 1);
    assertTrue(
        last.startsWith("DISK") && last.contains(directory.resolve(RunFile.NAME).toString()), last);
    int reported = lines.size() - 1;
    assertTrue(reported > 3, said);
    try (RunFile run = RunFile.load(directory)) {
      assertEquals(reported, run.results().size());
      assertEquals(
          SampleRun.stop(reported - 1, (reported - 1) % 300), run.results().get(reported - 1));
    }
  }

  private static Process write(Path directory, int from, String... before) throws IOException {
    List<String> command = new ArrayList<>(List.of(before));
    command.addAll(
        List.of(
            Path.of(System.getProperty("java.home"), "bin", "java").toString(),
            "-Xshare:auto",
            "-XX:-UsePerfData",
            "-cp",
            System.getProperty("java.class.path"),
            Writer.class.getName(),
            directory.toString(),
            Integer.toString(from)));
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  /** Appends trials until it is killed, and says each one only when it is safe. */
  static final class Writer {
    private Writer() {}

    public static void main(String[] arguments) throws IOException {
      try (RunFile run = RunFile.open(Path.of(arguments[0]))) {
        byte[] trace = new byte[200_000];
        new Random(1).nextBytes(trace);
        for (int i = Integer.parseInt(arguments[1]); ; i++) {
          run.append(SampleRun.stop(i, i % 300), i % 3 == 0 ? trace : null);
          System.out.println(i + 1);
        }
      } catch (RunFileException e) {
        System.out.println(e.kind() + " " + e.getMessage());
      }
    }
  }
}
