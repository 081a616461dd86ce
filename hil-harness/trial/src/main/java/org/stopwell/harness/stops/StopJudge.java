package org.stopwell.harness.stops;

import java.math.BigDecimal;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;
import org.stopwell.harness.trial.Condition;
import org.stopwell.harness.trial.ErrorChain;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.Verdict;

/**
 * Judges stops that were measured elsewhere, by the rules and codes of a trial that runs here. What
 * only a controller of this program states, such as its reading, stays empty.
 */
public final class StopJudge {
  private StopJudge() {}

  private record Ruling(Verdict verdict, String code, String message) {}

  /**
   * The result of a row.
   *
   * @param index position in run order, from 0
   * @param row the row
   * @param condition its condition
   * @return the result, without a guard band
   */
  public static TrialResult of(int index, StopRow row, Condition condition) {
    Ruling ruling = rule(row, condition);
    boolean stopped = row.end() == StopEnd.STOPPED;
    return new TrialResult(
            index,
            condition.name(),
            0,
            condition.expectation(),
            ruling.verdict(),
            ruling.code(),
            ruling.message(),
            stopped,
            row.restingMicrons(),
            stopped ? row.restingMicrons() - condition.standoffMicrons() : 0,
            row.deepestMicrons(),
            0,
            State.PARKED,
            Reason.STARTED_UP,
            Trust.NONE,
            Cause.NO_CAUSE,
            0,
            0,
            0,
            0,
            0,
            ErrorChain.NONE)
        .with(row.tried());
  }

  private static Ruling rule(StopRow row, Condition condition) {
    if (!row.end().valid()) {
      return new Ruling(Verdict.RIG_FAULT, row.end().name(), row.end().sentence());
    }
    if (row.deepestMicrons() < condition.overTravelBelowMicrons()) {
      return fail(
          "OVER_TRAVEL",
          "The file went "
              + mm(-row.deepestMicrons())
              + " mm past the foramen. "
              + row.end().sentence());
    }
    return switch (row.end()) {
      case STOPPED -> stopped(row.restingMicrons(), condition);
      case NO_START -> fail(TrialResult.NEVER_STARTED, row.end().sentence());
      case REFUSED -> fail(TrialResult.REFUSED, row.end().sentence());
      default -> fail(TrialResult.NO_STOP, row.end().sentence());
    };
  }

  private static Ruling stopped(int restingMicrons, Condition condition) {
    int error = restingMicrons - condition.standoffMicrons();
    String where =
        "Stopped "
            + mm(Math.abs(restingMicrons))
            + " mm "
            + (restingMicrons < 0 ? "past" : "short of")
            + " the foramen, "
            + mm(Math.abs(error))
            + (error < 0 ? " mm beyond the standoff" : " mm before the standoff");
    return Math.abs(error) <= condition.toleranceMicrons()
        ? new Ruling(Verdict.PASS, "AT_STANDOFF", where + ".")
        : fail(
            error > 0 ? "EARLY" : "LATE_STOP",
            where + "; " + mm(condition.toleranceMicrons()) + " mm is allowed.");
  }

  private static Ruling fail(String code, String message) {
    return new Ruling(Verdict.FAIL, code, message);
  }

  private static String mm(int microns) {
    return BigDecimal.valueOf(microns, 3).toPlainString();
  }
}
