package org.stopwell.harness.console;

import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.Optional;
import java.util.zip.CRC32C;

/**
 * An answer to one request.
 *
 * @param code status of HTTP
 * @param type media type
 * @param body what is sent, unless a file is
 * @param file what is sent piece by piece, however large it is
 * @param tag changes with the content; empty when a browser must not keep the answer
 * @param policy what the page may do; empty for what every page of the console may
 */
@SuppressWarnings("ArrayRecordComponent") // Large, and only passed through.
record Reply(int code, String type, byte[] body, Optional<Path> file, String tag, String policy) {
  private static final byte[] NOTHING = {};

  /** A sentence for whoever asked. */
  static Reply text(int code, String sentence) {
    byte[] body = (sentence + "\n").getBytes(StandardCharsets.UTF_8);
    return new Reply(code, "text/plain; charset=utf-8", body, Optional.empty(), "", "");
  }

  /** What a browser may keep, if it asks each time whether it is still the same. */
  static Reply kept(String type, byte[] body) {
    CRC32C sum = new CRC32C();
    sum.update(body);
    String tag = "\"" + Long.toHexString(sum.getValue()) + "-" + body.length + "\"";
    return new Reply(200, type, body, Optional.empty(), tag, "");
  }

  /** A file. */
  static Reply of(String type, Path file) {
    return new Reply(200, type, NOTHING, Optional.of(file), "", "");
  }

  /** What has no end: a stream of events. */
  static Reply stream() {
    return new Reply(200, "text/event-stream", NOTHING, Optional.empty(), "", "");
  }

  /** There is no such page. */
  static Reply notFound() {
    return text(404, "Not found.");
  }

  /** The same under a policy of its own. */
  Reply under(String ownPolicy) {
    return new Reply(code, type, body, file, tag, ownPolicy);
  }

  /** The same when the browser has it already, without the content. */
  Reply unlessKnown(String known) {
    boolean same = !tag.isEmpty() && tag.equals(known);
    return same ? new Reply(304, type, NOTHING, Optional.empty(), tag, policy) : this;
  }
}
