package org.stopwell.harness.console;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.net.URI;
import java.nio.charset.StandardCharsets;

/** A connection that sends what it likes: no library completes or refuses it. */
final class Caller implements AutoCloseable {
  private static final int HANGS_MS = 100_000;

  private final Socket socket = new Socket();
  private final String host;
  private final ByteArrayOutputStream heard = new ByteArrayOutputStream();

  Caller(ConsoleServer server) throws IOException {
    this(URI.create(server.address()));
  }

  Caller(URI at) throws IOException {
    host = at.getHost() + ":" + at.getPort();
    socket.setReceiveBufferSize(16 * 1024);
    socket.setSoTimeout(HANGS_MS);
    socket.connect(new InetSocketAddress(at.getHost(), at.getPort()));
  }

  /** The words of a request without its end. */
  Caller begin(String line) throws IOException {
    return send(line + " HTTP/1.1\r\nHost: " + host + "\r\n");
  }

  Caller send(String text) throws IOException {
    return send(text.getBytes(StandardCharsets.ISO_8859_1));
  }

  Caller send(byte[] bytes) throws IOException {
    socket.getOutputStream().write(bytes);
    return this;
  }

  /** A whole request. */
  Caller ask(String line) throws IOException {
    return begin(line).send("\r\n");
  }

  /** Everything until the server closes. */
  String answer() throws IOException {
    return new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
  }

  /** The first line of the answer. */
  String line() throws IOException {
    StringBuilder line = new StringBuilder();
    for (int c = socket.getInputStream().read(); c >= ' '; c = socket.getInputStream().read()) {
      line.append((char) c);
    }
    return line.toString();
  }

  /** Nothing more is sent. */
  void endOfInput() throws IOException {
    socket.shutdownOutput();
  }

  /** Takes what has come, and forgets it. */
  void skip() throws IOException {
    InputStream in = socket.getInputStream();
    in.skipNBytes(in.available());
  }

  /** Everything so far, without waiting. */
  String heard() throws IOException {
    InputStream in = socket.getInputStream();
    int there = in.available();
    heard.write(in.readNBytes(there));
    return heard.toString(StandardCharsets.UTF_8);
  }

  /** Whether the server has closed the connection. */
  boolean isSentAway() {
    try {
      socket.getInputStream().readAllBytes();
      return true;
    } catch (SocketTimeoutException e) {
      return false;
    } catch (IOException e) {
      return true;
    }
  }

  /** The answer to one request over a connection of its own. */
  static String get(ConsoleServer server, String path) throws IOException {
    try (Caller caller = new Caller(server)) {
      return caller.begin("GET " + path).send("Connection: close\r\n\r\n").answer();
    }
  }

  @Override
  public void close() {
    try {
      socket.close();
    } catch (IOException e) {
      // It is closed.
    }
  }
}
