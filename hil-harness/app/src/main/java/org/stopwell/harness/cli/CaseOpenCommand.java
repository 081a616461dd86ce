package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseStep;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepPlan;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Opens the upper parts of a canal. */
@Command(
    name = "open",
    description = {
      "Opens the crown and middle thirds of a canal: drives the file of stage open to the chosen"
          + " depth, depth_limit_mm of that stage, and adds the result to the record. stopwell case"
          + " plan prints the plan that it runs.",
      "",
      "Exit codes: 0 the file rests at the chosen depth, with the torque within its limit; 1 it does"
          + " not; 3 the bench failed, and nothing is recorded; 5 not decided."
    },
    footer = {"", "Example:", "  stopwell case open tooth-36 MB"},
    mixinStandardHelpOptions = true)
final class CaseOpenCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Parameters(index = "0", paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "CANAL", description = "Name of the canal.")
  String canal = "";

  @Mixin OperatorOption operator = new OperatorOption();

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    OpenCase open = OpenCase.read(directory, canal, benches);
    String who = operator.of(open.tooth());
    try (CaseRecord record = CaseRecord.open(directory)) {
      StepPlan plan =
          StepPlan.of(open.tooth(), open.canal(), CaseStep.OPEN, record.history(canal), 0);
      Optional<DrivenStep> step = DrivenStep.run(plan, directory, open, extensions(), benches);
      if (step.isEmpty()) {
        out().println("interrupted; nothing is recorded");
        return Verdict.UNDECIDED.exitCode();
      }
      DrivenStep done = step.get();
      Map<String, Object> values = new LinkedHashMap<>(done.values());
      String place = "nothing is recorded";
      if (done.verdict() != Verdict.RIG_FAULT) {
        RecordedEntry entry =
            record.append(done.opened(open.stamp(who, done.bench(), done.told())));
        values.putAll(CaseWords.values(entry));
        place = "entry " + entry.number() + " of " + directory.resolve(CaseRecord.FILE);
      }
      String where = place;
      json.print(
          out(),
          values,
          line -> {
            done.lines(plan, open).forEach(line);
            line.accept(where);
          });
      return done.verdict().exitCode();
    }
  }
}
