package org.stopwell.harness.console;

import java.io.IOException;
import java.net.InetAddress;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.eclipse.jetty.http.HttpFields;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.Callback;
import org.eclipse.jetty.util.Promise;
import org.eclipse.jetty.util.thread.Invocable;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.jspecify.annotations.Nullable;

/**
 * Serves the console on the loopback address only. It reads run files. It may ask a campaign to
 * come to a safe end, and can never take that back. By itself it starts nothing: when a calibration
 * was started at this machine with its page armed, it carries that calibration's questions and
 * answers; when it was itself started with plans and a bench, it may start one of these plans
 * there.
 */
public final class ConsoleServer implements AutoCloseable {
  /** No thread waits for a browser, so a few are enough for any number of them; assumed. */
  private static final int THREADS = 8;

  private static final int LONGEST_HEADER = 8_192; // bytes
  private static final int LONGEST_BODY = 1_000; // bytes
  private static final long IDLE_MS = 30_000;

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

  private final Server server;
  private final ServerConnector connector;
  private final Pages pages;
  private final Door door;
  private final LiveChannel live;

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
    this(directory, port, desk, starts, run -> Optional.empty());
  }

  /** A server with another source for its watchers. */
  ConsoleServer(
      Path directory,
      int port,
      @Nullable CalibrationDesk desk,
      @Nullable StartDesk starts,
      LiveSource.Opener feed)
      throws IOException {
    pages = new Pages(directory, desk, starts);
    live = new LiveChannel(feed);
    QueuedThreadPool threads = new QueuedThreadPool(THREADS);
    threads.setName("console");
    threads.setDaemon(true);
    threads.setReservedThreads(0);
    server = new Server(threads);
    server.setStopTimeout(0);
    server.setErrorHandler(ConsoleServer::refuse);
    server.setHandler(new Answers());
    connector = new ServerConnector(server, null, null, null, 0, 1, http());
    connector.setHost(InetAddress.getLoopbackAddress().getHostAddress());
    connector.setPort(port);
    connector.setIdleTimeout(IDLE_MS);
    server.addConnector(connector);
    connector.open();
    int open = connector.getLocalPort();
    door = new Door(List.of("127.0.0.1:" + open, "localhost:" + open, "[::1]:" + open));
    try {
      server.start();
    } catch (Exception e) {
      close();
      throw new IOException(e.getMessage(), e);
    }
  }

  private static HttpConnectionFactory http() {
    HttpConfiguration http = new HttpConfiguration();
    http.setSendServerVersion(false);
    http.setSendDateHeader(false);
    http.setRequestHeaderSize(LONGEST_HEADER);
    return new HttpConnectionFactory(http);
  }

  /**
   * Where to look.
   *
   * @return an address for a browser on this machine
   */
  public String address() {
    return "http://127.0.0.1:" + connector.getLocalPort() + "/";
  }

  @Override
  public void close() {
    live.close();
    try {
      server.stop();
    } catch (Exception e) {
      // Its threads end with the program.
    }
  }

  /** What is no request, or none that the console takes. */
  private static boolean refuse(Request request, Response response, Callback callback) {
    int code = response.getStatus() >= 400 ? response.getStatus() : 500;
    send(request, response, callback, Reply.text(code, "The console cannot read this request."));
    return true;
  }

  /** Decoded once; Jetty refuses a path that would mean something else decoded twice. */
  private static String path(Request request) {
    String path = request.getHttpURI().getDecodedPath();
    return path == null ? "" : path;
  }

  private static void send(Request request, Response response, Callback callback, Reply reply) {
    guard(request, response, reply.type());
    response.setStatus(reply.code());
    response.getHeaders().put(HttpHeader.CONTENT_LENGTH, reply.body().length);
    response.write(true, ByteBuffer.wrap(reply.body()), callback);
  }

  /** What every answer says to the browser. */
  private static void guard(Request request, Response response, String type) {
    boolean run = path(request).startsWith(Pages.RUNS);
    HttpFields.Mutable headers = response.getHeaders();
    headers.put(HttpHeader.CONTENT_TYPE, type);
    headers.put(HttpHeader.CACHE_CONTROL, "no-store");
    headers.put("X-Content-Type-Options", "nosniff");
    headers.put("X-Frame-Options", "DENY");
    headers.put("Referrer-Policy", "no-referrer");
    headers.put("Content-Security-Policy", run ? RUN_POLICY : PAGE_POLICY);
  }

  /** Answers every request; a body is awaited without a thread. */
  private final class Answers extends Handler.Abstract {
    @Override
    public boolean handle(Request request, Response response, Callback callback) {
      String path = path(request);
      Optional<Reply> refusal = door.refuse(request.getMethod(), request.getHeaders());
      if (refusal.isPresent()) {
        send(request, response, callback, refusal.get());
      } else if (request.getMethod().equals("GET") && path.startsWith(Pages.LIVE)) {
        watch(path, request, response, callback);
      } else if (request.getMethod().equals("GET")) {
        send(request, response, callback, reply(() -> pages.get(path)));
      } else {
        Content.Source.asByteArrayAsync(
            request,
            LONGEST_BODY,
            Promise.Invocable.from(
                Invocable.InvocationType.BLOCKING,
                (body, failure) ->
                    send(
                        request,
                        response,
                        callback,
                        failure == null
                            ? reply(() -> pages.post(path, body))
                            : Reply.text(413, "The request is too long or was cut off."))));
      }
      return true;
    }

    private void watch(String path, Request request, Response response, Callback callback) {
      LiveChannel.Entry entry;
      try {
        Optional<Path> run = pages.watched(path);
        if (run.isEmpty()) {
          send(request, response, callback, Reply.notFound());
          return;
        }
        guard(request, response, "text/event-stream");
        entry = live.watch(run.get(), response::write, callback);
      } catch (IOException e) {
        entry = LiveChannel.Entry.NO_FEED;
      }
      switch (entry) {
        case WATCHING -> {}
        case NO_FEED ->
            send(request, response, callback, Reply.text(404, "Nothing of this run is live."));
        case FULL ->
            send(request, response, callback, Reply.text(503, "Too many watchers. Try later."));
      }
    }

    private Reply reply(Answer answer) {
      try {
        return answer.make();
      } catch (IOException e) {
        return Reply.text(500, "A run file cannot be read: " + e.getMessage());
      }
    }
  }

  /** Makes a reply, and may have to read files for it. */
  @FunctionalInterface
  private interface Answer {
    Reply make() throws IOException;
  }
}
