package org.stopwell.harness.report;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.protocol.Claim;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.bench.BenchDescription;

/** A made-up campaign with everything in it that a report must show. It is no measurement. */
final class SampleCampaign {
  private static final String[] CONDITIONS = {
    "half-wet, slow hand", "half-wet, steady hand", "brimful, steady hand", "dry, steady hand"
  };

  private SampleCampaign() {}

  static RunHeader header(int perCondition) {
    List<Condition> conditions = new ArrayList<>();
    for (String name : CONDITIONS) {
      conditions.add(new Condition(name, expected(name), perCondition, 500, 500));
    }
    return new RunHeader(
        "First stop",
        "name: First stop\nstage: length\ntrials: "
            + perCondition
            + "\nfactors:\n  fluid: [half-wet, brimful, dry]\n",
        "standoff_mm: 0.5\nspeed_rpm: 300\ntorque_ncm: 0.6\n",
        "0.1.0+abc1234",
        new BenchDescription("virtual", "model 1", "physics 1", true, true, 1_000_000),
        20260101,
        conditions,
        List.of(
            new Claim(Claim.Endpoint.WITHIN, 500, 0.95, 0.95, List.of()),
            new Claim(Claim.Endpoint.OVER_TRAVEL, 0, 0.05, 0.95, List.of()),
            new Claim(Claim.Endpoint.BIAS, 100, 0, 0.95, List.of()),
            new Claim(Claim.Endpoint.REFUSED, 0, 0.9, 0.95, List.of())),
        "2026-01-02T03:04:05Z",
        "stopwell run docs/plans/first-stop.yaml --seed 20260101 --bench virtual");
  }

  static List<TrialResult> trials(int perCondition) {
    Random random = new Random(5);
    List<TrialResult> trials = new ArrayList<>();
    for (int i = 0; i < perCondition * CONDITIONS.length; i++) {
      String condition = CONDITIONS[i % CONDITIONS.length];
      if (i == 17 || i == 101) {
        trials.add(other(i, condition, Verdict.RIG_FAULT, i == 17 ? "PORT_GONE" : "LATE"));
      } else if (i == 54) {
        trials.add(other(i, condition, Verdict.UNDECIDED, "TIME_LIMIT"));
      } else if (expected(condition) == Expectation.REFUSE) {
        trials.add(other(i, condition, Verdict.PASS, "UNWETTED"));
      } else {
        double spread = condition.startsWith("brimful") ? 160 : 60;
        double bias = condition.contains("slow") ? 20 : condition.startsWith("brim") ? 90 : -30;
        int error = (int) Math.round(bias + spread * random.nextGaussian());
        trials.add(stop(i, condition, i == 42 ? -640 : i == 70 ? 1810 : error));
      }
    }
    return trials;
  }

  static Map<Integer, TraceSeries> traces(List<TrialResult> trials) {
    Map<Integer, TraceSeries> traces = new LinkedHashMap<>();
    for (TrialResult trial : trials) {
      if (trial.stopped() && (trial.index() == 0 || trial.index() == 42)) {
        traces.put(trial.index(), trace(trial));
      }
    }
    return traces;
  }

  private static Expectation expected(String condition) {
    return condition.startsWith("dry") ? Expectation.REFUSE : Expectation.STOP;
  }

  private static TrialResult stop(int index, String condition, int error) {
    boolean within = Math.abs(error) <= 500;
    return new TrialResult(
            index,
            condition,
            7_000_000_007L * (index + 1),
            Expectation.STOP,
            within ? Verdict.PASS : Verdict.FAIL,
            within ? "AT_STANDOFF" : error < 0 ? "OVER_TRAVEL" : "EARLY",
            within
                ? "Stopped " + (500 + error) + " µm short of the foramen."
                : error < 0
                    ? "The file went 0.140 mm past the foramen."
                    : "Stopped 2.310 mm short of the foramen, 1.810 mm before the standoff; 0.500 mm is"
                        + " allowed.",
            true,
            500 + error,
            error,
            500 + error,
            520,
            State.HOLDING,
            Reason.STANDOFF_REACHED,
            Trust.SURE,
            Cause.NO_CAUSE,
            6_200_000_000L,
            7_000_000_000L,
            7000,
            0,
            index * 31L,
            ErrorChain.NONE)
        .with(new ErrorChain(error - 12, 15, 40, -13, -9, -21));
  }

  private static TrialResult other(int index, String condition, Verdict verdict, String code) {
    return new TrialResult(
        index,
        condition,
        7_000_000_007L * (index + 1),
        expected(condition),
        verdict,
        code,
        "The controller reported that its reading is not valid: the tip is out of the fluid.",
        false,
        0,
        0,
        9000,
        0,
        State.HOLDING,
        Reason.TRUST_LOST,
        Trust.NONE,
        Cause.UNWETTED,
        0,
        7_000_000_000L,
        7000,
        0,
        index * 31L,
        ErrorChain.NONE);
  }

  /** A hand that feeds in strokes until the controller stops the file. */
  private static TraceSeries trace(TrialResult trial) {
    Random random = new Random(trial.index());
    List<TraceSeries.Step> steps = new ArrayList<>();
    double remaining = 19_000;
    for (int ms = 0; ms < 7000; ms++) {
      double t = ms / 1000.0;
      boolean inside = remaining < 18_000;
      boolean stopped = t > 6.2;
      double feed =
          stopped
              ? 0
              : t < 6.2
                  ? (19_000 - trial.remainingMicrons()) / 6200.0 * (1 + Math.sin(9 * t) * 0.9)
                  : 0;
      remaining -= feed;
      boolean easing = remaining < 2500;
      State state =
          !inside ? State.PARKED : stopped ? State.HOLDING : easing ? State.EASING : State.TURNING;
      int rpm =
          !inside
              ? 0
              : stopped
                  ? (int) (120_000 * Math.exp(-(t - 6.2) / 0.03))
                  : easing ? 120_000 : 300_000;
      int torque =
          rpm == 0
              ? 0
              : (int) (600 + 1800 * Math.abs(Math.sin(9 * t)) + 80 * random.nextGaussian());
      Trust trust = t < 1 ? Trust.NONE : remaining > 9000 ? Trust.DOUBTFUL : Trust.SURE;
      steps.add(
          new TraceSeries.Step(
              ms * 1_000_000L,
              (int) remaining,
              t > 0.8,
              (int) (remaining + 40 * random.nextGaussian() + (remaining > 3000 ? 300 : 20)),
              rpm,
              torque,
              state,
              trust));
    }
    return new TraceSeries(steps);
  }
}
