package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;

/** The next run directory of a plan. */
public final class FreeDirectory {
  private FreeDirectory() {}

  /**
   * Makes the first directory of a plan that is not there yet. Two programs never get the same one.
   *
   * @param runs where run directories are, made if it is missing
   * @param plan name of the plan
   * @return such as {@code runs/first-stop-001}
   * @throws RunFileException when the disk refuses
   */
  public static Path claim(Path runs, String plan) throws RunFileException {
    String name = plan.replace(' ', '-');
    for (int i = 1; ; i++) {
      Path next = runs.resolve(String.format(Locale.ROOT, "%s-%03d", name, i));
      try {
        Files.createDirectories(runs);
        return Files.createDirectory(next);
      } catch (FileAlreadyExistsException e) {
        if (!Files.isDirectory(runs)) {
          throw RunFileException.notBegun(runs, e);
        }
      } catch (IOException e) {
        throw RunFileException.notBegun(next, e);
      }
    }
  }
}
