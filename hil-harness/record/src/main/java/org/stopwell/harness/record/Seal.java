package org.stopwell.harness.record;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.Optional;

/**
 * The seal of a finished run file: its SHA-256 in a file beside it, in the form that {@code
 * sha256sum -c} reads. It covers every byte, also those that hold no content.
 */
final class Seal {
  private Seal() {}

  static Path of(Path file) {
    return file.resolveSibling(file.getFileName() + ".sha256");
  }

  static void write(Path file) throws IOException {
    Path aside = file.resolveSibling(file.getFileName() + ".sha256.new");
    Files.writeString(aside, digest(file) + "  " + file.getFileName() + "\n");
    Files.move(
        aside, of(file), StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
  }

  /** The error of the seal, empty if it is valid. */
  static Optional<String> fault(Path file) throws IOException {
    Path seal = of(file);
    if (!Files.exists(seal)) {
      return Optional.of("the run is finished and has no seal " + seal.getFileName());
    }
    String said = new String(Files.readAllBytes(seal), StandardCharsets.ISO_8859_1);
    return said.equals(digest(file) + "  " + file.getFileName() + "\n")
        ? Optional.empty()
        : Optional.of("the file differs from its seal");
  }

  private static String digest(Path file) throws IOException {
    MessageDigest digest = HashChain.sha256();
    byte[] block = new byte[1 << 16];
    try (InputStream in = Files.newInputStream(file)) {
      for (int n = in.read(block); n >= 0; n = in.read(block)) {
        digest.update(block, 0, n);
      }
    }
    return HexFormat.of().formatHex(digest.digest());
  }
}
