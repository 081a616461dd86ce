package org.stopwell.harness.console;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.ConnectException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.NetworkInterface;
import java.net.Socket;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.record.RunFile;

/** Whatever arrives is answered, refused or cut off, and the next request is served. */
class HostileRequestTest {
  private static final String SECRET = "secret of another directory";

  @TempDir Path dir;
  private Path run = Path.of("");
  private ConsoleServer server;

  @BeforeEach
  void open() throws IOException {
    Path runs = Files.createDirectory(dir.resolve("runs"));
    run = Files.createDirectory(runs.resolve("run"));
    Files.writeString(run.resolve(RunFile.NAME), SECRET);
    Files.writeString(dir.resolve("report.html"), SECRET);
    server = new ConsoleServer(runs, 0);
  }

  @AfterEach
  void close() {
    server.close();
  }

  private void lives() throws IOException {
    assertTrue(Caller.get(server, "/").startsWith("HTTP/1.1 200"), "the next one is served");
    assertFalse(StopRequest.isMade(run), "nothing was asked of the run");
  }

  @Test
  void randomBytesAreRefused() throws Exception {
    long seed = new Random().nextLong();
    Random random = new Random(seed);
    for (int i = 0; i < 300; i++) {
      byte[] noise = new byte[random.nextInt(3_000)];
      random.nextBytes(noise);
      refused(noise, "seed " + seed + ", input " + i);
    }
    lives();
  }

  @Test
  void damagedRequestsAreRefused() throws Exception {
    long seed = new Random().nextLong();
    Random random = new Random(seed);
    String host = URI.create(server.address()).getAuthority();
    String whole =
        "POST /runs/run/stop HTTP/1.1\r\nHost: " + host + "\r\nContent-Length: 0\r\n\r\n";
    for (int i = 0; i < 300; i++) {
      byte[] bytes = whole.getBytes(StandardCharsets.US_ASCII);
      for (int k = random.nextInt(4); k >= 0; k--) {
        bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(256);
      }
      refused(bytes, "seed " + seed + ", input " + i);
    }
    lives();
  }

