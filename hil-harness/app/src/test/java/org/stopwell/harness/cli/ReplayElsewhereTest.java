package org.stopwell.harness.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.stopwell.harness.trial.TestPlans;

/**
 * A recorded run is replayed by a machine of its own: on this JDK, and on every newer one that is
 * installed, one test for each, so that the number of tests says how many there were.
 */
class ReplayElsewhereTest {
  private static final Pattern VERSION = Pattern.compile("JAVA_VERSION=\"(\\d+)");

  @TempDir Path dir;
  private Path run = Path.of("");

  @BeforeEach
  void record() throws IOException {
    run = dir.resolve("run");
    PrintWriter nowhere = new PrintWriter(Writer.nullWriter());
    String plan = TestPlans.file("reference-canal").toString();
    String[] words = {"run", plan, "--trials", "1", "--out", run.toString()};
    // Nine trials decide no claim: what came of them does not matter here.
    Main.run(words, nowhere, nowhere);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("jdks")
  void everyTrialIsIdenticalOnAJdkThoughAllProcessorsAreBusy(Path jdk) throws Exception {
    AtomicBoolean enough = new AtomicBoolean();
    List<Thread> load = new ArrayList<>();
    for (int i = 0; i < Runtime.getRuntime().availableProcessors(); i++) {
      Thread busy = new Thread(() -> spin(enough), "load " + i);
      busy.setDaemon(true);
      busy.start();
      load.add(busy);
    }
    try {
      Process process =
          new ProcessBuilder(
                  jdk.resolve("bin/java").toString(),
                  "-cp",
                  System.getProperty("java.class.path"),
                  Main.class.getName(),
                  "replay",
                  run.toString())
              .redirectErrorStream(true)
              .start();
      String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      assertEquals(0, process.waitFor(), said);
      List<String> lines = said.strip().lines().toList();
      assertEquals(
          List.of(
              "9 trials: 9 identical, every output and every state hash; 0 differ",
              "results: 9 simulated again, 9 equal, 0 differ from the recorded results"),
          lines.subList(Math.max(0, lines.size() - 2), lines.size()));
    } finally {
      enough.set(true);
      for (Thread busy : load) {
        busy.join();
      }
    }
  }

  private static void spin(AtomicBoolean enough) {
    while (!enough.get()) {
      Thread.onSpinWait();
    }
  }

  /**
   * This JDK, and those beside it or in the directory that the launcher is given, that are newer.
   */
  static List<Path> jdks() throws IOException {
    Path own = Path.of(System.getProperty("java.home")).toRealPath();
    TreeSet<Path> found = new TreeSet<>(List.of(own));
    String elsewhere = System.getenv("STOPWELL_JDKS");
    for (Path parent : List.of(own.getParent(), Path.of(elsewhere == null ? "." : elsewhere))) {
      try (Stream<Path> children = Files.list(parent)) {
        for (Path child : children.toList()) {
          if (version(child) > version(own)) {
            found.add(child.toRealPath());
          }
        }
      }
    }
    return List.copyOf(found);
  }

  /** Its feature release; 0 for what is no JDK. */
  private static int version(Path jdk) throws IOException {
    Path release = jdk.resolve("release");
    if (!Files.isRegularFile(release) || !Files.isExecutable(jdk.resolve("bin/java"))) {
      return 0;
    }
    Matcher version = VERSION.matcher(Files.readString(release));
    return version.find() ? Integer.parseInt(version.group(1)) : 0;
  }
}
