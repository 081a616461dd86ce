package org.stopwell.house;

import java.io.IOException;
import java.nio.file.FileVisitResult;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.SimpleFileVisitor;
import java.nio.file.attribute.BasicFileAttributes;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** The source tree that the tests of the house look at. */
final class Tree {
  private static final Set<String> MADE =
      Set.of(".git", "target", "runs", "benches", "out", ".stopwell", ".idea", ".vscode");

  private Tree() {}

  /** The directory that holds the launcher. */
  static Path root() {
    Path directory = Path.of("").toAbsolutePath();
    while (!Files.exists(directory.resolve("stopwell"))) {
      directory = directory.getParent();
      if (directory == null) {
        throw new IllegalStateException("no launcher above " + Path.of("").toAbsolutePath());
      }
    }
    return directory;
  }

  /** The directory of every module by its module name, in the order of the layers. */
  static Map<String, Path> modules() {
    Map<String, Path> modules = new LinkedHashMap<>();
    modules.put("org.stopwell.core", root().resolve("controller-core"));
    modules.put("org.stopwell.rig", root().resolve("bench-rig"));
    for (String room :
        List.of(
            "stats",
            "trial",
            "record",
            "campaign",
            "explore",
            "casework",
            "report",
            "assess",
            "tryout",
            "firmware",
            "console",
            "app")) {
      modules.put("org.stopwell.harness." + room, root().resolve("hil-harness").resolve(room));
    }
    return modules;
  }

  /** Every file of the tree but what the build, a run or git made. */
  static List<Path> files() throws IOException {
    List<Path> files = new ArrayList<>();
    Files.walkFileTree(
        root(),
        new SimpleFileVisitor<>() {
          @Override
          public FileVisitResult preVisitDirectory(Path directory, BasicFileAttributes attributes) {
            return MADE.contains(directory.getFileName().toString())
                ? FileVisitResult.SKIP_SUBTREE
                : FileVisitResult.CONTINUE;
          }

          @Override
          public FileVisitResult visitFile(Path file, BasicFileAttributes attributes) {
            if (!MADE.contains(file.getFileName().toString())) {
              files.add(file);
            }
            return FileVisitResult.CONTINUE;
          }
        });
    return files;
  }
}
