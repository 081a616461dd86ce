package org.stopwell.harness.cli;

import java.nio.file.Path;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CanalHistory.Found;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseEntry.Measured;
import org.stopwell.harness.casework.CaseRecord;
import org.stopwell.harness.casework.CaseWords;
import org.stopwell.harness.casework.StepRefusedException;
import org.stopwell.harness.length.Radiograph;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** Step 4 of a case: keeps what a radiograph says beside the length. */
@Command(
    name = "radiograph",
    description = {
      "Step 4: adds the distance on a radiograph, from the tip of the file at the recorded length to"
          + " the radiographic apex, to the record. Past the apex, or further from it than the"
          + " limit, it contradicts the length: shaping and recheck then refuse it.",
      "",
      "Exit codes: 0 the radiograph confirms the length; 5 it contradicts it, or there is no length."
    },
    footer = {"", "Example:", "  stopwell case radiograph tooth-36 MB --tip-to-apex-mm 1.2"},
    mixinStandardHelpOptions = true)
final class CaseRadiographCommand extends StopwellCommand {
  @Mixin OperatorOption operator = new OperatorOption();

  @Parameters(index = "0", paramLabel = "DIR", description = "Directory of the case.")
  Path directory = Path.of("");

  @Parameters(index = "1", paramLabel = "CANAL", description = "Name of the canal.")
  String canal = "";

  @Option(
      names = "--tip-to-apex-mm",
      paramLabel = "MM",
      required = true,
      description = "Distance from the tip to the radiographic apex, mm; negative past it.")
  double tipToApexMm;

  @Option(
      names = "--limit-mm",
      paramLabel = "MM",
      description =
          "A greater distance contradicts the length, mm. Default: ${DEFAULT-VALUE}, common"
              + " practice, from memory.",
      defaultValue = "3")
  double limitMm = 3;

  @Override
  public Integer call() throws Exception {
    OpenCase open = OpenCase.read(directory, canal);
    String who = operator.of(open.tooth());
    try (CaseRecord record = CaseRecord.open(directory)) {
      CanalHistory history = record.history(open.canal().name());
      Found<Measured> measured =
          history
              .measured()
              .orElseThrow(() -> new StepRefusedException("no length is recorded; measure first"));
      Radiograph found =
          MeasureOptions.radiograph(
              tipToApexMm, limitMm, history.length().orElseThrow().standoffMicrons());
      Verdict verdict = new LengthLines(out()).radiograph(found);
      CaseEntry entry =
          new CaseEntry.Radiographed(
              open.stamp(who, measured.entry().stamp().simulated()),
              measured.number(),
              found.tipToApexMicrons().orElseThrow(),
              found.limitMicrons(),
              found.contradicts() ? Finding.CONTRADICTS : Finding.CONFIRMS,
              verdict,
              found.contradicts() ? "do not use this length; measure again" : "");
      out().println("recorded: " + CaseWords.entry(record.append(entry)));
      return verdict.exitCode();
    }
  }
}
