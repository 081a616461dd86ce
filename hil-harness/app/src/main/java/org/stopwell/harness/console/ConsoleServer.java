package org.stopwell.harness.console;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.report.RunReport;
import tools.jackson.jr.ob.JSON;

/**
 * Serves the console on the loopback address only. It reads run files. It may ask a campaign to
 * come to a safe end, and can never take that back. By itself it starts nothing: when a calibration
 * was started at this machine with its page armed, it carries that calibration's questions and
 * answers; when it was itself started with plans and a bench, it may start one of these plans
 * there.
 */
public final class ConsoleServer implements AutoCloseable {
  private static final Map<String, String> PAGES =
      Map.of(
          "/", "console.html",
          "/console.js", "console.js",
          "/console.css", "console.css",
          "/calibration", "calibration.html",
          "/calibration.js", "calibration.js");

  private static final Map<String, String> TYPES =
      Map.of(
          "html", "text/html; charset=utf-8",
          "js", "text/javascript; charset=utf-8",
          "css", "text/css; charset=utf-8",
          "xml", "application/xml");

  private static final Map<String, Object> NOT_ARMED = Map.of("armed", false);

  /** A header that a page of another origin cannot send without being asked first. */
  private static final String ASKED_HEADER = "X-Stopwell";

  private static final int LONGEST_BODY = 1_000;

  private static final String PAGE_POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'";

  /**
   * What a run directory holds can have come by mail. In the sandbox its scripts run without the
   * origin of the console, so they can neither read it nor press its buttons; and they reach no
   * network. Which scripts and styles run is in the page itself.
   */
  private static final String RUN_POLICY =
      "sandbox allow-scripts; default-src 'none'; script-src 'unsafe-inline'; style-src"
          + " 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

  private final HttpServer server;
  private final ExecutorService threads = Executors.newFixedThreadPool(2);
  private final RunList runs;
  private final @Nullable CalibrationDesk desk;
  private final @Nullable StartDesk starts;

  /**
   * A server that answers at once, and starts nothing.
   *
   * @param directory where the run directories are
   * @param port TCP port; 0 for any that is free
   * @throws IOException when the port is taken
   */
  public ConsoleServer(Path directory, int port) throws IOException {
    this(directory, port, null, null);
  }

