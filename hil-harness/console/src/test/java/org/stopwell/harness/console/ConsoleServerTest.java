package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.campaign.Campaign;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.evidence.Evidence;
import org.stopwell.harness.live.LiveFeed;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.virtual.VirtualBench;

/** The console shows everything, may ask for a stop, and may do nothing else. */
class ConsoleServerTest {
  private static final long MS = 1_000_000;

  @TempDir Path dir;
  private ConsoleServer server;
  private RunFile file;
  private Plan plan;
  private Path run;

  @BeforeEach
  void startARunAndTheConsole() throws Exception {
    plan = TestPlans.quick(3);
    run = dir.resolve("run <b>1");
    file = RunFile.create(run, header(plan));
    server = new ConsoleServer(dir, 0);
  }

  @AfterEach
  void close() {
    server.close();
    file.close();
  }

  @Test
  void aRunningCampaignIsShownWithItsProgress() throws Exception {
    campaign(() -> false, 4);
    String json = get("api/runs").body();
    assertTrue(json.contains("\"name\":\"run <b>1\""), json);
    assertTrue(json.contains("\"planned\":6,\"run\":4,\"finished\":false"), json);
    assertTrue(json.contains("\"verdict\":\"\""), json);
  }

  /** A campaign begun seconds ago has no trial yet. Whether it runs is known, not guessed. */
  @Test
  void aCampaignThatHasJustBegunIsNotCalledInterrupted() throws Exception {
    assertTrue(get("api/runs").body().contains("\"running\":true"), get("api/runs").body());
    file.close();
    String json = get("api/runs").body();
    for (int i = 0; i < 1_000 && json.contains("\"running\":true"); i++) {
      json = get("api/runs").body(); // the list is made anew twice a second
    }
    assertTrue(json.contains("\"running\":false"), json);
    assertTrue(get("console.js").body().contains("run.running ? \"Running: \""));
  }

  @Test
  void thePageOfARunShowsItsFeedWhileItRuns() throws Exception {
    assertEquals(200, get("watch/run%20%3Cb%3E1").statusCode());
    assertEquals(404, get("watch/nothing").statusCode());
    assertEquals(404, get("api/live/run%20%3Cb%3E1").statusCode(), "nothing of it is live");
    LiveFeed feed = LiveFeed.begin(run, header(plan), List.of());
    try (feed) {
      String whole = "";
      for (int i = 0; i < 10_000 && !whole.contains("\"campaign\":{"); i++) {
        whole = get("api/live/run%20%3Cb%3E1").body();
      }
      assertTrue(whole.contains("\"campaign\":{\"plan\":\"quick\""), whole);
      assertTrue(whole.contains("\"done\":0"), whole);
    }
  }

  @Test
  void aFinishedCampaignIsShownWithItsVerdictAndReport() throws Exception {
    campaign(() -> false, 6);
    file.finish("2026-01-01T00:00:00Z");
    RunReport.write(file, Evidence.of(file, run), run);
    String json = get("api/runs").body();
    assertTrue(json.contains("\"finished\":true"), json);
    assertTrue(json.contains("\"verdict\":\"PASS\""), json);
    HttpResponse<String> report = get("runs/run%20%3Cb%3E1/report.html");
    assertEquals(200, report.statusCode());
    assertEquals(Files.readString(run.resolve(RunReport.PAGE)), report.body());
  }

  @Test
  void thePageAndItsPartsAreServedWithAStrictPolicy() throws Exception {
    for (String path : List.of("", "console.js", "console.css")) {
      HttpResponse<String> response = get(path);
      assertEquals(200, response.statusCode());
      assertEquals(
          "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;"
              + " connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'",
          response.headers().firstValue("Content-Security-Policy").orElse(""));
    }
    assertTrue(get("").body().contains("not an emergency stop"));
    assertFalse(get("console.js").body().contains("innerHTML"));
  }

  @Test
  void thePageToTryByHandRunsItsOwnScriptsOnly() throws Exception {
    HttpResponse<String> page = get("try");
    assertEquals(200, page.statusCode());
    String policy = header(page, "Content-Security-Policy");
    assertTrue(policy.startsWith("default-src 'none'; script-src 'sha256-"), policy);
    assertTrue(policy.endsWith("; frame-ancestors 'none'"), policy);
    assertFalse(policy.contains("unsafe"), policy);
    assertTrue(get("canal.js").body().contains("export function drawCanal"));
  }

  @Test
  void askingForAStopEndsTheCampaignSafely() throws Exception {
    Path plain = dir.resolve("plain");
    RunFile.create(plain, header(TestPlans.quick(500))).close();
    List<RunFile.Entry> kept = new ArrayList<>();
    Campaign.End end =
        new Campaign(
                TestPlans.quick(500),
                List.of(),
                1,
                new StopRequest(plain, () -> false),
                finished -> {
                  kept.addAll(finished);
                  try {
                    assertEquals(202, post("runs/plain/stop", true).statusCode());
                  } catch (IOException | InterruptedException e) {
                    throw new AssertionError(e);
                  }
                })
            .run(open(), ConsoleServerTest::open);
    assertEquals(Campaign.End.INTERRUPTED, end);
    assertTrue(kept.size() < 100, kept.size() + " trials");
    assertTrue(get("api/runs").body().contains("\"stop_requested\":true"));
  }

