package org.stopwell.harness.console;

import java.io.IOException;
import java.net.BindException;
import java.net.InetAddress;
import java.nio.ByteBuffer;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.eclipse.jetty.http.HttpFields;
import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.io.ByteBufferPool;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Handler;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.NetworkConnectionLimit;
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
 * Serves the console: on the loopback address to this machine, and on one other address to guests
 * who know a token and may only look. It reads run files. It may ask a campaign to come to a safe
 * end, and can never take that back. By itself it starts nothing: when a calibration was started at
 * this machine with its page armed, it carries that calibration's questions and answers; when it
 * was itself started with plans and a bench, it may start one of these plans there.
 *
 * <p>No thread waits for a browser. What a browser can take is capped: bytes and seconds of a
 * request, seconds of an answer, connections, watchers.
 */
public final class ConsoleServer implements AutoCloseable {
  // Every cap is assumed: well above what pages and people need, well below what does harm.
  private static final int THREADS = 16;
  private static final int CONNECTIONS = 1_000;
  private static final long CROWDED_MS = 2_000; // idle time when there are that many
  private static final int LONGEST_HEADER = 8_192; // bytes
  private static final int LONGEST_SETTINGS = 1 << 18; // bytes, as JSON; assumed
  private static final int LONGEST_BODY = 1_000; // bytes
  private static final long IDLE_MS = 30_000;
  private static final long REQUEST_NS = TimeUnit.SECONDS.toNanos(20);
  private static final long ANSWER_NS = TimeUnit.SECONDS.toNanos(120);

  /** What the system may hold for a slow browser: half a second of frames, and no more. */
  private static final int SEND_BUFFER = 32 * 1024; // bytes

  private static final String PAGE_POLICY =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:;"
          + " connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

  /**
   * What a run directory holds can have come by mail. In the sandbox its scripts run without the
   * origin of the console, so they can neither read it nor press its buttons; and they reach no
   * network. Which scripts and styles run is in the page itself.
   */
  private static final String RUN_POLICY =
      "sandbox allow-scripts; default-src 'none'; script-src 'unsafe-inline'; style-src"
          + " 'unsafe-inline'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

