package org.stopwell.harness.trial;

/**
 * A recorded trial judged again from its trace alone: from the recorded truth, inputs and outputs.
 *
 * @param result what the judge makes of the trace
 * @param ended whether the trace holds the end of the trial; the bench failed where it does not,
 *     and then verdict and code mean nothing
 */
public record Rejudgement(TrialResult result, boolean ended) {
  private static final Judge.Ruling NO_RULING = new Judge.Ruling(Verdict.RIG_FAULT, "", "");

  /**
   * Judges a trial without faults on purpose.
   *
   * @param spec what was to be done
   * @param trace its trace
   * @return the result, without sentence, lateness and error chain
   */
  public static Rejudgement of(TrialSpec spec, byte[] trace) {
    TraceReader reader = new TraceReader(trace);
    Watch watch = new Watch(spec);
    while (watch.end == Watch.End.NOT_YET && reader.next()) {
      watch.look(reader.nowNs, reader.in, reader.out, reader.truth);
    }
    boolean ended = watch.end != Watch.End.NOT_YET;
    Judge.Ruling ruling = ended ? new Judge(spec, watch, reader.out, () -> "").rule() : NO_RULING;
    return new Rejudgement(
        TrialRunner.result(spec, watch, reader.out, 0, reader.stateHash, ruling), ended);
  }
}