  /** What lies in a run directory can have come by mail: it gets a sandbox, and its script runs. */
  @Test
  void whateverIsInARunDirectoryIsServedInASandbox() throws Exception {
    campaign(() -> false, 6);
    RunReport.write(file, Evidence.of(file, run), run);
    for (String path :
        List.of(
            "runs/run%20%3Cb%3E1/report.html",
            "runs/run%20%3Cb%3E1/junit.xml", "runs/nothing/report.html", "runs/")) {
      HttpResponse<String> response = get(path);
      String policy = response.headers().firstValue("Content-Security-Policy").orElse("");
      assertEquals(path.contains("b%3E1") ? 200 : 404, response.statusCode(), path);
      assertTrue(policy.startsWith("sandbox allow-scripts;"), path + ": " + policy);
      assertFalse(policy.contains("allow-same-origin"), policy);
      assertTrue(policy.contains("default-src 'none'; script-src 'unsafe-inline'"), policy);
      assertEquals("nosniff", header(response, "X-Content-Type-Options"));
      assertEquals("no-referrer", header(response, "Referrer-Policy"));
    }
    String report = get("runs/run%20%3Cb%3E1/report.html").body();
    for (String forbidden :
        List.of("fetch(", "localStorage", "document.cookie", "<form", "alert(")) {
      assertFalse(report.contains(forbidden), "a sandbox forbids " + forbidden);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"null", "http://evil.example", "http://127.0.0.1:1", "https://localhost"})
  void aPageOfAnotherOriginCannotAskForAStop(String origin) throws Exception {
    Path plain = dir.resolve("plain");
    RunFile.create(plain, header(plan)).close();
    assertEquals(403, stop(origin).statusCode());
    assertFalse(StopRequest.isMade(plain));
    String own = server.address().substring(0, server.address().length() - 1);
    assertEquals(202, stop(own).statusCode());
    assertTrue(StopRequest.isMade(plain));
  }

  private HttpResponse<String> stop(String origin) throws Exception {
    return send(
        HttpRequest.newBuilder(URI.create(server.address() + "runs/plain/stop"))
            .POST(HttpRequest.BodyPublishers.noBody())
            .header("X-Stopwell", "stop")
            .header("Origin", origin)
            .build());
  }

  private static String header(HttpResponse<String> response, String name) {
    return response.headers().firstValue(name).orElse("");
  }

  @Test
  void noRequestTakesAStopBack() throws Exception {
    StopRequest.make(run);
    for (String method : List.of("DELETE", "PUT", "PATCH")) {
      HttpRequest request =
          HttpRequest.newBuilder(URI.create(server.address() + "runs/run/stop"))
              .method(method, HttpRequest.BodyPublishers.noBody())
              .header("X-Stopwell", "stop")
              .build();
      assertEquals(405, send(request).statusCode());
    }
    assertTrue(StopRequest.isMade(run));
  }

  @Test
  void anotherSitesPageCannotAskForAStop() throws Exception {
    Path plain = dir.resolve("plain");
    RunFile.create(plain, header(plan)).close();
    assertEquals(403, post("runs/plain/stop", false).statusCode());
    assertEquals(403, post("runs/plain/start", true).statusCode());
    assertEquals(404, post("runs/nothing/stop", true).statusCode());
    assertFalse(StopRequest.isMade(plain));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "runs/../secret/report.html",
        "runs/%2e%2e/report.html",
        "runs/plain/run.db",
        "runs/plain/../../etc/passwd",
        "api",
        "favicon.ico"
      })
  void nothingElseIsServed(String path) throws Exception {
    assertEquals(path.contains("%2e") ? 400 : 404, get(path).statusCode());
  }

  @Test
  void aNameThatMerelyPointsHereIsTurnedAway() throws Exception {
    URI here = URI.create(server.address());
    try (Socket socket = new Socket(here.getHost(), here.getPort())) {
      socket
          .getOutputStream()
          .write(
              "GET /api/runs HTTP/1.1\r\nHost: evil.example\r\nConnection: close\r\n\r\n"
                  .getBytes(StandardCharsets.US_ASCII));
      String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      assertTrue(answer.startsWith("HTTP/1.1 403"), answer);
    }
  }

  @Test
  void aDamagedRunIsNamedAndHidesNoOther() throws Exception {
    Path broken = Files.createDirectory(dir.resolve("broken"));
    Files.writeString(broken.resolve(RunFile.NAME), "not a database");
    String json = get("api/runs").body();
    assertTrue(json.contains("\"name\":\"broken\",\"problem\":"), json);
    assertTrue(json.contains("\"name\":\"run <b>1\""), json);
  }

  private void campaign(java.util.function.BooleanSupplier stop, int trials) throws Exception {
    List<RunFile.Entry> kept = new ArrayList<>();
    new Campaign(plan, List.of(), 1, stop, kept::addAll).run(open(), ConsoleServerTest::open);
    file.append(kept.subList(0, trials));
  }

  private static VirtualBench open() {
    VirtualBench bench = new VirtualBench(MS);
    bench.open();
    return bench;
  }

  /** The header of a run of that plan. */
  static RunHeader header(Plan plan) {
    return new RunHeader(
        plan.head().name(),
        plan.source().text(),
        plan.settings().source().text(),
        "test",
        new VirtualBench(MS).describe(),
        plan.head().seed(),
        plan.conditions(),
        plan.claims(),
        "2026-01-01T00:00:00Z",
        "test");
  }

  private HttpResponse<String> get(String path) throws IOException, InterruptedException {
    return send(HttpRequest.newBuilder(URI.create(server.address() + path)).build());
  }

  private HttpResponse<String> post(String path, boolean asked)
      throws IOException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(server.address() + path))
            .POST(HttpRequest.BodyPublishers.noBody());
    return send((asked ? request.header("X-Stopwell", "stop") : request).build());
  }

  private static HttpResponse<String> send(HttpRequest request)
      throws IOException, InterruptedException {
    return HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofString());
  }
}
