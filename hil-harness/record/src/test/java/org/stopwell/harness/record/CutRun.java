package org.stopwell.harness.record;

import java.io.IOException;
import java.nio.file.Path;
import org.stopwell.harness.trial.TrialResult;

/** Runs that end early. */
public final class CutRun {
  private CutRun() {}

  /** A copy of a whole run that ends after some trials, as a kill would leave it. */
  public static Path after(Path whole, int after, String build) throws IOException {
    Path copy = whole.resolveSibling("cut-" + after);
    try (RunFile from = RunFile.load(whole)) {
      RunHeader h = from.header();
      RunHeader header =
          new RunHeader(
              h.planName(),
              h.planYaml(),
              h.settingsYaml(),
              build,
              h.bench(),
              h.campaignSeed(),
              h.conditions(),
              h.claims(),
              h.startedAt(),
              h.command(),
              h.protocol(),
              h.registration(),
              h.design());
      try (RunFile to = RunFile.create(copy, header)) {
        for (TrialResult result : from.results().subList(0, after)) {
          to.append(result, from.trace(result.index()).orElse(null));
        }
      }
    }
    return copy;
  }
}
