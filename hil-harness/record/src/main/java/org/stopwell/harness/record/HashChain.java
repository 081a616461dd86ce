package org.stopwell.harness.record;

import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * The hash chain of a run file: each entry's hash is SHA-256 over the hash before it and the
 * entry's canonical bytes, so that no earlier entry can change without every later hash changing.
 *
 * <p>Canonical bytes: the kind as text, then each field as one tag byte and its value. {@code I}: 8
 * bytes, big endian; {@code D}: IEEE 754 bits, 8 bytes, big endian; {@code T}: 4-byte length and
 * UTF-8; {@code B}: 4-byte length and bytes; {@code N}: nothing.
 */
final class HashChain {
  private byte[] head;

  private HashChain(byte[] head) {
    this.head = head;
  }

  /** The hash before the first entry; from version 4 of the tables on it covers their version. */
  static HashChain start(int version) {
    String first =
        "stopwell run file" + (version < Schema.VERSION_CHAINED ? "" : ", version " + version);
    return new HashChain(sha256().digest(first.getBytes(StandardCharsets.UTF_8)));
  }

  HashChain copy() {
    return new HashChain(head);
  }

  /** Adds one entry and returns its hash. */
  byte[] add(String kind, List<? extends @Nullable Object> fields) {
    MessageDigest digest = sha256();
    digest.update(head);
    put(digest, kind);
    for (Object field : fields) {
      put(digest, field);
    }
    head = digest.digest();
    return head.clone();
  }

  /** The newest hash, in hexadecimal. */
  String hex() {
    return HexFormat.of().formatHex(head);
  }

  static MessageDigest sha256() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  private static void put(MessageDigest digest, @Nullable Object field) {
    if (field == null) {
      digest.update((byte) 'N');
    } else if (field instanceof Long value) {
      digest.update(ByteBuffer.allocate(9).put((byte) 'I').putLong(value).flip());
    } else if (field instanceof Double value) {
      digest.update(
          ByteBuffer.allocate(9).put((byte) 'D').putLong(Double.doubleToLongBits(value)).flip());
    } else if (field instanceof byte[] bytes) {
      putBytes(digest, 'B', bytes);
    } else if (field instanceof String text) {
      putBytes(digest, 'T', text.getBytes(StandardCharsets.UTF_8));
    } else {
      throw new IllegalArgumentException("no canonical form for " + field.getClass());
    }
  }

  private static void putBytes(MessageDigest digest, char tag, byte[] bytes) {
    digest.update(ByteBuffer.allocate(5).put((byte) tag).putInt(bytes.length).flip());
    digest.update(bytes);
  }
}
