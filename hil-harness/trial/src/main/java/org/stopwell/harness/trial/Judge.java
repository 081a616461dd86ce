package org.stopwell.harness.trial;

import java.util.Locale;
import java.util.function.Supplier;
import org.stopwell.core.Explain;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.rig.bench.FileCondition;

/** Turns the observations of a trial into a verdict, a code and one sentence. */
final class Judge {
  /**
   * Share of the torque limit above which the torque at the file is too much, percent; assumed: a
   * driver knows the friction of its gear about as well.
   */
  private static final int MOST_TORQUE_PERCENT = 105;

  /** Verdict with its code and sentence. */
  record Ruling(Verdict verdict, String code, String message) {}

  private final TrialSpec spec;
  private final Watch seen;
  private final ControllerOutput last;
  private final Supplier<String> lastChange;

  /**
   * A judge of one trial.
   *
   * @param lastChange gives the controller's last change of state, as a sentence, if it is needed
   */
  Judge(TrialSpec spec, Watch seen, ControllerOutput last, Supplier<String> lastChange) {
    this.spec = spec;
    this.seen = seen;
    this.last = last;
    this.lastChange = lastChange;
  }

  Ruling rule() {
    if (seen.end == Watch.End.STOP_LINE) {
      return new Ruling(
          Verdict.SAFETY_STOP, "STOP_LINE", "The emergency stop was pressed; the motor stopped.");
    }
    if (brokenRig(last.reason)) {
      return new Ruling(
          Verdict.RIG_FAULT, last.reason.name(), "The bench failed. " + lastChange.get());
    }
    if (seen.end == Watch.End.BROKEN) {
      return fileBroke();
    }
    if (seen.deepestMicrons < spec.overTravelBelowMicrons()) {
      return fail(
          "OVER_TRAVEL",
          "The file went "
              + mm(-seen.deepestMicrons)
              + " mm past the foramen"
              + (spec.overTravelBelowMicrons() < 0
                  ? "; " + mm(-spec.overTravelBelowMicrons()) + " mm is the planned limit"
                  : "")
              + (seen.decisions > 0 ? "." : " and the controller did not stop it."));
    }
    Ruling ruling = asExpected();
    return saysNothing(ruling) ? seen.rig.failed(last).map(this::rigFault).orElse(ruling) : ruling;
  }

  /**
   * Whether the controller stopped, or did not start, for a reason that the bench may have caused.
   * If it claimed to know the position, or drove on, it is judged by that.
   */
  private boolean saysNothing(Ruling ruling) {
    return switch (ruling.code()) {
      case "STOPPED_OTHERWISE",
          "NOT_REACHED",
          "LOCKED",
          TrialResult.NEVER_STARTED,
          "REFUSED",
          TrialResult.TIME_LIMIT,
          "DRAWN_OUT" ->
          true;
      default ->
          (spec.expectation() == Expectation.REFUSE && refusedOrRests(ruling))
              || (spec.expectation().mayRefuse() && seen.end != Watch.End.STOPPED && refused());
    };
  }

  private boolean refusedOrRests(Ruling ruling) {
    return ruling.verdict() == Verdict.PASS
        || (ruling.code().equals("NOT_REFUSED") && seen.decisions == 0);
  }

  private Ruling rigFault(RigSigns.Failure part) {
    return new Ruling(
        Verdict.RIG_FAULT,
        part.code(),
        "The bench failed: " + part.text() + ". " + lastChange.get());
  }

  private Ruling asExpected() {
    return switch (spec.expectation()) {
      case STOP, PATENCY -> stop();
      case REFUSE -> refuse();
      case DEPTH_LIMIT -> depthLimit();
      case STOP_OR_REFUSE, COMPARE -> stopOrRefuse();
      case SURVEY -> survey();
    };
  }

  /** The way of the file is all that counts: past the foramen it was recorded to its end. */
  private Ruling survey() {
    String where = "The approach was recorded to " + place(seen.deepestMicrons) + ".";
    return seen.deepestMicrons < 0
        ? new Ruling(Verdict.PASS, "SURVEYED", where)
        : new Ruling(
            Verdict.UNDECIDED,
            "SURVEY_SHORT",
            where + " It does not reach the foramen; look for what holds the file back.");
  }

  /** Both are as expected: a stop within the tolerance, and a refusal with its cause. */
  private Ruling stopOrRefuse() {
    return seen.end != Watch.End.STOPPED && seen.end != Watch.End.DRAWN_OUT && refused()
        ? refusal()
        : stop();
  }

