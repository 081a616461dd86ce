package org.stopwell.harness.fault;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.fault.Demonstration.Came;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.report.ReportPage;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.rig.board.EmulatedBoard;

/** Trouble with what people write: plans, records, traces, and what a browser sends. */
final class PaperDemonstrations {
  private PaperDemonstrations() {}

  static Came aPlanWithManyMistakes(Path directory) throws Exception {
    Program program = new Program(directory);
    Files.writeString(
        program.plan,
        Files.readString(program.plan)
            .replace("trials: 2", "trials: none\nseed: 4\ntrails: 2")
            .replace("length_mm: 8", "length_mm: 800")
            .replace("stage: length\n", ""));
    int code = program.run();
    assertFalse(Files.exists(program.run), "nothing was begun");
    List<String> lines =
        program.said().lines().filter(l -> l.contains("plan.yaml:")).sorted().toList();
    assertEquals(6, lines.size(), program.said());
    return new Came(Program.verdict(code), "plan.yaml", "6 mistakes at once, each with its line");
  }

  static Came aBenchWithoutProof(Path directory) throws Exception {
    try (EmulatedBoard board = LinkDemonstrations.board("S-0001", /* simulated= */ false)) {
      Program program = new Program(directory, 1);
      int code = program.run("--bench", "serial", "--port", board.portName());
      List<TrialResult> kept = program.results();
      assertTrue(kept.stream().anyMatch(TrialResult::stopped), "every number is kept");
      List<String> codes = kept.stream().map(TrialResult::code).distinct().toList();
      return new Came(
          Program.verdict(code),
          String.join(", ", codes),
          Demonstration.AS_PLANNED,
          kept.size() + " trials run and kept");
    }
  }

  static Came aTraceWithAHole(Path directory) throws Exception {
    Program program = new Program(directory);
    Path trace = directory.resolve("trace.csv");
    Files.writeString(trace, "t_ms,distance_mm\n0,3\n5\n10,2\n");
    int code =
        program.call("replay", "" + trace, "--settings", "" + directory.resolve("settings.yaml"));
    assertTrue(program.said().contains("trace.csv:3: "), program.said());
    return new Came(Program.verdict(code), "trace.csv:3", "");
  }

  /** A page of another site asks for a stop, and a plan has an element for a name. */
  static Came aMaliciousBrowser(Path directory) throws Exception {
    String evil = "</title><script>alert(1)</script>";
    RunHeader h = SampleRun.header(1, 0);
    RunHeader header =
        new RunHeader(evil, evil, evil, evil, h.bench(), 1, h.conditions(), List.of(), evil, evil);
    Path run = directory.resolve("plain");
    RunFile.create(run, header).close();
    assertFalse(ReportPage.html(header, List.of(), Map.of()).contains("<script>alert"));
    try (ConsoleServer server = new ConsoleServer(directory, 0)) {
      HttpResponse<String> answer =
          HttpClient.newHttpClient()
              .send(
                  HttpRequest.newBuilder(URI.create(server.address() + "runs/plain/stop"))
                      .POST(HttpRequest.BodyPublishers.noBody())
                      .build(),
                  HttpResponse.BodyHandlers.ofString());
      assertFalse(StopRequest.isMade(run));
      return new Came("refused", "HTTP " + answer.statusCode(), "names stay text");
    }
  }

  /** Line ends of Windows and a byte order mark read the same; a decimal comma is a mistake. */
  static Came oddTexts(Path directory) throws Exception {
    Program program = new Program(directory);
    String text = Files.readString(program.plan);
    Plan plain = Plan.read(Source.of(program.plan));
    Files.writeString(program.plan, "\uFEFF" + text.replace("\n", "\r\n"));
    Plan odd = Plan.read(Source.of(program.plan));
    assertEquals(plain.trials(), odd.trials());
    assertEquals(plain.trial(0).scene().seed(), odd.trial(0).scene().seed());
    Files.writeString(program.plan, text.replace("feed_mm_per_s: 1", "feed_mm_per_s: \"1,5\""));
    int code = program.run();
    assertTrue(program.said().contains("is not a number"), program.said());
    return new Came(
        Program.verdict(code),
        "plan.yaml",
        "a decimal comma; line ends and byte order mark are read");
  }
}
