package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.console.ConsoleServer;
import org.stopwell.harness.console.StartDesk;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.bench.BenchDescription;
import org.stopwell.rig.time.MachineClock;

/** A page that may start the plans it was given, on the bench it was given, and nothing else. */
class StartPageTest {
  private static final String JSON_HASH = "(?s).*\"hash\":\"([0-9a-f]{64})\".*";

  @TempDir Path dir;
  private final List<Path> started = new ArrayList<>();
  private Path plans = Path.of("");
  private Path runs = Path.of("");
  private ConsoleServer server;
  private StartDesk desk;

  @BeforeEach
  void writeAPlan() throws Exception {
    plans = Files.createDirectory(dir.resolve("plans"));
    runs = dir.resolve("runs");
    Files.writeString(plans.resolve("quick one.yaml"), TestPlans.quick(1).source().text());
    Files.writeString(
        plans.resolve("settings.yaml"), TestPlans.quick(1).settings().source().text());
    desk = desk(this::note);
    server = new ConsoleServer(runs, 0, null, desk);
  }

  @AfterEach
  void close() {
    desk.leave();
    server.close();
  }

  @Test
  void aPlanThatWasShownAndConfirmedRunsAsOnTheCommandLine() throws Exception {
    open(
        (plan, into, said) ->
            Main.run(new String[] {"run", plan.toString(), "--out", into.toString()}, said, said));
    String shown = get("api/plans");
    assertTrue(shown.contains("\"file\":\"quick one.yaml\",\"name\":\"quick\""), shown);
    assertTrue(shown.contains("\"bench\":\"virtual, simulated\""), shown);
    assertFalse(shown.contains("settings.yaml"), "settings are no plan");
    assertEquals(202, start("quick%20one.yaml", hash(shown), true));
    desk.leave();
    String after = get("api/plans");
    assertTrue(after.contains("\"running\":\"\",\"last\":\"quick-001\",\"code\":0"), after);
    assertTrue(after.contains("PASS: "), "what the campaign says is shown: " + after);
    try (RunFile run = RunFile.load(runs.resolve("quick-001"))) {
      assertEquals(2, run.results().size());
      assertTrue(run.finishedAt().isPresent());
    }
    assertTrue(get("api/runs").contains("\"name\":\"quick-001\""));
  }

  @Test
  void whatCheckSaysOfAPlanComesBeforeItsStart() throws Exception {
    String check = get("api/check/quick%20one.yaml");
    assertTrue(check.contains("\"mistakes\":[]"), check);
    assertTrue(check.contains("length: torque limit "), check);
    assertEquals(hash(get("api/plans")), hash(check));
    assertTrue(get("api/check/settings.yaml").contains("Plan not found."));
  }

  @Test
  void anInterruptedRunIsResumedOnTheBenchOfTheConsoleOnly() throws Exception {
    Path run = runs.resolve("quick-001");
    Plan plan = TestPlans.quick(1);
    RunFile.create(run, header(plan, "virtual")).close();
    RunFile.create(runs.resolve("other"), header(plan, "serial")).close();
    assertTrue(get("api/runs").contains("\"running\":false"), "nobody works on it");
    assertEquals(409, resume("other"), "its motor was not armed");
    assertEquals(404, resume("nothing"));
    assertEquals(202, resume("quick-001"));
    desk.leave();
    assertEquals(List.of(run), started);
    assertTrue(get("api/plans").contains("resumed after "), get("api/plans"));
    assertEquals(409, resume("quick-001"), "nobody is there any more");
  }

  private static RunHeader header(Plan plan, String kind) {
    return RunHeader.of(
        plan,
        "test",
        new BenchDescription(kind, "1", "none", true, true, 1_000_000),
        "2026-01-01T00:00:00Z",
        "test",
        Registration.NONE);
  }

  private int resume(String run) throws Exception {
    return send(HttpRequest.newBuilder(URI.create(server.address() + "runs/" + run + "/resume"))
            .POST(HttpRequest.BodyPublishers.noBody())
            .header("X-Stopwell", "resume")
            .build())
        .statusCode();
  }

