package org.stopwell.core;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The same recording in a machine of its own, on this JDK and on every newer one installed. */
class NewerJdkTest {
  private static final Pattern VERSION = Pattern.compile("JAVA_VERSION=\"(\\d+)");

  @Test
  void theHashIsTheSameInEveryMachine() throws Exception {
    String here = Long.toString(ReplayHash.of());
    for (Path jdk : jdks()) {
      List<String> command =
          List.of(
              jdk.resolve("bin/java").toString(),
              "-cp",
              System.getProperty("java.class.path"),
              ReplayHash.class.getName());
      Process process = new ProcessBuilder(command).start();
      String there =
          new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8).strip();
      process.waitFor();
      System.out.println(jdk + ": " + there);
      assertEquals(here, there, jdk.toString());
    }
  }

  private static List<Path> jdks() throws IOException {
    Path own = Path.of(System.getProperty("java.home")).toRealPath();
    List<Path> found = new ArrayList<>(List.of(own));
    String elsewhere = System.getenv("STOPWELL_JDKS");
    for (Path parent : List.of(own.getParent(), Path.of(elsewhere == null ? "." : elsewhere))) {
      try (Stream<Path> children = Files.list(parent)) {
        for (Path child : children.sorted().toList()) {
          Path real = child.toRealPath();
          if (isNewer(real) && !found.contains(real)) {
            found.add(real);
          }
        }
      }
    }
    return found;
  }

  private static boolean isNewer(Path jdk) throws IOException {
    Path release = jdk.resolve("release");
    if (!Files.isRegularFile(release) || !Files.isExecutable(jdk.resolve("bin/java"))) {
      return false;
    }
    Matcher version = VERSION.matcher(Files.readString(release));
    return version.find() && Integer.parseInt(version.group(1)) > 17;
  }
}