  /** Any answer but success, or none. */
  private void refused(byte[] bytes, String which) throws IOException {
    try (Caller caller = new Caller(server)) {
      caller.send(bytes).endOfInput();
      String answer = caller.answer();
      assertFalse(answer.matches("(?s)HTTP/1.1 2.*"), which + ": " + answer);
      assertFalse(answer.contains(SECRET), which);
    } catch (IOException e) {
      // It was cut off.
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "OPTIONS",
        "TRACE",
        "CONNECT",
        "HEAD",
        "PUT",
        "DELETE",
        "PATCH",
        "PROPFIND",
        "get",
        "XYZ"
      })
  void oddMethodsAreRefused(String method) throws Exception {
    String answer;
    try (Caller caller = new Caller(server)) {
      answer = caller.begin(method + " /").send("Connection: close\r\n\r\n").answer();
    }
    assertTrue(answer.startsWith("HTTP/1.1 4"), answer);
    lives();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/runs/../report.html",
        "/runs/%2e%2e/report.html",
        "/runs/..%2freport.html/report.html",
        "/runs/.%00./report.html",
        "/runs/run/../../report.html",
        "/runs/run/run.db",
        "/runs//report.html",
        "/runs/./report.html",
        "/runs/run%2f..%2f../report.html",
        "/runs/%252e%252e/report.html",
        "/runs/..;/report.html",
        "//etc/passwd",
        "/live/../runs/run/run.db",
        "/live/%2e%2e",
        "/org/stopwell/harness/console/console.html",
        "/META-INF/MANIFEST.MF",
        "http://evil.example/",
        "*",
        "\\..\\report.html"
      })
  void noPathLeavesWhatIsServed(String path) throws Exception {
    String answer = Caller.get(server, path);
    assertTrue(answer.startsWith("HTTP/1.1 4"), answer);
    assertFalse(answer.contains(SECRET), answer);
    assertFalse(answer.contains("jetty") || answer.contains("Exception"), answer);
    lives();
  }

  @ParameterizedTest
  @CsvSource({
    "X-Long, 9000, 431",
    "Cookie, 9000, 431",
    "Content-Length, -1, 400",
    "Content-Length, 99999999999999999999, 400",
    "Transfer-Encoding, bogus, 400",
    "Host, evil.example, 400",
    "Origin, http://evil.example, 403",
    "Origin, null, 403",
    "Sec-Fetch-Site, cross-site, 403",
    "Sec-Fetch-Site, same-site, 403",
  })
  void badHeadersAreRefused(String name, String value, int code) throws Exception {
    String text = value.equals("9000") ? "x".repeat(9_000) : value;
    try (Caller caller = new Caller(server)) {
      caller.begin("GET /").send(name + ": " + text + "\r\nConnection: close\r\n\r\n");
      String answer = caller.answer();
      assertTrue(answer.startsWith("HTTP/1.1 " + code), answer);
    }
    lives();
  }

  @Test
  void aLinkFromAnotherSiteOpensAPageAndNothingElse() throws Exception {
    String link = "Sec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: navigate\r\n";
    assertEquals(200, code("GET /", link + "Sec-Fetch-Dest: document\r\n"));
    assertEquals(403, code("GET /", link + "Sec-Fetch-Dest: iframe\r\n"));
    assertEquals(403, code("GET /api/runs", "Sec-Fetch-Site: cross-site\r\n"));
    assertEquals(
        403, code("POST /runs/run/stop", link + "Sec-Fetch-Dest: document\r\nX-Stopwell: 1\r\n"));
    assertEquals(200, code("GET /api/runs", "Sec-Fetch-Site: same-origin\r\n"));
    lives();
  }

  @Test
  void aBodyThatIsTooLongIsNotRead() throws Exception {
    try (Caller caller = new Caller(server)) {
      caller.begin("POST /runs/run/stop").send("X-Stopwell: 1\r\nContent-Length: 100000\r\n\r\n");
      caller.send("x".repeat(2_000));
      assertTrue(caller.line().startsWith("HTTP/1.1 413"));
    }
    lives();
  }

  @Test
  void noOtherAddressOfThisMachineAnswers() throws Exception {
    int port = URI.create(server.address()).getPort();
    for (NetworkInterface card : Collections.list(NetworkInterface.getNetworkInterfaces())) {
      for (InetAddress address : Collections.list(card.getInetAddresses())) {
        if (!address.isLoopbackAddress()) {
          assertFalse(answers(address, port), address.toString());
        }
      }
    }
    assertFalse(answers(InetAddress.getByName("127.0.0.2"), port));
    assertTrue(answers(InetAddress.getLoopbackAddress(), port));
  }

  private static boolean answers(InetAddress address, int port) throws IOException {
    try (Socket socket = new Socket()) {
      socket.connect(new InetSocketAddress(address, port), 10_000);
      return true;
    } catch (ConnectException e) {
      return false;
    }
  }

  @Test
  void whatMayBeKeptIsAskedForAgainAndNotSentTwice() throws Exception {
    for (String path : List.of("/", "/uplot.js", "/uplot.css", "/canal.js", "/look.css")) {
      String answer = Caller.get(server, path);
      assertTrue(answer.startsWith("HTTP/1.1 200"), path + answer);
      assertTrue(answer.contains("Cache-Control: no-cache\r\n"), answer);
      String tag = answer.replaceAll("(?s).*ETag: ([^\\r]*).*", "$1");
      assertEquals(304, code("GET " + path, "If-None-Match: " + tag + "\r\n"));
    }
    assertTrue(Caller.get(server, "/uplot.js").contains("Content-Type: text/javascript"));
  }

  private int code(String line, String headers) throws IOException {
    try (Caller caller = new Caller(server)) {
      String answer = caller.begin(line).send(headers + "Connection: close\r\n\r\n").answer();
      return Integer.parseInt(answer.split(" ", 3)[1]);
    }
  }
}
