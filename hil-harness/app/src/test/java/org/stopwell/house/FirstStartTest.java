package org.stopwell.house;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What someone sees who has just cloned the project: the launcher builds it, then it works. */
class FirstStartTest {
  @TempDir Path clone;

  @Test
  void theFirstCommandInACleanCloneBuildsAndWorks() throws IOException, InterruptedException {
    for (Path file : Tree.files()) {
      Path copy = clone.resolve(Tree.root().relativize(file));
      Files.createDirectories(copy.getParent());
      Files.copy(file, copy, StandardCopyOption.COPY_ATTRIBUTES);
    }
    Path said = clone.resolve("said.txt");
    ProcessBuilder start =
        new ProcessBuilder("./stopwell", "check", "docs/plans/first-stop.yaml")
            .directory(clone.toFile())
            .redirectErrorStream(true)
            .redirectOutput(said.toFile());
    // The build that runs this test has already checked these sources; this one only compiles them.
    start
        .environment()
        .merge("MAVEN_OPTS", "-Dchecks=-parameters", (own, more) -> own + " " + more);
    Process launcher = start.start();
    try {
      assertTrue(launcher.waitFor(25, TimeUnit.MINUTES), "still building");
    } finally {
      launcher.destroyForcibly();
    }
    String text = Files.readString(said);
    assertEquals(0, launcher.exitValue(), text);
    assertTrue(text.contains("Building Stopwell"), text);
    assertTrue(text.contains("first-stop"), text);
  }
}
