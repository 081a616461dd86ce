package org.stopwell.harness.sign;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** One key in a text file (RFC 7468). */
final class Pem {
  /** A file with one Ed25519 key is far smaller, bytes. */
  private static final int LONGEST = 10_000;

  /** Characters of a line (RFC 7468). */
  private static final int LINE = 64;

  private static final Pattern KEY =
      Pattern.compile(
          "-----BEGIN ([A-Z0-9 ]+)-----\\s+([A-Za-z0-9+/=\\s]+?)\\s+-----END \\1-----\\s*");

  private Pem() {}

  static String text(String kind, byte[] der) {
    String lines =
        Base64.getMimeEncoder(LINE, "\n".getBytes(StandardCharsets.US_ASCII)).encodeToString(der);
    return "-----BEGIN " + kind + "-----\n" + lines + "\n-----END " + kind + "-----\n";
  }

  /** The bytes of the key in a file, which must be of a kind. */
  static byte[] read(Path file, String kind) throws IOException {
    if (!Files.exists(file)) {
      throw new KeyFileException(file, "there is no such key; make one with: stopwell key " + file);
    }
    if (!Files.isRegularFile(file) || Files.size(file) > LONGEST) {
      throw new KeyFileException(file, "is not a key");
    }
    Matcher key = KEY.matcher(new String(Files.readAllBytes(file), StandardCharsets.ISO_8859_1));
    if (!key.matches()) {
      throw new KeyFileException(file, "is not a key in PEM");
    }
    if (!key.group(1).equals(kind)) {
      throw new KeyFileException(
          file, "holds a " + key.group(1) + ", this needs a " + kind + " without a passphrase");
    }
    try {
      return Base64.getMimeDecoder().decode(key.group(2));
    } catch (IllegalArgumentException e) {
      throw new KeyFileException(file, "is damaged");
    }
  }
}