  private Ruling fileBroke() {
    String where = " " + mm(seen.brokenAtMicrons) + " mm short of the foramen";
    return fail(
        "FILE_BROKE",
        seen.file == FileCondition.TWISTED_OFF
            ? "The file separated by torsion"
                + where
                + ", at "
                + mm(seen.torqueMicroNewtonMetres)
                + " mN m."
            : "The file separated by cyclic bending in the curve," + where + ".");
  }

  private Ruling stop() {
    return switch (seen.end) {
      case STOPPED -> stopped();
      case SETTLED -> settledInsteadOfStop();
      case DRAWN_OUT -> drawnOut();
      default -> timeLimit();
    };
  }

  private static Ruling drawnOut() {
    return new Ruling(
        Verdict.UNDECIDED,
        "DRAWN_OUT",
        "The hand withdrew the file before it was at rest; the stop was not measured.");
  }

  private Ruling stopped() {
    int error = seen.restingMicrons - spec.standoffMicrons();
    String where =
        "Stopped "
            + place(seen.restingMicrons)
            + ", "
            + mm(Math.abs(error))
            + (error < 0 ? " mm beyond the standoff" : " mm before the standoff");
    if (Math.abs(error) <= spec.toleranceMicrons()) {
      return new Ruling(Verdict.PASS, "AT_STANDOFF", where + ".");
    }
    String limit = "; " + mm(spec.toleranceMicrons()) + " mm is allowed.";
    return fail(error > 0 ? "EARLY" : "LATE_STOP", where + limit);
  }

  private Ruling settledInsteadOfStop() {
    if (refused()) {
      return fail(
          "REFUSED",
          "The controller refused a canal that it must be able to read: "
              + Explain.why(last.cause)
              + ".");
    }
    return restsOtherwise();
  }

  private Ruling restsOtherwise() {
    if (!seen.turned) {
      return neverStarted();
    }
    return fail(
        last.state == State.LOCKED ? "LOCKED" : "STOPPED_OTHERWISE",
        "The motor rests "
            + place(seen.restingMicrons)
            + " for another reason. "
            + lastChange.get());
  }

  /** Neither a stop nor a refusal: the controller says nothing and does nothing. */
  private Ruling neverStarted() {
    return fail(
        TrialResult.NEVER_STARTED,
        "The motor did not start although the file was in the canal: state "
            + last.state
            + ", trust "
            + last.trust
            + ", "
            + (last.cause == Cause.NO_CAUSE
                ? "no cause of lost trust"
                : "because " + Explain.why(last.cause))
            + ". "
            + lastChange.get());
  }

  private Ruling timeLimit() {
    boolean pastBand =
        seen.deepestMicrons < spec.standoffMicrons() - spec.toleranceMicrons()
            && seen.decisions == 0;
    if (pastBand) {
      return fail(
          "NO_STOP",
          "The file went to "
              + place(seen.deepestMicrons)
              + " and the controller did not stop it.");
    }
    return outOfTime();
  }

  private Ruling outOfTime() {
    return new Ruling(
        Verdict.UNDECIDED,
        TrialResult.TIME_LIMIT,
        "The time limit came at " + place(seen.restingMicrons) + ", before the file was at rest.");
  }

  /** The axis decides: the limit is a depth, and the controller knows it from the axis only. */
  private Ruling depthLimit() {
    if (!seen.depthMeasured) {
      return new Ruling(
          Verdict.RIG_FAULT,
          "NO_DEPTH",
          "The bench gives no depth, so the depth limit cannot be judged.");
    }
    int allowed = spec.depthLimitMicrons() + spec.toleranceMicrons();
    if (seen.deepestByAxisMicrons > allowed) {
      return fail(
          "PAST_LIMIT",
          "The axis counted "
              + mm(seen.deepestByAxisMicrons)
              + " mm; "
              + mm(allowed)
              + " mm is allowed, the depth limit and its tolerance.");
    }
    if (seen.greatestTorqueMicroNewtonMetres * 100L
        > (long) spec.torqueLimitMicroNewtonMetres() * MOST_TORQUE_PERCENT) {
      return fail(
          "TORQUE_EXCEEDED",
          "The torque at the file rose to "
              + torque(seen.greatestTorqueMicroNewtonMetres)
              + " N·cm, mean over "
              + Watch.TORQUE_BLOCK_NS / 1_000_000
              + " ms; "
              + MOST_TORQUE_PERCENT
              + " % of the torque limit, "
              + torque(spec.torqueLimitMicroNewtonMetres())
              + " N·cm, is allowed.");
    }
    return switch (seen.end) {
      case AT_LIMIT -> atLimit();
      case STOPPED, SETTLED ->
          seen.turned ? notReached("The motor rests", lastChange.get()) : neverStarted();
      case DRAWN_OUT -> drawnOut();
      default ->
          seen.isStuck()
              ? notReached(
                  "The file turns and has not got deeper for "
                      + seen.stuckNs() / 1_000_000_000
                      + " s",
                  lastChange.get())
              : outOfTime();
    };
  }