  /**
   * A server that answers at once.
   *
   * @param directory where the run directories are
   * @param port TCP port; 0 for any that is free
   * @param desk the calibration that may be answered at its page, or null
   * @param starts where the page may start campaigns, or null
   * @throws IOException when the port is taken
   */
  public ConsoleServer(
      Path directory, int port, @Nullable CalibrationDesk desk, @Nullable StartDesk starts)
      throws IOException {
    this.desk = desk;
    this.starts = starts;
    runs = new RunList(directory);
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), port), 0);
    server.createContext("/", this::answer);
    server.setExecutor(threads);
    server.start();
  }

  /**
   * Where to look.
   *
   * @return an address for a browser on this machine
   */
  public String address() {
    return "http://127.0.0.1:" + server.getAddress().getPort() + "/";
  }

  @Override
  public void close() {
    server.stop(0);
    threads.shutdownNow();
  }

  private void answer(HttpExchange exchange) throws IOException {
    try (exchange) {
      if (!isFromHere(exchange)) {
        send(exchange, 403, "text/plain", "The console accepts requests from this machine only.\n");
        return;
      }
      String path = exchange.getRequestURI().getPath();
      switch (exchange.getRequestMethod()) {
        case "GET" -> get(exchange, path);
        case "POST" -> {
          if (isOfAnotherOrigin(exchange)) {
            send(exchange, 403, "text/plain", "Only the page of the console can ask for this.\n");
            return;
          }
          post(exchange, path);
        }
        default -> send(exchange, 405, "text/plain", "The console accepts GET and POST only.\n");
      }
    } catch (IOException e) {
      send(exchange, 500, "text/plain", "A run file cannot be read: " + e.getMessage() + "\n");
    }
  }

  /** A name that merely resolves to this machine is another site's doing. */
  private boolean isFromHere(HttpExchange exchange) {
    String host = exchange.getRequestHeaders().getFirst("Host");
    return host != null && names().contains(host);
  }

  /**
   * Whether a page of another origin asks. A browser states the origin of every such request, and
   * {@code null} for a page in a sandbox; a program that is no browser states none.
   */
  private boolean isOfAnotherOrigin(HttpExchange exchange) {
    List<String> own = names().stream().map(name -> "http://" + name).toList();
    return !own.containsAll(exchange.getRequestHeaders().getOrDefault("Origin", List.of()));
  }

  private List<String> names() {
    int port = server.getAddress().getPort();
    return List.of("127.0.0.1:" + port, "localhost:" + port, "[::1]:" + port);
  }

  private void get(HttpExchange exchange, String path) throws IOException {
    String page = PAGES.get(path);
    if (page != null) {
      send(exchange, 200, type(page), resource(page));
      return;
    }
    switch (path) {
      case "/api/runs" -> sendJson(exchange, runs.read());
      case "/api/plans" -> sendJson(exchange, starts == null ? NOT_ARMED : starts.state());
      case "/api/calibration" -> sendJson(exchange, desk == null ? NOT_ARMED : desk.state());
      default -> artefact(exchange, path);
    }
  }

  private static void sendJson(HttpExchange exchange, Object values) throws IOException {
    send(exchange, 200, "application/json", JSON.std.asString(values));
  }

  private void artefact(HttpExchange exchange, String path) throws IOException {
    String[] parts = path.split("/", -1);
    boolean artefact =
        parts.length == 4
            && parts[1].equals("runs")
            && List.of(RunReport.PAGE, RunReport.JUNIT).contains(parts[3]);
    Optional<Path> run = artefact ? runs.find(parts[2]) : Optional.empty();
    if (run.isPresent() && Files.isRegularFile(run.get().resolve(parts[3]))) {
      send(exchange, 200, type(parts[3]), Files.readString(run.get().resolve(parts[3])));
    } else {
      send(exchange, 404, "text/plain", "Not found.\n");
    }
  }

  private void post(HttpExchange exchange, String path) throws IOException {
    if (desk != null && path.startsWith("/calibration/")) {
      calibrate(exchange, path, desk);
      return;
    }
    if (starts != null && path.startsWith("/plans/")) {
      start(exchange, path, starts);
      return;
    }
    String[] parts = path.split("/", -1);
    boolean stop = parts.length == 4 && parts[1].equals("runs") && parts[3].equals("stop");
    if (!stop || exchange.getRequestHeaders().getFirst(ASKED_HEADER) == null) {
      send(exchange, 403, "text/plain", "The console can only request the stop of a run.\n");
      return;
    }
    Optional<Path> run = runs.find(parts[2]);
    if (run.isEmpty()) {
      send(exchange, 404, "text/plain", "Run not found.\n");
      return;
    }
    StopRequest.make(run.get());
    send(exchange, 202, "text/plain", "Stop requested.\n");
  }

  /** The body is the hash of the plan as it was shown: what was confirmed is what runs. */
  private static void start(HttpExchange exchange, String path, StartDesk starts)
      throws IOException {
    String[] parts = path.split("/", -1);
    boolean asked = exchange.getRequestHeaders().getFirst(ASKED_HEADER) != null;
    if (!asked || parts.length != 4 || !parts[3].equals("start")) {
      send(exchange, 403, "text/plain", "Only the page of the console can start a plan.\n");
      return;
    }
    byte[] body = exchange.getRequestBody().readNBytes(LONGEST_BODY);
    StartDesk.Answer answer = starts.start(parts[2], new String(body, StandardCharsets.UTF_8));
    send(exchange, answer.code, "text/plain", answer.text + "\n");
  }

  /** The body is one line: the number of the question, a space, and the answer. */
  private static void calibrate(HttpExchange exchange, String path, CalibrationDesk desk)
      throws IOException {
    if (exchange.getRequestHeaders().getFirst(ASKED_HEADER) == null) {
      send(exchange, 403, "text/plain", "Only the page of the calibration can send an answer.\n");
      return;
    }
    switch (path) {
      case "/calibration/leave" -> {
        desk.leave();
        send(exchange, 202, "text/plain", "Calibration stopped.\n");
      }
      case "/calibration/answer" -> {
        byte[] body = exchange.getRequestBody().readNBytes(LONGEST_BODY + 1);
        String[] words = new String(body, StandardCharsets.UTF_8).split(" ", 2);
        boolean taken =
            body.length <= LONGEST_BODY
                && words.length == 2
                && words[0].matches("[0-9]{1,9}")
                && desk.take(Long.parseLong(words[0]), words[1]);
        send(
            exchange,
            taken ? 202 : 409,
            "text/plain",
            taken ? "Answer received.\n" : "This question is no longer open. Reload the page.\n");
      }
      default -> send(exchange, 404, "text/plain", "Not found.\n");
    }
  }

  private static String type(String name) {
    return Objects.requireNonNull(TYPES.get(name.substring(name.lastIndexOf('.') + 1)));
  }

  private static String resource(String name) throws IOException {
    try (InputStream in = ConsoleServer.class.getResourceAsStream(name)) {
      return new String(Objects.requireNonNull(in, name).readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  private static void send(HttpExchange exchange, int code, String type, String text)
      throws IOException {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    var headers = exchange.getResponseHeaders();
    headers.set("Content-Type", type);
    headers.set("Cache-Control", "no-store");
    headers.set("X-Content-Type-Options", "nosniff");
    headers.set("X-Frame-Options", "DENY");
    headers.set("Referrer-Policy", "no-referrer");
    boolean run = exchange.getRequestURI().getPath().startsWith("/runs/");
    headers.set("Content-Security-Policy", run ? RUN_POLICY : PAGE_POLICY);
    exchange.sendResponseHeaders(code, bytes.length);
    exchange.getResponseBody().write(bytes);
  }
}
