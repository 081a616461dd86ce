package org.stopwell.harness.cli;

import java.util.List;
import java.util.Optional;
import org.stopwell.harness.casework.CanalHistory;
import org.stopwell.harness.casework.CaseEntry;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseStep;
import org.stopwell.harness.casework.StepRefusedException;
import org.stopwell.harness.length.LengthMethod;
import org.stopwell.harness.length.LengthRecord;
import org.stopwell.harness.length.Radiograph;
import org.stopwell.harness.length.Recheck;
import org.stopwell.harness.trial.Verdict;
import picocli.CommandLine.Command;

/** Step 6 of a case: measures the length again and compares. */
@Command(
    name = "recheck",
    description = {
      "Step 6: measures the length again, with the larger file of the stage recheck, and compares it"
          + " with the recorded length. Both must have the same standoff and reference point, and"
          + " no radiograph may contradict the recorded one.",
      "",
      "Exit codes: 0 the length has not changed beyond both uncertainties; 1 it has; 2 the two"
          + " cannot be compared, nothing moved; 5 there is no length, a radiograph contradicts it,"
          + " or too few readings agree."
    },
    footer = {"", "Example:", "  stopwell case recheck tooth-36 MB"},
    mixinStandardHelpOptions = true)
final class CaseRecheckCommand extends CaseLengthCommand {
  @Override
  CaseStep step() {
    return CaseStep.RECHECK;
  }

  @Override
  void allow(CanalHistory history, LengthMethod method, int standoffMicrons)
      throws StepRefusedException, UsageException {
    LengthRecord before = before(history);
    if (before.radiograph().contradicts()) {
      throw new StepRefusedException(
          method.canal() + ": the radiograph contradicts the length; measure again");
    }
    List<String> obstacles =
        Recheck.obstacles(before, method, standoffMicrons, Radiograph.NOT_TAKEN);
    if (!obstacles.isEmpty()) {
      throw new UsageException(
          "the recorded length cannot be compared: " + String.join("; ", obstacles));
    }
  }

  private static LengthRecord before(CanalHistory history) throws StepRefusedException {
    return history
        .lengthRecord()
        .orElseThrow(() -> new StepRefusedException("no length is recorded; measure first"));
  }

  @Override
  CaseEntry entry(Found found, LengthLines lines) throws StepRefusedException {
    LengthRecord before = before(found.history());
    int entry = found.history().measured().orElseThrow().number();
    Optional<Recheck> recheck = found.done().length().map(now -> new Recheck(before, now));
    Verdict verdict =
        recheck.map(r -> lines.recheck(r, found.file().alloy())).orElse(Verdict.UNDECIDED);
    return new CaseEntry.Rechecked(
        found.stamp(),
        found.file(),
        movedBy(),
        entry,
        found.length(),
        recheck
            .map(r -> r.changed() ? Change.CHANGED : Change.UNCHANGED)
            .orElse(Change.NOT_COMPARABLE),
        recheck.map(Recheck::changeMicrons).orElse(0),
        recheck.map(Recheck::limitMicrons).orElse(0),
        recheck.map(Recheck::detectableMicrons).orElse(0),
        verdict,
        recheck.isPresent() ? "" : "too few length readings agree");
  }
}
