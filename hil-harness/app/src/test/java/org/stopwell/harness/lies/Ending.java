package org.stopwell.harness.lies;

import java.util.Locale;
import org.stopwell.core.Explain;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.harness.trial.TrialResult;

/**
 * How one trial with a lie ended, and what the controller showed in the moment that counts: the
 * crossing of the foramen, else the decision to stop, else the end.
 *
 * @param survival what the policy made of the lie
 * @param shown what it showed
 * @param restMicrons true distance at rest, or at the end, µm
 * @param atRest whether the motor was off at the end
 * @param pastMicrons how far the file went past the foramen, µm; 0 if it did not
 */
record Ending(Survival survival, Shown shown, int restMicrons, boolean atRest, int pastMicrons) {

  /**
   * What the controller shows, and the truth.
   *
   * @param trueMicrons true distance to the foramen, µm
   * @param present whether a distance is shown
   * @param readingMicrons the distance, µm
   * @param boundMicrons its stated bound, µm; 0: none
   * @param cause cause of lost trust
   * @param state state
   * @param reason reason of the state
   */
  record Shown(
      int trueMicrons,
      boolean present,
      int readingMicrons,
      int boundMicrons,
      Cause cause,
      State state,
      Reason reason) {

    /** Truth minus reading, µm; 0 where nothing is shown. */
    int errorMicrons() {
      return present ? trueMicrons - readingMicrons : 0;
    }

    /** Whether what is shown, if anything is, lies within its stated bound. */
    boolean honest() {
      return !present || Math.abs(errorMicrons()) <= boundMicrons;
    }

    boolean rests() {
      return state == State.PARKED || state == State.HOLDING || state == State.LOCKED;
    }
  }

  /**
   * Judges a trial.
   *
   * @param lie what was wrong with the tooth
   * @param result the trial
   * @param shown the moment that counts
   * @param end the last moment
   * @param toleranceMicrons half width of the band around the standoff, µm
   */
  static Ending of(Lie lie, TrialResult result, Shown shown, Shown end, int toleranceMicrons) {
    int past = Math.max(0, -result.deepestMicrons());
    return new Ending(
        past > 0 ? Survival.FOOLED : survival(lie, result, shown, toleranceMicrons),
        shown,
        end.trueMicrons(),
        end.rests(),
        past);
  }

  private static Survival survival(Lie lie, TrialResult result, Shown shown, int toleranceMicrons) {
    if (result.stopped()) {
      boolean inBand = Math.abs(result.stopErrorMicrons()) <= toleranceMicrons;
      return inBand && shown.honest() ? Survival.IN_BAND : Survival.FOOLED;
    }
    // A motor that gave up was not fooled. One that never started because of a false distance was,
    // and so was one that goes on by it.
    boolean heldUp = shown.reason() == Reason.TRUST_LOST || shown.cause() != Cause.WIDE;
    boolean refused = result.refused() && shown.reason() != Reason.MONITOR_STOP;
    if (!refused || !((shown.rests() && heldUp) || shown.honest())) {
      return Survival.FOOLED;
    }
    return lie.right().contains(shown.cause()) ? Survival.NAMED : Survival.REFUSED;
  }

  /** How far the policy was off, µm: past the foramen, else by its reading. */
  int wrongMicrons() {
    return pastMicrons > 0 ? pastMicrons : Math.abs(shown.errorMicrons());
  }

  /** What the controller did and said, for readers. */
  String sentence() {
    if (pastMicrons > 0) {
      return "The file went "
          + mm(pastMicrons)
          + " mm past the foramen"
          + (atRest ? "" : " until the trial ended")
          + ". At the foramen the controller showed "
          + reading()
          + said()
          + ", and the motor went on.";
    }
    if (survival == Survival.IN_BAND || stoppedByReading()) {
      return "The file stopped "
          + place()
          + ". When it decided, the controller showed "
          + reading()
          + " and the truth was "
          + mm(shown.trueMicrons())
          + " mm.";
    }
    boolean started = shown.state() != State.PARKED || shown.reason() == Reason.CANAL_LEFT;
    String what =
        !shown.rests()
            ? "The motor still turned slowly at the end, " + place()
            : started ? "The motor stopped " + place() : "The motor did not start";
    return what + ". The controller showed " + reading() + said() + ".";
  }

  private String place() {
    return mm(restMicrons) + " mm short of the foramen";
  }

  private String said() {
    return shown.cause() == Cause.NO_CAUSE
        ? ""
        : " and said: “" + Explain.why(shown.cause()) + "” (`" + shown.cause() + "`)";
  }

  private boolean stoppedByReading() {
    return switch (shown.reason()) {
      case STANDOFF_REACHED, PAST_FORAMEN, MONITOR_STOP -> true;
      default -> false;
    };
  }

  private String reading() {
    if (shown.present()) {
      return mm(shown.readingMicrons()) + " ± " + mm(shown.boundMicrons()) + " mm";
    }
    // without a distance a motor moves only where the foramen is known to be far
    return shown.rests() ? "no distance" : "only that the foramen is far";
  }

  /** Millimetres with two decimals. */
  static String mm(int microns) {
    return String.format(Locale.ROOT, "%.2f", microns / 1000.0).replace('-', '−');
  }
}
