package org.stopwell.harness.console;

import java.nio.charset.StandardCharsets;

/**
 * An answer to one request.
 *
 * @param code status of HTTP
 * @param type media type
 * @param body what is sent
 */
@SuppressWarnings("ArrayRecordComponent") // Large, and only passed through.
record Reply(int code, String type, byte[] body) {
  /** A sentence for whoever asked. */
  static Reply text(int code, String sentence) {
    return of(code, "text/plain; charset=utf-8", sentence + "\n");
  }

  /** Text of another type. */
  static Reply of(int code, String type, String body) {
    return new Reply(code, type, body.getBytes(StandardCharsets.UTF_8));
  }

  /** There is no such page. */
  static Reply notFound() {
    return text(404, "Not found.");
  }
}
