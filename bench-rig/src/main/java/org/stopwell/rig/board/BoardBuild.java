package org.stopwell.rig.board;

import java.io.IOException;
import java.net.URI;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * Hash of the emulated board's build, in place of the flash of a physical board. The same for the
 * same classes, whether they lie in a directory or in a jar.
 */
final class BoardBuild {
  private static final String ROOT = "org/stopwell/rig";
  private static final int HEX_DIGITS = 16;

  private static final String HASH = hash(EmulatedBoard.class);

  private BoardBuild() {}

  /** The first 64 bits of the SHA-256 of all classes of this module, as hexadecimal digits. */
  static String hash() {
    return HASH;
  }

  private static String hash(Class<?> of) {
    try {
      Path place = Path.of(of.getProtectionDomain().getCodeSource().getLocation().toURI());
      if (Files.isDirectory(place)) {
        return hash(place.resolve(ROOT));
      }
      URI jar = URI.create("jar:" + place.toUri());
      try (FileSystem inside = FileSystems.newFileSystem(jar, Map.of())) {
        return hash(inside.getPath(ROOT));
      }
    } catch (IOException | URISyntaxException e) {
      throw new IllegalStateException("cannot read the classes of this program", e);
    }
  }

  private static String hash(Path root) throws IOException {
    MessageDigest digest;
    try {
      digest = MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java has SHA-256", e);
    }
    List<Path> classes;
    try (Stream<Path> files = Files.walk(root)) {
      classes =
          files
              .filter(file -> file.toString().endsWith(".class"))
              .sorted(Comparator.comparing(file -> name(root, file)))
              .toList();
    }
    for (Path file : classes) {
      digest.update(name(root, file).getBytes(StandardCharsets.UTF_8));
      digest.update(Files.readAllBytes(file));
    }
    return HexFormat.of().formatHex(digest.digest()).substring(0, HEX_DIGITS);
  }

  private static String name(Path root, Path file) {
    return root.relativize(file).toString().replace('\\', '/');
  }
}
