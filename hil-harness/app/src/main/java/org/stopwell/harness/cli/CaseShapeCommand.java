package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseStep;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.StepPlan;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Shapes a canal to its recorded length. */
@Command(
    name = "shape",
    description = {
      "Shapes a canal: drives the file of stage shape to the recorded length, less a set distance,"
          + " and adds the result to the record. The canal is filled to the orifice, where no reading"
          + " is valid, so the apical reaction is off by intent and the depth axis stops the file."
          + " stopwell case plan prints the plan that it runs.",
      "",
      "Exit codes: 0 the file rests at the depth limit, with the torque within its limit; 1 it does"
          + " not; 3 the bench failed, and nothing is recorded; 5 not decided, or the record has no"
          + " length that shaping may use, such as one that the radiograph contradicts."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case shape tooth-36 MB",
      "  stopwell case shape tooth-36 MB --less-mm 0.5",
      "  stopwell case shape tooth-36 MB --file 20/0.04,20/0.06,25/0.06"
    },
    mixinStandardHelpOptions = true)
final class CaseShapeCommand extends StopwellCommand {
  @Mixin BenchOptions benches = new BenchOptions();

  @Parameters(index = "0", paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "CANAL", description = "Name of the canal.")
  String canal = "";

  @Mixin OperatorOption operator = new OperatorOption();

  @Option(
      names = "--less-mm",
      paramLabel = "MM",
      description =
          "How far above the recorded length the depth limit stays, mm. Default: ${DEFAULT-VALUE}.",
      defaultValue = "0")
  double lessMm;

  @Option(
      names = "--file",
      paramLabel = "SIZE/TAPER",
      split = ",",
      description =
          "Files of this canal in the order of the work, in place of the file of stage shape. The"
              + " torque limit is that of the stage, and at most nine tenths of the strength of the"
              + " file. A file that does not pass ends the sequence.")
  @Nullable List<String> files;

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    OpenCase open = OpenCase.read(directory, canal, benches);
    String who = operator.of(open.tooth());
    int less = OpenCase.microns("--less-mm", lessMm);
    List<CaseCanal> sequence = new ArrayList<>();
    for (String file : files == null ? List.<String>of() : files) {
      sequence.add(ShapingFile.of(file).in(open.canal()));
    }
    if (sequence.isEmpty()) {
      sequence.add(open.canal());
    }
    List<Map<String, Object>> all = new ArrayList<>();
    List<String> lines = new ArrayList<>();
    Verdict verdict = Verdict.PASS;
    try (CaseRecord record = CaseRecord.open(directory)) {
      for (int i = 0; i < sequence.size() && verdict == Verdict.PASS; i++) {
        CanalHistory history = record.history(canal);
        StepPlan plan = StepPlan.of(open.tooth(), sequence.get(i), CaseStep.SHAPE, history, less);
        Optional<DrivenStep> step = DrivenStep.run(plan, directory, open, extensions(), benches);
        if (step.isEmpty()) {
          lines.add("interrupted; nothing is recorded");
          verdict = Verdict.UNDECIDED;
          break;
        }
        DrivenStep done = step.get();
        verdict = done.verdict();
        Map<String, Object> values = new LinkedHashMap<>(done.values());
        lines.addAll(done.lines(plan, open));
        if (verdict == Verdict.RIG_FAULT) {
          lines.add("nothing is recorded");
        } else {
          RecordedEntry entry =
              record.append(
                  done.shaped(
                      open.stamp(who, done.bench(), done.told()),
                      history.measured().orElseThrow().number()));
          values.putAll(CaseWords.values(entry));
          lines.add("entry " + entry.number() + " of " + directory.resolve(CaseRecord.FILE));
        }
        all.add(values);
      }
    }
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("verdict", verdict.name());
    values.put("passes", all);
    json.print(out(), values, line -> lines.forEach(line));
    return verdict.exitCode();
  }
}
