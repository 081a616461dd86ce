package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.time.MachineClock;

/** The console is killed in the middle of the campaign that its page has started. */
class CutConsoleTest {
  private static final int PER_CONDITION = 600;

  @TempDir Path dir;

  @Test
  void theNextConsoleSaysWhatIsLeftAndResumeFinishesIt() throws Exception {
    Path plans = Files.createDirectory(dir.resolve("plans"));
    Files.writeString(plans.resolve("quick.yaml"), TestPlans.quick(PER_CONDITION).source().text());
    Files.writeString(
        plans.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    Path runs = dir.resolve("runs");
    Process console =
        new ProcessBuilder(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Xmx256m",
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "console",
                "--port",
                "0",
                "--dir",
                runs.toString(),
                "--plans",
                plans.toString(),
                "--",
                "--jobs",
                "1")
            .redirectError(ProcessBuilder.Redirect.INHERIT)
            .start();
    try (BufferedReader said =
        new BufferedReader(
            new InputStreamReader(console.getInputStream(), StandardCharsets.UTF_8))) {
      String address = said.readLine();
      String hash = get(address + "api/plans").replaceAll("(?s).*\"hash\":\"([0-9a-f]+)\".*", "$1");
      assertEquals(202, start(address + "plans/quick.yaml/start", hash));
      while (!get(address + "api/runs").matches("(?s).*\"run\":[1-9].*")) {
        MachineClock.waitNs(1_000_000);
      }
    } finally {
      console.destroyForcibly().waitFor();
    }
    Path run = runs.resolve("quick-001");
    int kept = results(run);
    assertTrue(kept > 0 && kept < 2 * PER_CONDITION, "killed in the middle: " + kept);
    try (ConsoleServer next = new ConsoleServer(runs, 0)) {
      String cut = get(next.address() + "api/runs");
      assertTrue(cut.contains("\"finished\":false"), cut);
      assertTrue(cut.contains("\"written\":\"20"), cut);
      assertTrue(cut.contains("\"resume\":\"stopwell resume " + run + "\""), cut);
      StringWriter out = new StringWriter();
      PrintWriter words = new PrintWriter(out);
      assertEquals(
          0, Main.run(new String[] {"resume", run.toString()}, words, words), out::toString);
      String whole = get(next.address() + "api/runs");
      assertTrue(whole.contains("\"finished\":true"), whole);
    }
    assertEquals(2 * PER_CONDITION, results(run), "every trial once");
  }

  private static int results(Path run) throws Exception {
    try (RunFile file = RunFile.load(run)) {
      return file.results().size();
    }
  }

  private static String get(String address) throws IOException, InterruptedException {
    return send(HttpRequest.newBuilder(URI.create(address)).build()).body();
  }

  private static int start(String address, String hash) throws IOException, InterruptedException {
    return send(HttpRequest.newBuilder(URI.create(address))
            .POST(HttpRequest.BodyPublishers.ofString(hash))
            .header("X-Stopwell", "start")
            .build())
        .statusCode();
  }

  private static HttpResponse<String> send(HttpRequest request)
      throws IOException, InterruptedException {
    return HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofString());
  }
}
