package org.stopwell.harness.fault;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TraceRecorder;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.Truth;

/**
 * A trace made step by step: a file that turns in a canal, a step each millisecond, a sample every
 * ten, all of it sound but for what a test changes. It is no measurement.
 */
final class MadeTrace {
  static final long MS = 1_000_000;

  /** Samples from which on the file counts as in the canal. */
  static final int IN_CANAL = 10;

  private MadeTrace() {}

  /** What a test changes in one step. */
  interface Change {
    void at(int ms, ControllerInput in, ControllerOutput out);
  }

  static byte[] of(int steps, Change change) {
    TraceRecorder recorder = new TraceRecorder();
    Truth truth = new Truth();
    for (int ms = 0; ms < steps; ms++) {
      ControllerInput in = new ControllerInput();
      ControllerOutput out = new ControllerOutput();
      in.sampleSequence = ms / 10 + 1L;
      in.sampleTimeNs = ms / 10 * 10L * MS;
      in.frequencyCount = 2;
      // A thousandth from sample to sample: alive, and far from a step.
      in.zRealMilliOhms[0] = 9_000_000 + 9_000 * (ms / 10 % 2);
      in.zRealMilliOhms[1] = 7_000_000 + 7_000 * (ms / 10 % 2);
      in.supplyMilliVolts = 12_000;
      in.speedMilliRpm = 300_000;
      in.currentMilliAmps = 200;
      in.torqueMicroNewtonMetres = 1_000;
      out.drive = Drive.FORWARD;
      out.speedMilliRpm = 300_000;
      out.torqueLimitMicroNewtonMetres = 6_000;
      change.at(ms, in, out);
      // well below the surface of the fluid, where a trembling hand alone makes no steps
      truth.remainingMicrons = ms < 20 ? 3_000 : 1_000;
      recorder.add(ms * MS, in, out, 0, truth);
    }
    return recorder.bytes();
  }

  static TrialResult result(Verdict verdict, String code) {
    return new TrialResult(
        0,
        "c",
        1,
        Expectation.STOP,
        verdict,
        code,
        "A sentence.",
        false,
        0,
        0,
        4_000,
        0,
        State.HOLDING,
        Reason.TRUST_LOST,
        Trust.NONE,
        Cause.NO_CAUSE,
        0,
        1_000 * MS,
        1_000,
        0,
        0,
        ErrorChain.NONE);
  }
}
