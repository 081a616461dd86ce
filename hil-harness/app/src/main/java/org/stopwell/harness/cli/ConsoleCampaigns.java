package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.campaign.StopRequest;
import org.stopwell.harness.console.CalibrationDesk;
import org.stopwell.harness.console.StartDesk;

/**
 * Runs a plan and resumes a run for the page, as the command line does. The questions of the bench
 * are asked on the page.
 *
 * @param desk where the page answers
 * @param extensions words for own policies and benches
 * @param options options of {@code run} for every start
 */
record ConsoleCampaigns(CalibrationDesk desk, List<String> extensions, List<String> options)
    implements StartDesk.Runner {

  @Override
  public int run(Path plan, Path into, PrintWriter said) {
    List<String> words = new ArrayList<>(List.of("run", plan.toString(), "--out", into.toString()));
    words.addAll(extensions);
    words.addAll(options);
    return run(words, into, said);
  }

  @Override
  public int resume(Path directory, String service, PrintWriter said) {
    List<String> words = new ArrayList<>(List.of("resume", directory.toString()));
    if (!service.isEmpty()) {
      words.addAll(List.of("--after-service", service));
    }
    if (options.contains("--ask")) {
      words.add("--ask");
    }
    words.addAll(extensions);
    return run(words, directory, said);
  }

  private int run(List<String> words, Path directory, PrintWriter said) {
    desk.begin(
        "Questions of " + directory.getFileName(),
        () -> Interruption.requested() || StopRequest.isMade(directory));
    return Main.run(words.toArray(String[]::new), said, said, desk);
  }
}
