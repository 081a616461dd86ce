package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseCanal;
import org.stopwell.harness.casework.CaseReader;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.RecordCheck;
import org.stopwell.harness.casework.RecordedEntry;
import org.stopwell.harness.casework.ToothCase;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** Shows a case. */
@Command(
    name = "show",
    description = {
      "Shows a case: its canals, what was done in each, and what its length is worth. Lists every"
          + " mistake in case.yaml and settings.yaml with its line."
    },
    footer = {"", "Example:", "  stopwell case show tooth-36"},
    mixinStandardHelpOptions = true)
final class CaseShowCommand extends StopwellCommand {
  @Parameters(paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Mixin JsonOption json = new JsonOption();

  @Override
  public Integer call() throws Exception {
    ToothCase tooth = CaseReader.read(directory);
    RecordCheck record = CaseRecord.verify(directory);
    json.print(out(), values(tooth, record), line -> lines(tooth, record, line));
    return (record.fault().isPresent() ? Verdict.FAIL : Verdict.PASS).exitCode();
  }

  private void lines(ToothCase tooth, RecordCheck record, Consumer<String> out) {
    out.accept("tooth " + tooth.tooth() + ", operator " + tooth.operator());
    for (CaseCanal canal : tooth.canals()) {
      out.accept("");
      out.accept(CaseWords.canal(canal));
      CanalHistory history = CanalHistory.of(record.entries(), canal.name());
      List<RecordedEntry> entries = history.entries();
      entries.forEach(e -> out.accept("  " + CaseWords.entry(e)));
      if (entries.isEmpty()) {
        out.accept("  nothing is recorded");
      } else {
        history.doubt().ifPresent(why -> out.accept("  " + why));
      }
    }
    out.accept("");
    record
        .fault()
        .ifPresent(
            fault -> out.accept("FAIL: " + directory.resolve(CaseRecord.FILE) + ":" + fault));
    if (!record.torn().isEmpty()) {
      out.accept(
          "the last line of the record was cut and does not count; see: stopwell case verify");
    }
    out.accept(record.entries().size() + " entries; head of the chain " + record.head());
  }

  private static Map<String, Object> values(ToothCase tooth, RecordCheck record) {
    Map<String, Object> values = new LinkedHashMap<>();
    values.put("tooth", tooth.tooth());
    values.put("operator", tooth.operator());
    List<Object> canals = new ArrayList<>();
    for (CaseCanal canal : tooth.canals()) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("canal", canal.name());
      one.put("reference", canal.reference().word());
      one.put("reference_to_orifice_um", canal.offsetMicrons());
      one.put("apex", canal.apex().word());
      one.put("irrigant", canal.irrigant());
      for (Stage stage : Stage.values()) {
        if (canal.has(stage)) {
          one.put("file_" + CaseWords.word(stage), canal.file(stage).human());
        }
      }
      CanalHistory history = CanalHistory.of(record.entries(), canal.name());
      one.put("entries", history.entries().stream().map(CaseWords::values).toList());
      one.put("doubt", history.doubt().orElse(""));
      canals.add(one);
    }
    values.put("canals", canals);
    values.put("entries", record.entries().size());
    values.put("head", record.head());
    values.put("fault", record.fault().orElse(""));
    return values;
  }
}
