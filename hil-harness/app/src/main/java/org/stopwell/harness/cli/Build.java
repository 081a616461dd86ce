package org.stopwell.harness.cli;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.CodeSource;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.stopwell.core.StopController;
import picocli.CommandLine.IVersionProvider;

/** Which build this is: its version, and a fingerprint of the control core that is under test. */
final class Build implements IVersionProvider {
  @Override
  public String[] getVersion() {
    return new String[] {
      "stopwell " + identity(),
      "Java " + System.getProperty("java.version") + ", " + System.getProperty("os.arch"),
      "Bench and research use only. Not a medical device."
    };
  }

  /** Version and core fingerprint, such as {@code 0.1.0 core 3f2a9c1b7d44}. */
  static String identity() {
    return version() + " core " + coreFingerprint();
  }

  /** The core of a build, such as {@code 3f2a9c1b7d44}; the whole text where none is named. */
  static String core(String identity) {
    int at = identity.lastIndexOf(" core ");
    return at < 0 ? identity : identity.substring(at + " core ".length());
  }

  /** The version of the jar; in a build directory there is none. */
  static String version() {
    return Objects.requireNonNullElse(
        Build.class.getPackage().getImplementationVersion(), "development");
  }

  /** SHA-256 over the core's class files and weights by name, the first twelve digits. */
  private static String coreFingerprint() {
    try {
      CodeSource source = StopController.class.getProtectionDomain().getCodeSource();
      Path place = Path.of(source.getLocation().toURI());
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      if (Files.isDirectory(place)) {
        add(place, digest);
      } else {
        try (var jar = java.nio.file.FileSystems.newFileSystem(place)) {
          add(jar.getPath("/"), digest);
        }
      }
      return HexFormat.of().formatHex(digest.digest()).substring(0, 12);
    } catch (IOException | URISyntaxException | NoSuchAlgorithmException e) {
      return "unknown";
    }
  }

  private static void add(Path root, MessageDigest digest) throws IOException {
    List<Path> classes;
    try (Stream<Path> files = Files.walk(root)) {
      classes =
          files
              .filter(f -> f.toString().endsWith(".class") || f.toString().endsWith(".weights"))
              .sorted()
              .toList();
    }
    for (Path file : classes) {
      digest.update(Files.readAllBytes(file));
    }
  }
}
