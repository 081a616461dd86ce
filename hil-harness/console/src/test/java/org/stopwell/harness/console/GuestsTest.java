package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.InetAddress;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.record.RunFile;

/**
 * Guests need the token and may only look. A second loopback address stands for another machine.
 */
class GuestsTest {
  private static final String TOKEN = "0123456789abcdef";

  @TempDir Path dir;
  private final CalibrationDesk desk = new CalibrationDesk("Calibration", () -> true);
  private Path run = Path.of("");
  private ConsoleServer server;
  private URI there = URI.create("http://none");

  @BeforeEach
  void open() throws IOException {
    Files.writeString(dir.resolve("mine.yaml"), "settings: 1\n");
    run = Files.createDirectory(dir.resolve("run"));
    Files.writeString(run.resolve(RunFile.NAME), "a run");
    Guests guests = new Guests(InetAddress.getByName("127.0.0.2"), TOKEN);
    server =
        new ConsoleServer(dir, 0, desk, null, guests, new SettingsDesk(dir, Policies.BUILT_IN));
    there = URI.create(server.guestAddress().orElseThrow());
  }

  @AfterEach
  void close() {
    server.close();
  }

  @ParameterizedTest
  @ValueSource(strings = {"/", "/api/runs", "/live/run", "/?token=", "/?token=0123456789abcdee"})
  void withoutTheTokenNothingIsShown(String path) throws Exception {
    String answer = guest("GET " + path, "");
    assertTrue(answer.startsWith("HTTP/1.1 403"), answer);
    assertFalse(answer.contains("\"name\""), answer);
  }

  @Test
  void theTokenIsShownOnceAndKeptByTheBrowser() throws Exception {
    String first = guest("GET " + there.getRawPath() + "?" + there.getRawQuery(), "");
    assertTrue(first.startsWith("HTTP/1.1 303"), first);
    assertTrue(first.contains("Location: /\r\n"), first);
    assertTrue(first.matches("(?s).*Set-Cookie: stopwell=" + TOKEN + ";.*HttpOnly.*"), first);
    assertTrue(first.contains("SameSite=Strict"), first);
    String runs = guest("GET /api/runs", "Cookie: stopwell=" + TOKEN + "\r\n");
    assertTrue(runs.contains("\"name\":\"run\""), runs);
    String header = guest("GET /", "Authorization: Bearer " + TOKEN + "\r\n");
    assertTrue(header.startsWith("HTTP/1.1 200"), header);
  }

  @Test
  void aGuestMayOnlyLook() throws Exception {
    String known = "Cookie: stopwell=" + TOKEN + "\r\nX-Stopwell: stop\r\nContent-Length: 0\r\n";
    for (String path : new String[] {"/runs/run/stop", "/calibration/leave", "/plans/x/start"}) {
      String answer = guest("POST " + path, known);
      assertTrue(answer.startsWith("HTTP/1.1 403"), answer);
      assertTrue(answer.contains("can only be looked at"), answer);
    }
    assertFalse(StopRequest.isMade(run));
    for (String path :
        new String[] {"/settings", "/settings/mine.yaml", "/api/settings/mine.yaml"}) {
      assertTrue(guest("GET " + path, known).startsWith("HTTP/1.1 404"), path);
      assertFalse(Caller.get(server, path).contains("Not found."), path);
    }
    assertTrue(guest("GET /api/console", known).contains("{\"look_only\":true}"));
    assertTrue(guest("GET /api/calibration", known).contains("{\"armed\":false}"));
    assertTrue(Caller.get(server, "/api/console").contains("{\"look_only\":false}"));
    assertTrue(Caller.get(server, "/api/calibration").contains("\"armed\":true"));
  }

  @Test
  void eachAddressAnswersToItsOwnNameOnly() throws Exception {
    try (Caller caller = new Caller(there)) {
      String host = URI.create(server.address()).getAuthority();
      String answer =
          caller
              .send("GET / HTTP/1.1\r\nHost: " + host + "\r\nCookie: stopwell=" + TOKEN)
              .send("\r\nConnection: close\r\n\r\n")
              .answer();
      assertTrue(answer.startsWith("HTTP/1.1 403"), answer);
    }
  }

  @Test
  void addressAndTokenAreChecked() throws Exception {
    InetAddress fine = InetAddress.getByName("192.0.2.7"); // a documentation address, RFC 5737
    assertNotEquals(Guests.newToken(), Guests.newToken());
    assertEquals(32, new Guests(fine, Guests.newToken()).token().length());
    for (String token : new String[] {"", "short", "spaces are refused here"}) {
      assertThrows(IllegalArgumentException.class, () -> new Guests(fine, token), token);
    }
    for (String address : new String[] {"0.0.0.0", "::", "127.0.0.1", "224.0.0.1"}) {
      InetAddress one = InetAddress.getByName(address);
      assertThrows(IllegalArgumentException.class, () -> new Guests(one, TOKEN), address);
    }
  }

  private String guest(String line, String headers) throws IOException {
    try (Caller caller = new Caller(there)) {
      return caller.begin(line).send(headers + "Connection: close\r\n\r\n").answer();
    }
  }
}