  @Test
  void oneCampaignAtATime() throws Exception {
    CountDownLatch end = new CountDownLatch(1);
    open(
        (plan, into, said) -> {
          try {
            started.add(into);
            Files.writeString(into.resolve("kept"), "");
            end.await();
            return 0;
          } catch (IOException | InterruptedException e) {
            return 3;
          }
        });
    String hash = hash(get("api/plans"));
    assertEquals(202, start("quick%20one.yaml", hash, true));
    assertEquals(409, start("quick%20one.yaml", hash, true));
    assertTrue(get("api/plans").contains("\"running\":\"quick-001\""));
    end.countDown();
    while (!get("api/plans").contains("\"running\":\"\"")) {
      MachineClock.waitNs(1_000_000);
    }
    assertEquals(202, start("quick%20one.yaml", hash, true));
    desk.leave();
    assertEquals(List.of(runs.resolve("quick-001"), runs.resolve("quick-002")), started);
    assertEquals(409, start("quick%20one.yaml", hash, true), "nobody is there any more");
  }

  @Test
  void whatWasNotShownOrNotAskedHereStartsNothing() throws Exception {
    String hash = hash(get("api/plans"));
    assertEquals(403, start("quick%20one.yaml", hash, false), "a page of another site");
    assertEquals(400, start("..%2fplans%2fquick%20one.yaml", hash, true));
    assertEquals(404, start("settings.yaml", hash, true));
    assertEquals(409, start("quick%20one.yaml", "", true));
    HttpRequest look =
        HttpRequest.newBuilder(URI.create(server.address() + "plans/quick%20one.yaml/start"))
            .header("X-Stopwell", "start")
            .build();
    assertEquals(404, send(look).statusCode());
    Path plan = plans.resolve("quick one.yaml");
    Files.writeString(plan, Files.readString(plan).replace("trials: 1", "trials: 900"));
    assertEquals(409, start("quick%20one.yaml", hash, true), "it was changed since it was shown");
    Files.writeString(plan, "plan: 1\nname: broken\n");
    assertEquals(409, start("quick%20one.yaml", hash, true));
    assertTrue(get("api/plans").contains("\"problem\":\"3 mistakes\""), get("api/plans"));
    String wrong = get("api/check/quick%20one.yaml");
    assertTrue(wrong.contains("quick one.yaml:1: settings: missing"), wrong);
    assertFalse(wrong.contains("\"hash\""), "what is wrong has no hash to start it with");
    desk.leave();
    assertEquals(List.of(), started);
  }

  @Test
  void aPageOfAnotherOriginStartsNothing() throws Exception {
    String hash = hash(get("api/plans"));
    for (String origin : List.of("null", "http://evil.example", "http://127.0.0.1:1")) {
      assertEquals(403, startFrom(origin, hash), origin);
    }
    assertEquals(List.of(), started);
    String own = server.address().substring(0, server.address().length() - 1);
    assertEquals(202, startFrom(own, hash));
    desk.leave();
    assertEquals(1, started.size());
  }

  /** A run that is refused before its first trial leaves no empty directory. */
  @Test
  void aRefusedRunLeavesNothing() throws Exception {
    assertEquals(202, start("quick%20one.yaml", hash(get("api/plans")), true));
    desk.leave();
    assertEquals(List.of(runs.resolve("quick-001")), started);
    assertFalse(Files.exists(runs.resolve("quick-001")));
  }

  private int startFrom(String origin, String hash) throws Exception {
    return send(HttpRequest.newBuilder(
                URI.create(server.address() + "plans/quick%20one.yaml/start"))
            .POST(HttpRequest.BodyPublishers.ofString(hash))
            .header("X-Stopwell", "start")
            .header("Origin", origin)
            .build())
        .statusCode();
  }