  private final Server server;
  private final ServerConnector here;
  private final Optional<ServerConnector> there;
  private final Pages pages;
  private final LiveChannel live;
  private final Patience patience;
  private final ByteBufferPool.Sized buffers;
  private final Door door;
  private final Optional<Door> guestDoor;
  private final Optional<GuestDoor> guests;

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
   * A server that answers at once, for this machine only.
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
    this(directory, port, desk, starts, null, SettingsDesk.NONE);
  }

  /**
   * A server that answers at once.
   *
   * @param directory where the run directories are
   * @param port TCP port; 0 for any that is free
   * @param desk the calibration that may be answered at its page, or null
   * @param starts where the page may start campaigns, or null
   * @param guests who may look from another machine, or null for nobody
   * @param settings the settings that the page may show, edit and replay with
   * @throws IOException when the port is taken
   */
  public ConsoleServer(
      Path directory,
      int port,
      @Nullable CalibrationDesk desk,
      @Nullable StartDesk starts,
      @Nullable Guests guests,
      SettingsDesk settings)
      throws IOException {
    this(new Pages(directory, desk, starts, settings), port, guests, FeedSource::open, REQUEST_NS);
  }

  /** A server with another source for its watchers, and other patience. */
  ConsoleServer(
      Pages pages, int port, @Nullable Guests guests, LiveSource.Opener feed, long requestNs)
      throws IOException {
    this.pages = pages;
    QueuedThreadPool threads = new QueuedThreadPool(THREADS);
    threads.setName("console");
    threads.setDaemon(true);
    threads.setReservedThreads(0);
    server = new Server(threads);
    server.setStopTimeout(0);
    server.setErrorHandler(ConsoleServer::refuse);
    server.setHandler(new Answers());
    live = new LiveChannel(feed);
    patience = new Patience(requestNs, ANSWER_NS, server.getScheduler());
    buffers = new ByteBufferPool.Sized(server.getByteBufferPool(), true, SEND_BUFFER);
    InetAddress loopback = InetAddress.getLoopbackAddress();
    try {
      here = open(loopback, port);
      int at = here.getLocalPort();
      door = new Door(List.of("127.0.0.1:" + at, "localhost:" + at, "[::1]:" + at));
      if (guests == null) {
        there = Optional.empty();
        guestDoor = Optional.empty();
        this.guests = Optional.empty();
      } else {
        ServerConnector open = open(guests.address(), port);
        there = Optional.of(open);
        guestDoor = Optional.of(new Door(List.of(host(guests.address(), open.getLocalPort()))));
        this.guests = Optional.of(new GuestDoor(guests));
      }
      NetworkConnectionLimit limit =
          new NetworkConnectionLimit(CONNECTIONS, server.getConnectors());
      limit.setEndPointIdleTimeout(CROWDED_MS);
      server.addBean(limit);
      server.addBean(patience);
      server.start();
    } catch (Exception e) {
      close();
      Throwable why = e.getCause() instanceof BindException taken ? taken : e;
      throw new IOException(why.getMessage(), e);
    }
  }

  private ServerConnector open(InetAddress address, int port) throws IOException {
    HttpConfiguration http = new HttpConfiguration();
    http.setSendServerVersion(false);
    http.setSendDateHeader(false);
    http.setRequestHeaderSize(LONGEST_HEADER);
    ServerConnector connector =
        new ServerConnector(server, null, null, null, 0, 1, new HttpConnectionFactory(http));
    connector.setHost(address.getHostAddress());
    connector.setPort(port);
    connector.setIdleTimeout(IDLE_MS);
    connector.setAcceptedSendBufferSize(SEND_BUFFER);
    connector.addEventListener(patience);
    server.addConnector(connector);
    connector.open();
    return connector;
  }

  private static String host(InetAddress address, int port) {
    String name = address.getHostAddress();
    return (name.contains(":") ? "[" + name + "]" : name) + ":" + port;
  }

  /**
   * Where to look.
   *
   * @return an address for a browser on this machine
   */
  public String address() {
    return "http://127.0.0.1:" + here.getLocalPort() + "/";
  }

  /**
   * Where guests look.
   *
   * @return an address for their browsers, with the token; empty when there are no guests
   */
  public Optional<String> guestAddress() {
    return guests.map(
        all ->
            "http://"
                + host(all.guests().address(), there.orElseThrow().getLocalPort())
                + "/?token="
                + all.guests().token());
  }

  /** What runs do now, and who watches. */
  LiveChannel live() {
    return live;
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
    Reply reply = Reply.text(code, "The console cannot read this request.");
    guard(request, response, reply);
    response.write(true, ByteBuffer.wrap(reply.body()), callback);
    return true;
  }

  /** What every answer says to the browser. */
  private static void guard(Request request, Response response, Reply reply) {
    response.setStatus(reply.code());
    HttpFields.Mutable headers = response.getHeaders();
    headers.put(HttpHeader.CONTENT_TYPE, reply.type());
    headers.put(HttpHeader.CACHE_CONTROL, reply.tag().isEmpty() ? "no-store" : "no-cache");
    if (!reply.tag().isEmpty()) {
      headers.put(HttpHeader.ETAG, reply.tag());
    }
    headers.put("X-Content-Type-Options", "nosniff");
    headers.put("X-Frame-Options", "DENY");
    headers.put("Referrer-Policy", "no-referrer");
    headers.put("Cross-Origin-Opener-Policy", "same-origin");
    headers.put("Cross-Origin-Resource-Policy", "same-origin");
    boolean run = path(request).startsWith(Pages.RUNS);
    String own = reply.policy().isEmpty() ? PAGE_POLICY : reply.policy();
    headers.put("Content-Security-Policy", run ? RUN_POLICY : own);
  }

  private static String query(Request request) {
    String query = request.getHttpURI().getQuery();
    return query == null ? "" : query;
  }

  /** Decoded once; Jetty refuses a path that would mean something else decoded twice. */
  private static String path(Request request) {
    String path = request.getHttpURI().getDecodedPath();
    return path == null ? "" : path;
  }

  /** Makes a reply, and may have to read files for it. */
  @FunctionalInterface
  private interface Answer {
    Reply make() throws IOException;
  }

  /** Answers every request; a body is awaited without a thread. */
  private final class Answers extends Handler.Abstract {
    @Override
    public boolean handle(Request request, Response response, Callback callback) {
      String path = path(request);
      boolean guest =
          there.isPresent() && request.getConnectionMetaData().getConnector().equals(there.get());
      Optional<Reply> refusal =
          (guest ? guestDoor.orElseThrow() : door)
              .refuse(request.getMethod(), request.getHeaders());
      if (guest && refusal.isEmpty()) {
        refusal = guests.orElseThrow().refuse(request);
      }
      if (refusal.isPresent()) {
        send(request, response, callback, refusal.get());
      } else if (guest && guests.orElseThrow().takesToken(request, response)) {
        send(request, response, callback, Reply.text(303, "Welcome."));
      } else if (!request.getMethod().equals("GET")) {
        awaitBody(path, request, response, callback);
      } else if (path.startsWith(Pages.LIVE)) {
        watch(path, request, response, callback);
      } else {
        send(request, response, callback, reply(() -> pages.get(path, query(request), guest)));
      }
      return true;
    }

    private void awaitBody(String path, Request request, Response response, Callback callback) {
      Content.Source.asByteArrayAsync(
          request,
          path.startsWith(SettingsDesk.ADDRESS + "/") ? LONGEST_SETTINGS : LONGEST_BODY,
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

    private void watch(String path, Request request, Response response, Callback callback) {
      LiveChannel.Entry entry;
      try {
        Optional<Path> run = pages.watched(path);
        if (run.isEmpty()) {
          send(request, response, callback, Reply.notFound());
          return;
        }
        Connection connection = request.getConnectionMetaData().getConnection();
        guard(request, response, Reply.stream());
        patience.watch(connection);
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

    private void send(Request request, Response response, Callback callback, Reply all) {
      Reply reply = all.unlessKnown(request.getHeaders().get(HttpHeader.IF_NONE_MATCH));
      guard(request, response, reply);
      Connection connection = request.getConnectionMetaData().getConnection();
      patience.answer(connection);
      Callback done = Callback.from(callback, () -> patience.awaitRequest(connection));
      if (reply.file().isPresent()) {
        Content.copy(Content.Source.from(buffers, reply.file().get()), response, done);
      } else {
        response.getHeaders().put(HttpHeader.CONTENT_LENGTH, reply.body().length);
        response.write(true, ByteBuffer.wrap(reply.body()), done);
      }
    }
  }
}
