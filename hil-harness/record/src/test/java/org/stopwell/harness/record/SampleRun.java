package org.stopwell.harness.record;

import java.util.List;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.protocol.Registration;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchDescription;

/** Small records to write, read and count with. Made up: they are no measurement. */
public final class SampleRun {
  private SampleRun() {}

  /** A header with one condition that stops and one that must be refused. */
  public static RunHeader header(int stops, int refusals) {
    return new RunHeader(
        "half-wet accuracy",
        "name: half-wet accuracy\n",
        "stage: length\n",
        "0.1.0+test",
        new BenchDescription("virtual", "model-1", "none", true, true, 1_000_000),
        42,
        List.of(
            new Condition("half-wet", Expectation.STOP, stops, 500, 500),
            new Condition("dry", Expectation.REFUSE, refusals, 500, 500)),
        List.of(
            new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of("half-wet")),
            new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.05, 0.95, List.of())),
        "2026-01-02T03:04:05Z",
        "stopwell run half-wet.yaml --seed 42");
  }

  /** The same run with other conditions and claims, under a protocol. */
  public static RunHeader under(
      Protocol protocol, RunHeader h, List<Condition> conditions, List<Claim> claims) {
    return new RunHeader(
        h.planName(),
        h.planYaml(),
        h.settingsYaml(),
        h.build(),
        h.bench(),
        h.campaignSeed(),
        conditions,
        claims,
        h.startedAt(),
        h.command(),
        protocol,
        Registration.NONE,
        h.design());
  }

  /** A trial that stopped with an error. */
  public static TrialResult stop(int index, int errorMicrons) {
    boolean within = Math.abs(errorMicrons) <= 500;
    return new TrialResult(
        index,
        "half-wet",
        1000L + index,
        Expectation.STOP,
        within ? Verdict.PASS : Verdict.FAIL,
        within ? "STOPPED" : "OUT_OF_TOLERANCE",
        "Stopped " + errorMicrons + " µm off the standoff.",
        true,
        500 + errorMicrons,
        errorMicrons,
        500 + errorMicrons,
        505,
        State.HOLDING,
        Reason.STANDOFF_REACHED,
        Trust.SURE,
        Cause.NO_CAUSE,
        3_000_000_000L,
        4_000_000_000L,
        4000,
        0,
        0x9E3779B97F4A7C15L * (index + 1),
        ErrorChain.NONE);
  }

  /** A trial that was refused, as it should be. */
  public static TrialResult refusal(int index) {
    return unstopped(
        index, "dry", Expectation.REFUSE, Verdict.PASS, "UNWETTED", "The tip is out of the fluid.");
  }

  /** A trial that the bench spoiled. */
  public static TrialResult rigFault(int index, String code) {
    return unstopped(
        index, "half-wet", Expectation.STOP, Verdict.RIG_FAULT, code, "The port went away.");
  }

  /**
   * A trial refused in a canal that must be read, with the least distance that the file had, µm.
   */
  public static TrialResult refusedAt(int index, String condition, int deepestMicrons) {
    return unstopped(
        index,
        condition,
        Expectation.STOP,
        Verdict.FAIL,
        deepestMicrons < 0 ? "OVER_TRAVEL" : "REFUSED",
        "The tip is out of the fluid.",
        deepestMicrons);
  }

  /** A trial without a stop. */
  public static TrialResult unstopped(
      int index, String condition, Expectation expected, Verdict verdict, String code, String why) {
    return unstopped(index, condition, expected, verdict, code, why, 9000);
  }

  private static TrialResult unstopped(
      int index,
      String condition,
      Expectation expected,
      Verdict verdict,
      String code,
      String why,
      int deepestMicrons) {
    return new TrialResult(
        index,
        condition,
        1000L + index,
        expected,
        verdict,
        code,
        why,
        false,
        0,
        0,
        deepestMicrons,
        0,
        State.HOLDING,
        Reason.TRUST_LOST,
        Trust.NONE,
        Cause.UNWETTED,
        0,
        4_000_000_000L,
        4000,
        0,
        77L + index,
        ErrorChain.NONE);
  }
}