  @Test
  void afterASafetyStopSomebodyMustComeToTheMachine() throws Exception {
    open((plan, into, said) -> 4);
    String hash = hash(get("api/plans"));
    assertEquals(202, start("quick%20one.yaml", hash, true));
    while (!get("api/plans").contains("\"running\":\"\"")) {
      MachineClock.waitNs(1_000_000);
    }
    assertEquals(409, start("quick%20one.yaml", hash, true));
    assertTrue(get("api/plans").contains("\"locked\":\"The last campaign ended in SAFETY_STOP"));
  }

  @Test
  void withoutPlansThePageStartsNothing() throws Exception {
    try (ConsoleServer bare = new ConsoleServer(runs, 0)) {
      server.close();
      server = bare;
      assertEquals("{\"armed\":false}", get("api/plans"));
      assertEquals(403, start("quick%20one.yaml", "", true));
    }
    assertEquals(List.of(), started);
  }

  @Test
  void whatWouldBeWrongAtTheFirstStartIsWrongWhenTheConsoleStarts() throws Exception {
    assertWrong("there is no such directory", "console", "--plans", dir.resolve("none").toString());
    assertWrong(
        "--bench serial needs --port",
        "console",
        "--plans",
        plans.toString(),
        "--",
        "--bench",
        "serial");
    assertWrong(
        "Unknown option: '--bensch'", "console", "--plans", plans.toString(), "--", "--bensch");
    assertWrong(
        "are not permitted for the page",
        "console",
        "--plans",
        plans.toString(),
        "--",
        "--out",
        "elsewhere");
    assertWrong(
        "--jobs 2: options of run need --plans; give a directory of runs with --dir",
        "console",
        "--",
        "--jobs",
        "2");
    assertWrong("--listen 0.0.0.0: 0.0.0.0 means every address", "console", "--listen", "0.0.0.0");
    assertWrong("needs --listen ADDRESS", "console", "--token-file", "token.txt");
    Path token = Files.writeString(dir.resolve("token.txt"), "short");
    assertWrong(
        "the token has 5 characters; it needs 16",
        "console",
        "--listen",
        "127.0.0.2",
        "--token-file",
        token.toString());
    String port = String.valueOf(URI.create(server.address()).getPort());
    assertWrong("--port " + port + ": Address already in use", "console", "--port", port);
  }

  private static void assertWrong(String why, String... words) {
    StringWriter err = new StringWriter();
    int code = Main.run(words, new PrintWriter(new StringWriter()), new PrintWriter(err, true));
    assertEquals(2, code, err.toString());
    assertTrue(err.toString().contains(why), err.toString());
  }

  private int note(Path plan, Path into, PrintWriter said) {
    started.add(into);
    return 0;
  }

  /** What a start does in a test. */
  @FunctionalInterface
  private interface Start {
    int run(Path plan, Path directory, PrintWriter words);
  }

  private void open(Start runner) throws IOException {
    server.close();
    desk = desk(runner);
    server = new ConsoleServer(runs, 0, null, desk);
  }

  private StartDesk desk(Start start) {
    return new StartDesk(
        plans,
        "virtual, simulated",
        "virtual",
        false,
        runs,
        Policies.BUILT_IN,
        new StartDesk.Runner() {
          @Override
          public int run(Path plan, Path directory, PrintWriter words) {
            return start.run(plan, directory, words);
          }

          @Override
          public int resume(Path directory, String service, PrintWriter words) {
            words.println("resumed after \"" + service + "\"");
            return start.run(directory, directory, words);
          }
        });
  }

  private static String hash(String shown) {
    assertTrue(shown.matches(JSON_HASH), shown);
    return shown.replaceAll(JSON_HASH, "$1");
  }

  private String get(String path) throws IOException, InterruptedException {
    return send(HttpRequest.newBuilder(URI.create(server.address() + path)).build()).body();
  }

  private int start(String file, String hash, boolean asked)
      throws IOException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(server.address() + "plans/" + file + "/start"))
            .POST(HttpRequest.BodyPublishers.ofString(hash));
    return send((asked ? request.header("X-Stopwell", "start") : request).build()).statusCode();
  }

  private static HttpResponse<String> send(HttpRequest request)
      throws IOException, InterruptedException {
    return HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofString());
  }
}
