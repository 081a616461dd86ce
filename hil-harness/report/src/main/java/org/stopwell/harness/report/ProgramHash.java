package org.stopwell.harness.report;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileSystem;
import java.nio.file.FileSystems;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.stream.Stream;
import org.stopwell.core.StopController;
import org.stopwell.rig.bench.Bench;

/** A fingerprint of the program itself, by which a test result knows what it was a test of. */
public final class ProgramHash {
  private ProgramHash() {}

  /**
   * The fingerprint of the program that runs: every class of core, bench and harness, the same from
   * jars and from build directories.
   *
   * @return SHA-256 in hexadecimal
   * @throws IOException when the classes cannot be read
   */
  public static String ofThisProgram() throws IOException {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      for (Class<?> one : List.of(StopController.class, Bench.class, ProgramHash.class)) {
        Path place = Path.of(one.getProtectionDomain().getCodeSource().getLocation().toURI());
        if (Files.isDirectory(place)) {
          add(place, digest);
        } else {
          try (FileSystem jar = FileSystems.newFileSystem(place)) {
            add(jar.getPath("/"), digest);
          }
        }
      }
      return HexFormat.of().formatHex(digest.digest());
    } catch (URISyntaxException | NoSuchAlgorithmException e) {
      throw new IOException("no fingerprint of the program", e);
    }
  }

  private static void add(Path root, MessageDigest digest) throws IOException {
    List<Path> classes;
    try (Stream<Path> files = Files.walk(root)) {
      // The jar tool writes the version into module-info: it differs from the compiler's.
      classes =
          files
              .filter(f -> f.toString().endsWith(".class") && !f.endsWith("module-info.class"))
              .sorted()
              .toList();
    }
    for (Path file : classes) {
      digest.update(root.relativize(file).toString().getBytes(StandardCharsets.UTF_8));
      digest.update(Files.readAllBytes(file));
    }
  }
}
