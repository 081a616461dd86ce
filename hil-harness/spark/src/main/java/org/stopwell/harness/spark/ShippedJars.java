package org.stopwell.harness.spark;

import java.io.IOException;
import java.io.Serializable;
import java.io.UncheckedIOException;
import java.net.URISyntaxException;
import java.net.URL;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.jar.JarFile;
import java.util.jar.JarOutputStream;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.EngineException;

/**
 * The jars that go to the workers.
 *
 * @param files the jars of the program
 * @param extensions the jars of own policies
 */
record ShippedJars(List<Path> files, List<Path> extensions) {
  /** The jars that decide a number: our own, and the libraries of mathematics. */
  private static final Pattern DECIDES =
      Pattern.compile("(controller-core|bench-rig|harness-|commons-(math|numbers|rng|stat)).*");

  /**
   * A jar that must be the same on every worker.
   *
   * @param jar its name
   * @param entry one of its classes, by which a worker finds the jar that it uses in its place
   * @param sha256 hash of its bytes
   */
  record Pinned(String jar, String entry, String sha256) implements Serializable {}

  ShippedJars {
    files = List.copyOf(files);
    extensions = List.copyOf(extensions);
  }

  /** The jars of the running program. */
  static ShippedJars ofThisProgram() {
    Path own = place(SparkEngine.class);
    Path shared = place(Engine.class);
    if (Files.isDirectory(own) || Files.isDirectory(shared)) {
      throw new EngineException(
          "--on spark: the program runs from "
              + shared
              + ", not from jars; start it with ./stopwell");
    }
    try (Stream<Path> beside = Files.list(shared.resolveSibling(""))) {
      List<Path> files =
          new ArrayList<>(beside.filter(f -> f.toString().endsWith(".jar")).sorted().toList());
      if (!files.contains(own)) {
        files.add(own);
      }
      return new ShippedJars(files, List.of());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** These jars, and own policies: jars as they are, directories of classes as jars. */
  ShippedJars with(List<Path> places) {
    List<Path> jars = new ArrayList<>();
    for (Path place : places) {
      jars.add(Files.isDirectory(place) ? packed(place) : place.toAbsolutePath());
    }
    return new ShippedJars(files, jars);
  }

  private static Path packed(Path classes) {
    try {
      Path jar = Files.createTempFile("stopwell-own-", ".jar");
      jar.toFile().deleteOnExit();
      try (JarOutputStream out = new JarOutputStream(Files.newOutputStream(jar));
          Stream<Path> all = Files.walk(classes)) {
        for (Path file : all.filter(Files::isRegularFile).sorted().toList()) {
          out.putNextEntry(new ZipEntry(classes.relativize(file).toString()));
          Files.copy(file, out);
          out.closeEntry();
        }
      }
      return jar;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Path place(Class<?> type) {
    try {
      return Path.of(type.getProtectionDomain().getCodeSource().getLocation().toURI())
          .toAbsolutePath();
    } catch (URISyntaxException e) {
      throw new IllegalStateException("a jar without a place", e);
    }
  }

  /**
   * The addresses of the jars, as Spark wants them.
   *
   * @param here whether the workers are threads of this program, which has its own jars already
   */
  String[] addresses(boolean here) {
    return Stream.concat(here ? Stream.empty() : files.stream(), extensions.stream())
        .map(file -> file.toUri().toString())
        .toArray(String[]::new);
  }

  /** What a worker compares. */
  List<Pinned> pinned() {
    List<Pinned> pinned = new ArrayList<>();
    for (Path file : files) {
      if (DECIDES.matcher(String.valueOf(file.getFileName())).matches()) {
        pinned.add(pinned(file));
      }
    }
    extensions.forEach(file -> pinned.add(pinned(file)));
    return pinned;
  }

  private static Pinned pinned(Path file) {
    return new Pinned(String.valueOf(file.getFileName()), aClass(file), sha256(file));
  }

  private static String aClass(Path file) {
    try (JarFile jar = new JarFile(file.toFile())) {
      return jar.stream()
          .map(ZipEntry::getName)
          .filter(name -> name.endsWith(".class") && !name.contains("-"))
          .sorted()
          .findFirst()
          .orElseThrow(() -> new IllegalStateException(file + " holds no class"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  static String sha256(Path file) {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      return HexFormat.of().formatHex(digest.digest(Files.readAllBytes(file)));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /**
   * Compares the jars that a worker uses with those of this build.
   *
   * @param pinned the jars of this build
   * @param loader what finds the classes of the worker
   * @return what differs; empty where nothing does
   */
  static String difference(List<Pinned> pinned, ClassLoader loader) {
    for (Pinned jar : pinned) {
      URL found = loader.getResource(jar.entry());
      if (found == null) {
        return jar.jar() + " is not there";
      }
      Path file = Path.of(jarOf(found));
      if (Files.isDirectory(file) || !sha256(file).equals(jar.sha256())) {
        return "%s is another build than %s (SHA-256 %s) of this program"
            .formatted(file, jar.jar(), jar.sha256().substring(0, 12));
      }
    }
    return "";
  }

  /** The jar of {@code jar:file:/…/a.jar!/org/…}. */
  private static String jarOf(URL found) {
    String text = found.toString();
    int end = text.indexOf("!/");
    try {
      return end < 0
          ? Path.of(found.toURI()).resolveSibling("").toString()
          : Path.of(new java.net.URI(text.substring("jar:".length(), end))).toString();
    } catch (URISyntaxException e) {
      throw new IllegalStateException(text, e);
    }
  }
}
