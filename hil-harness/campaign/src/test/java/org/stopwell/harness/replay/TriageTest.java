package org.stopwell.harness.replay;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.record.SampleRun;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/** Whose fault a trial that did not pass looks like. */
class TriageTest {
  private static final TrialResult EARLY = SampleRun.stop(4, 900);

  @Test
  void whatComesAgainToTheBitIsTheControllers() {
    assertEquals(Triage.Finding.SAME, Triage.finding(EARLY, List.of(EARLY, EARLY)));
  }

  @Test
  void whatComesAgainWithOtherNumbersIsTheControllersToo() {
    TrialResult other = SampleRun.stop(5, 870);
    assertEquals(Triage.Finding.ALIKE, Triage.finding(EARLY, List.of(EARLY, other)));
  }

  @Test
  void onePassAmongManyIsFlakyAndTheFirstResultStays() {
    List<TrialResult> again = List.of(EARLY, SampleRun.stop(4, 10), EARLY);
    assertEquals(Triage.Finding.FLAKY, Triage.finding(EARLY, again));
    assertEquals(Verdict.FAIL, new Triage(EARLY, again, Triage.Finding.FLAKY).recorded().verdict());
  }

  @Test
  void aRigThatFailedIsNeverTheControllersFault() {
    TrialResult fault = SampleRun.rigFault(4, "LINK");
    assertEquals(Triage.Finding.RIG_ONCE, Triage.finding(fault, List.of(EARLY, EARLY)));
    assertEquals(Triage.Finding.RIG_AGAIN, Triage.finding(fault, List.of(EARLY, fault)));
  }
}
