package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.rig.calibration.Attendant.Question;
import org.stopwell.rig.calibration.Attendant.Wanted;

/** A calibration that is answered at its page: one question at a time, one answer to each. */
class CalibrationPageTest {
  private static final Question PLACE = new Question(Wanted.NUMBER, "Indicator <b>", "µm");

  @TempDir Path dir;
  private volatile boolean abandoned;
  private final CalibrationDesk desk = new CalibrationDesk("Calibration of B-1", () -> abandoned);
  private ConsoleServer server;

  @BeforeEach
  void open() throws Exception {
    server = new ConsoleServer(dir, 0, desk, null);
  }

  @AfterEach
  void close() {
    abandoned = true;
    server.close();
  }

  @Test
  void theQuestionIsShownAndTheReadingTypedIn() throws Exception {
    CompletableFuture<Optional<Long>> reading =
        CompletableFuture.supplyAsync(() -> desk.thousandths("Indicator", "µm", -10, 10));
    String shown = asked(1);
    assertTrue(shown.contains("\"title\":\"Calibration of B-1\""), shown);
    assertTrue(shown.contains("\"wanted\":\"number\",\"text\":\"Indicator\""), shown);
    assertEquals(202, post("answer", "1 11", true).statusCode());
    shown = asked(2);
    assertTrue(shown.contains("11 is outside -10.0 to 10.0"), shown);
    assertEquals(202, post("answer", "2 -3,25", true).statusCode());
    assertEquals(Optional.of(-3_250L), reading.get(200, TimeUnit.SECONDS));
    assertTrue(get("api/calibration").body().contains("Indicator: -3,25"), "what was typed");
  }

  @Test
  void aSecondClickAnswersNothing() throws Exception {
    CompletableFuture<Optional<String>> first = ask(PLACE);
    asked(1);
    assertEquals(202, post("answer", "1 5", true).statusCode());
    assertEquals(Optional.of("5"), first.get(200, TimeUnit.SECONDS));
    CompletableFuture<Optional<String>> clear = ask(new Question(Wanted.DONE, "Hands away.", ""));
    asked(2);
    assertEquals(409, post("answer", "1 y", true).statusCode(), "it was not read");
    assertFalse(clear.isDone());
    assertEquals(202, post("answer", "2 ", true).statusCode());
    assertEquals(Optional.empty(), clear.get(200, TimeUnit.SECONDS), "the step is left out");
  }

  @Test
  void whoeverBreaksOffAnswersNothingMore() throws Exception {
    CompletableFuture<Optional<String>> first = ask(PLACE);
    asked(1);
    assertEquals(202, post("leave", "", true).statusCode());
    assertEquals(Optional.empty(), first.get(200, TimeUnit.SECONDS));
    assertEquals(Optional.empty(), desk.answer(PLACE));
    assertFalse(desk.asked("The motor turns now."), "nobody says any more that all is clear");
  }

  @Test
  void anotherSitesPageAnswersNothing() throws Exception {
    CompletableFuture<Optional<String>> first = ask(PLACE);
    asked(1);
    assertEquals(403, post("answer", "1 5", false).statusCode());
    assertEquals(403, post("leave", "", false).statusCode());
    assertFalse(first.isDone());
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "5", "x 5", "-1 5", "99999999999999999999 5", "2 5"})
  void whatIsNoAnswerToThisQuestionIsTurnedAway(String body) throws Exception {
    CompletableFuture<Optional<String>> first = ask(PLACE);
    asked(1);
    assertEquals(409, post("answer", body, true).statusCode());
    assertEquals(409, post("answer", "1 " + "9".repeat(201), true).statusCode());
    assertEquals(413, post("answer", "1 " + "9".repeat(5_000), true).statusCode());
    assertFalse(first.isDone());
  }

  @Test
  void withoutACalibrationThePageSaysHowToStartOneAndAnswersNothing() throws Exception {
    try (ConsoleServer bare = new ConsoleServer(dir, 0)) {
      ConsoleServer armed = server;
      server = bare;
      assertEquals("{\"armed\":false}", get("api/calibration").body());
      assertEquals(403, post("answer", "1 5", true).statusCode());
      assertTrue(get("calibration.js").body().contains("stopwell rig calibrate"));
      server = armed;
    }
  }

  @Test
  void thePageSaysWhatItIsNot() throws Exception {
    String page = get("calibration").body();
    assertTrue(page.contains("not an\nemergency stop"), page);
    assertTrue(page.contains("Not a medical device, not for use on a person."), page);
    assertFalse(get("calibration.js").body().contains("innerHTML"));
  }

  private CompletableFuture<Optional<String>> ask(Question question) {
    return CompletableFuture.supplyAsync(() -> desk.answer(question));
  }

  /** Waits until the page shows the question of that number. */
  private String asked(int number) throws Exception {
    String shown = "";
    for (int i = 0; i < 1_000 && !shown.contains("\"number\":" + number); i++) {
      shown = get("api/calibration").body();
    }
    assertTrue(shown.contains("\"number\":" + number), shown);
    return shown;
  }

  private HttpResponse<String> get(String path) throws IOException, InterruptedException {
    return send(HttpRequest.newBuilder(URI.create(server.address() + path)).build());
  }

  private HttpResponse<String> post(String what, String body, boolean asked)
      throws IOException, InterruptedException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(URI.create(server.address() + "calibration/" + what))
            .POST(HttpRequest.BodyPublishers.ofString(body));
    return send((asked ? request.header("X-Stopwell", "calibrate") : request).build());
  }

  private static HttpResponse<String> send(HttpRequest request)
      throws IOException, InterruptedException {
    return HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofString());
  }
}
