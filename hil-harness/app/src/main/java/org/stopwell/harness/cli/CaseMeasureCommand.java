package org.stopwell.harness.cli;

import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseStep;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;

/** Step 2 of a case: measures the length of a canal. */
@Command(
    name = "measure",
    description = {
      "Step 2: measures the length of a canal from its reference point and adds it to the record."
          + " The file is led to the standoff several times; the length is the mean of the readings."
          + " The new length counts from now on: radiograph, shaping and recheck of an earlier one"
          + " do not.",
      "",
      "Exit codes: 0 at least three readings agree; 5 too few agree."
    },
    footer = {
      "",
      "Examples:",
      "  stopwell case measure tooth-36 MB",
      "  stopwell case measure tooth-36 MB --hand-file --rubber-stop",
      "  stopwell case measure tooth-36 MB --patency"
    },
    mixinStandardHelpOptions = true)
final class CaseMeasureCommand extends CaseLengthCommand {
  @Override
  CaseStep step() {
    return CaseStep.MEASURE;
  }

  @Override
  void allow(CanalHistory history, LengthMethod method, int standoffMicrons) {}

  @Override
  CaseEntry entry(Found found, LengthLines lines) {
    boolean agreed = found.length().isPresent();
    return new CaseEntry.Measured(
        found.stamp(),
        found.file(),
        movedBy(),
        found.length(),
        found.done().taken(),
        agreed ? Verdict.PASS : Verdict.UNDECIDED,
        agreed ? "" : "too few length readings agree");
  }
}
