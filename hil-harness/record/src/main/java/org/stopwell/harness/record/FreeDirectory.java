package org.stopwell.harness.record;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;

/** The next run directory of a plan. */
public final class FreeDirectory {
  private FreeDirectory() {}

  /**
   * The first directory of a plan that is not there yet.
   *
   * @param runs where run directories are
   * @param plan name of the plan
   * @return such as {@code runs/first-stop-001}
   */
  public static Path below(Path runs, String plan) {
    String name = plan.replace(' ', '-');
    for (int i = 1; ; i++) {
      Path free = runs.resolve(String.format(Locale.ROOT, "%s-%03d", name, i));
      if (!Files.exists(free)) {
        return free;
      }
    }
  }
}
