package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.FileTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Pattern;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.report.RunReport;
import org.stopwell.harness.trial.TestPlans;
import org.stopwell.rig.time.MachineClock;

/** Many browsers, idle, slow and curious ones, change nothing for anybody else. */
class CrowdTest {
  private static final long PATIENT_NS = TimeUnit.SECONDS.toNanos(600);

  @TempDir Path dir;
  private final List<Caller> callers = new ArrayList<>();
  private final AtomicInteger frames = new AtomicInteger();
  private String frame = "{\"n\":%d}";
  private ConsoleServer server;

  @BeforeEach
  void open() throws IOException {
    Path run = Files.createDirectory(dir.resolve("run"));
    Files.writeString(run.resolve(RunFile.NAME), "no run, but it has a name");
    Files.write(run.resolve(RunReport.PAGE), new byte[4_000_000]);
    server = server(PATIENT_NS);
  }

  private ConsoleServer server(long requestNs) throws IOException {
    return new ConsoleServer(
        new Pages(dir, null, null, SettingsDesk.NONE),
        0,
        null,
        run -> Optional.of(source()),
        requestNs);
  }

  @AfterEach
  void close() {
    callers.forEach(Caller::close);
    server.close();
  }

  /** The server of the JDK, with two threads, answered nobody any more. */
  @Test
  void twoHalfSentRequestsStopNothing() throws Exception {
    call().begin("GET /");
    call().begin("POST /runs/run/stop").send("X-Stopwell: stop\r\nContent-Length: 10\r\n\r\nx");
    assertTrue(Caller.get(server, "/api/runs").startsWith("HTTP/1.1 200"));
  }

  @Test
  void fiveHundredIdleAndFiftySlowConnectionsChangeNothing() throws Exception {
    Caller watcher = call().ask("GET /live/run");
    await(() -> server.live().watchers() == 1);
    for (int i = 0; i < 500; i++) {
      call();
    }
    for (int i = 0; i < 25; i++) {
      call().begin("GET /api/runs");
      call().ask("GET /runs/run/report.html");
    }
    long made = server.live().made();
    for (Caller slow : callers.subList(501, callers.size())) {
      slow.send("X");
      assertTrue(Caller.get(server, "/").startsWith("HTTP/1.1 200"));
    }
    await(() -> count(watcher) >= made + 50);
    server.close();
    assertEquals(server.live().made(), count(watcher), "the watcher has every frame");
  }

  @Test
  void ofTwoHundredWatchersOneGetsEveryFrameAndTheOthersTwoASecond() throws Exception {
    Caller first = call().ask("GET /live/run");
    await(() -> server.live().watchers() == 1);
    for (int i = 1; i < 200; i++) {
      call().ask("GET /live/run");
    }
    await(() -> server.live().watchers() == 200);
    long from = server.live().made();
    List<Integer> had = new ArrayList<>();
    List<Long> then = new ArrayList<>();
    for (Caller caller : callers) {
      then.add(server.live().made());
      had.add(count(caller));
    }
    await(() -> count(first) >= from + 100);
    server.close();
    int made = (int) server.live().made();
    assertEquals(made, frames.get(), "each frame is made once, however many watch");
    assertEquals(made, count(first));
    for (int i = 1; i < 200; i++) {
      int got = count(callers.get(i)) - had.get(i);
      int due = (int) (made - then.get(i)) / 25;
      assertTrue(got >= due - 1 && got <= due + 2, i + " got " + got + ", due " + due);
    }
  }

  @Test
  void aWatcherWhoReadsNothingLosesFramesAndHoldsNobodyUp() throws Exception {
    frame = "{\"n\":%d,\"fill\":\"" + "x".repeat(8_000) + "\"}";
    Caller deaf = call().ask("GET /live/run");
    await(() -> server.live().watchers() == 1);
    Caller second = call().ask("GET /live/run");
    await(() -> server.live().made() >= 100);
    await(() -> count(second) >= 2);
    int numberOfLast = server.live().watchers();
    assertEquals(2, numberOfLast, "a slow watcher is kept");
    int kept = count(deaf);
    assertTrue(kept < 60, kept + " frames wait for who reads nothing");
    server.close();
  }

  /** A byte now and then is not enough: the whole request must be there in time. */
  @Test
  void whoNeverFinishesARequestIsSentAway() throws Exception {
    server.close();
    server = server(TimeUnit.MILLISECONDS.toNanos(200));
    Caller watcher = accepted("GET /live/run");
    assertTrue(call().isSentAway(), "nothing sent");
    assertTrue(call().begin("GET /").isSentAway(), "half a head");
    assertTrue(
        call()
            .begin("POST /runs/run/stop")
            .send("X-Stopwell: 1\r\nContent-Length: 9\r\n\r\nx")
            .isSentAway(),
        "half a body");
    int there = count(watcher);
    await(() -> count(watcher) > there);
  }

  @Test
  void theListOfRunsIsWorkedOutOnceForEverybody() throws Exception {
    AtomicInteger made = new AtomicInteger();
    Shared<Integer> shared = new Shared<>(PATIENT_NS, made::incrementAndGet);
    for (int i = 0; i < 200; i++) {
      assertEquals(1, shared.get());
    }
    shared.forget();
    assertEquals(2, shared.get());
  }

  /** What has the same length and date is not read again: nobody walks its hash chain. */
  @Test
  void aRunIsReadAgainOnlyWhenItsFilesHaveChanged() throws Exception {
    Path whole = dir.resolve("whole");
    RunFile.create(whole, ConsoleServerTest.header(TestPlans.quick(1))).close();
    Path file = whole.resolve(RunFile.NAME);
    RunNews news = new RunNews(new RunList(dir));
    assertTrue(text(news.reply()).contains("\"plan\":\"quick\""));
    FileTime date = Files.getLastModifiedTime(file);
    Files.write(file, new byte[(int) Files.size(file)]);
    Files.setLastModifiedTime(file, date);
    news.forget();
    assertTrue(text(news.reply()).contains("\"plan\":\"quick\""), "not read again");
    Files.setLastModifiedTime(file, FileTime.fromMillis(date.toMillis() + 1_000));
    news.forget();
    assertFalse(text(news.reply()).contains("\"plan\":\"quick\""), "read again");
  }

  private static String text(Reply reply) {
    return new String(reply.body(), StandardCharsets.UTF_8);
  }

  private LiveSource source() {
    return new LiveSource() {
      @Override
      public Optional<byte[]> next() {
        String text = frame.formatted(frames.incrementAndGet());
        return Optional.of(text.getBytes(StandardCharsets.UTF_8));
      }

      @Override
      public void close() {}
    };
  }

  private Caller call() throws IOException {
    Caller caller = new Caller(server);
    callers.add(caller);
    return caller;
  }

  /** A request that came in time: on a busy machine even a whole one can be late. */
  private Caller accepted(String line) throws IOException {
    while (true) {
      Caller caller = call();
      try {
        if (caller.ask(line).line().startsWith("HTTP/1.1 200")) {
          return caller;
        }
      } catch (IOException e) {
        // Sent away before it had said everything.
      }
    }
  }

  private static int count(Caller caller) throws IOException {
    return (int) Pattern.compile("data: \\{").matcher(caller.heard()).results().count();
  }

  private interface Condition {
    boolean holds() throws IOException;
  }

  private static void await(Condition what) throws IOException {
    while (!what.holds()) {
      MachineClock.waitNs(5_000_000);
    }
  }
}
