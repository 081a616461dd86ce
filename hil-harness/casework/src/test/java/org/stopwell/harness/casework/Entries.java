package org.stopwell.harness.casework;

import java.util.Optional;
import org.stopwell.harness.casework.CaseEntry.Change;
import org.stopwell.harness.casework.CaseEntry.Finding;
import org.stopwell.harness.casework.CaseEntry.Measured;
import org.stopwell.harness.casework.CaseEntry.Method;
import org.stopwell.harness.casework.CaseEntry.Radiographed;
import org.stopwell.harness.casework.CaseEntry.Rechecked;
import org.stopwell.harness.casework.CaseEntry.Shaped;
import org.stopwell.harness.length.DepthBy;
import org.stopwell.harness.trial.Verdict;

/** Entries as the steps write them. */
final class Entries {
  static final StepFile SMALL = new StepFile(15, 400, "nickel-titanium");
  static final StepFile LARGE = new StepFile(25, 600, "nickel-titanium");

  private Entries() {}

  static CaseStamp stamp(String canal) {
    return new CaseStamp(
        "2026-03-02T10:15:00Z",
        36,
        canal,
        "A1",
        "virtual",
        true,
        "test core 0",
        "0".repeat(64),
        "");
  }

  static CaseLength length(int microns) {
    return new CaseLength(
        microns,
        500,
        CrownPoint.MB_CUSP,
        7_000,
        100,
        DepthBy.AXIS,
        0,
        120,
        228,
        9,
        "U includes the spread, ± all.",
        5,
        5,
        5,
        100,
        60,
        410,
        0);
  }

  static Measured measured(String canal, int microns) {
    return new Measured(
        stamp(canal), SMALL, Method.MOTOR, Optional.of(length(microns)), 5, Verdict.PASS, "");
  }

  static Measured undecided(String canal) {
    return new Measured(
        stamp(canal), SMALL, Method.MOTOR, Optional.empty(), 5, Verdict.UNDECIDED, "too few agree");
  }

  static Radiographed radiographed(String canal, int lengthEntry, Finding finding) {
    return new Radiographed(
        stamp(canal),
        lengthEntry,
        finding == Finding.CONFIRMS ? 700 : 4_000,
        3_000,
        finding,
        finding == Finding.CONFIRMS ? Verdict.PASS : Verdict.UNDECIDED,
        "");
  }

  static Shaped shaped(String canal, int lengthEntry, int microns) {
    return new Shaped(
        stamp(canal),
        LARGE,
        "forward",
        lengthEntry,
        microns,
        microns,
        microns,
        9_500,
        2_000,
        Verdict.PASS,
        "");
  }

  static Rechecked rechecked(String canal, int lengthEntry, Change change, int difference) {
    return new Rechecked(
        stamp(canal),
        LARGE,
        Method.MOTOR,
        lengthEntry,
        Optional.of(length(19_700)),
        change,
        difference,
        170,
        300,
        change == Change.CHANGED ? Verdict.FAIL : Verdict.PASS,
        "");
  }
}
