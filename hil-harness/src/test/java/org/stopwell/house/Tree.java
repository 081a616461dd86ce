package org.stopwell.house;

import java.nio.file.Files;
import java.nio.file.Path;

/** The source tree that the tests of the house look at. */
final class Tree {
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
}