  /** A file that cannot get there, such as in a canal that is too narrow for it. */
  private Ruling notReached(String what, String why) {
    return fail(
        "NOT_REACHED",
        "The depth limit was not reached: the greatest depth is "
            + mm(seen.deepestByAxisMicrons)
            + " mm by the axis, "
            + mm(spec.depthLimitMicrons() - seen.deepestByAxisMicrons)
            + " mm before the limit. "
            + what
            + ", with a torque of up to "
            + torqueOfLimit()
            + ". "
            + why);
  }

  private String torqueOfLimit() {
    return torque(seen.greatestTorqueMicroNewtonMetres)
        + " N·cm of "
        + torque(spec.torqueLimitMicroNewtonMetres())
        + " N·cm and "
        + (seen.torqueReactions == 0
            ? "no torque reaction"
            : seen.torqueReactions == 1
                ? "1 torque reaction"
                : seen.torqueReactions + " torque reactions");
  }

  private Ruling atLimit() {
    int error = seen.restingDepthMicrons - spec.depthLimitMicrons();
    String where =
        "Rests at "
            + mm(seen.restingDepthMicrons)
            + " mm by the axis, "
            + mm(Math.abs(error))
            + (error > 0 ? " mm past the depth limit" : " mm before the depth limit");
    return Math.abs(error) <= spec.toleranceMicrons()
        ? new Ruling(
            Verdict.PASS,
            "AT_DEPTH_LIMIT",
            where + ". On the way a torque of up to " + torqueOfLimit() + ".")
        : fail("EARLY", where + "; " + mm(spec.toleranceMicrons()) + " mm is allowed.");
  }

  private Ruling refuse() {
    if (seen.worstFalseSureMicrons > spec.toleranceMicrons()) {
      return fail(
          "FALSELY_SURE",
          "While the file turned, a reading with trust SURE was wrong by "
              + mm(seen.worstFalseSureMicrons)
              + " mm; "
              + mm(spec.toleranceMicrons())
              + " mm is allowed.");
    }
    if (refused()) {
      return refusal();
    }
    if (seen.end == Watch.End.TIME_LIMIT) {
      return new Ruling(
          Verdict.UNDECIDED,
          TrialResult.TIME_LIMIT,
          "The time limit came before the controller refused or the file was at rest.");
    }
    if (!seen.turned) {
      return neverStarted();
    }
    return fail(
        "NOT_REFUSED",
        seen.decisions > 0
            ? "The controller stopped as if its reading were valid."
            : "The motor rests, but the controller gives no cause for an invalid reading.");
  }

  private Ruling refusal() {
    return new Ruling(
        Verdict.PASS,
        last.cause.name(),
        "The controller reported that its reading is not valid: " + Explain.why(last.cause) + ".");
  }

  /** At the end the controller gives a cause for its invalid reading and does not turn the file. */
  private boolean refused() {
    return seen.decisions == 0
        && TrialResult.refuses(last.state, last.reason, last.trust, last.cause);
  }

  /** Reasons caused by the bench, not by the canal. */
  private static boolean brokenRig(Reason reason) {
    return switch (reason) {
      case LINK_LOST,
          TIME_FAULT,
          BAD_INPUT,
          MOTOR_FAULT,
          WRONG_DIRECTION,
          RUNAWAY,
          OVERSPEED,
          OVERHEATED,
          SUPPLY_LOW ->
          true;
      default -> false;
    };
  }

  private static Ruling fail(String code, String message) {
    return new Ruling(Verdict.FAIL, code, message);
  }

  private static String place(int microns) {
    return mm(Math.abs(microns)) + " mm " + (microns < 0 ? "past" : "short of") + " the foramen";
  }

  /** A torque in N·cm. */
  private static String torque(int microNewtonMetres) {
    return String.format(Locale.ROOT, "%.2f", microNewtonMetres / 1e4);
  }

  private static String mm(int microns) {
    return java.math.BigDecimal.valueOf(microns, 3).toPlainString();
  }
}
