package org.stopwell.harness.cli;

import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import org.stopwell.harness.record.RunFile;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.standing.Ledger;
import org.stopwell.harness.standing.LedgerView;

/**
 * The ledger beside a run, as verify states it.
 *
 * @param faults what is wrong with it; a ledger that is not there was not checked
 * @param text the place of the run in it
 */
record LedgerLines(List<String> faults, String text) {
  /** A run whose plan is not frozen. */
  static final LedgerLines NONE = new LedgerLines(List.of(), "");

  /** Checks the ledger of a run. */
  static LedgerLines of(Path directory) throws Exception {
    try (RunFile run = RunFile.load(directory)) {
      RunHeader header = run.header();
      if (header.registration().number() == 0) {
        return NONE;
      }
      if (!Ledger.isBeside(directory)) {
        return new LedgerLines(
            List.of(),
            "not checked: the ledger of the frozen plan; "
                + Ledger.NAME
                + " is not beside the run directory");
      }
      LedgerView view = Ledger.look(directory, header);
      return new LedgerLines(view.faults(), view.place());
    }
  }

  void print(Consumer<String> out) {
    faults.forEach(fault -> out.accept("FAIL: " + fault));
    if (!text.isEmpty()) {
      out.accept(text);
    }
  }
}
