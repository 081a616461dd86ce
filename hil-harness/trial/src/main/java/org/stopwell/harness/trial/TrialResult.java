package org.stopwell.harness.trial;

import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

/**
 * The result of one trial. Whole numbers only, so that sums do not depend on their order.
 *
 * @param index position in run order, from 0
 * @param condition name of its condition in the plan
 * @param seed seed of its scene
 * @param expectation what the plan expected
 * @param verdict its verdict
 * @param code why, one word of a closed list: a rig fault, a refusal cause or a failure
 * @param message why, one plain sentence
 * @param stopped whether the file was turned and came to rest in the canal by the controller's
 *     decision to stop at the standoff
 * @param remainingMicrons true remaining distance at standstill, µm; 0 unless stopped
 * @param stopErrorMicrons remaining distance at standstill minus standoff, or the depth limit minus
 *     the depth at standstill, µm; positive: it rests too early; 0 unless {@link #rested}
 * @param deepestMicrons least true remaining distance of the whole trial, µm; below 0 the file was
 *     past the foramen
 * @param readingMicrons the controller's reading when it decided to stop, µm; 0 unless stopped
 * @param boundMicrons the bound that the controller stated for this reading, µm: the error lies
 *     within it 95 times in 100; 0 where none was stated, and unless stopped
 * @param state the controller's last state
 * @param reason its last reason
 * @param trust its trust when it decided, or at the end
 * @param cause its cause when it decided, or at the end
 * @param stopTimeNs bench time of the decision to stop, ns; 0 unless stopped
 * @param durationNs bench time of the whole trial, ns
 * @param steps how many steps the controller took
 * @param worstLatenessNs the latest step, ns
 * @param stateHash hash of the controller after the last step
 * @param chain where the stop error comes from
 * @param depth how it went where the plan expects the file to rest at a depth limit
 * @param device tooth, unit and hand of a trial of a device that this program does not control
 */
public record TrialResult(
    int index,
    String condition,
    long seed,
    Expectation expectation,
    Verdict verdict,
    String code,
    String message,
    boolean stopped,
    int remainingMicrons,
    int stopErrorMicrons,
    int deepestMicrons,
    int readingMicrons,
    int boundMicrons,
    State state,
    Reason reason,
    Trust trust,
    Cause cause,
    long stopTimeNs,
    long durationNs,
    long steps,
    long worstLatenessNs,
    long stateHash,
    ErrorChain chain,
    DepthReached depth,
    DeviceTrial device) {

  /**
   * A result whose controller stated no bound.
   *
   * @param index position in run order, from 0
   * @param condition name of its condition in the plan
   * @param seed seed of its scene
   * @param expectation what the plan expected
   * @param verdict its verdict
   * @param code why, one word
   * @param message why, one plain sentence
   * @param stopped whether the file came to rest by the decision to stop
   * @param remainingMicrons true remaining distance at standstill, µm
   * @param stopErrorMicrons remaining distance at standstill minus standoff, µm
   * @param deepestMicrons least true remaining distance of the whole trial, µm
   * @param readingMicrons the controller's reading when it decided to stop, µm
   * @param state the controller's last state
   * @param reason its last reason
   * @param trust its trust when it decided, or at the end
   * @param cause its cause when it decided, or at the end
   * @param stopTimeNs bench time of the decision to stop, ns
   * @param durationNs bench time of the whole trial, ns
   * @param steps how many steps the controller took
   * @param worstLatenessNs the latest step, ns
   * @param stateHash hash of the controller after the last step
   * @param chain where the stop error comes from
   */
  public TrialResult(
      int index,
      String condition,
      long seed,
      Expectation expectation,
      Verdict verdict,
      String code,
      String message,
      boolean stopped,
      int remainingMicrons,
      int stopErrorMicrons,
      int deepestMicrons,
      int readingMicrons,
      State state,
      Reason reason,
      Trust trust,
      Cause cause,
      long stopTimeNs,
      long durationNs,
      long steps,
      long worstLatenessNs,
      long stateHash,
      ErrorChain chain) {
    this(
        index,
        condition,
        seed,
        expectation,
        verdict,
        code,
        message,
        stopped,
        remainingMicrons,
        stopErrorMicrons,
        deepestMicrons,
        readingMicrons,
        0,
        state,
        reason,
        trust,
        cause,
        stopTimeNs,
        durationNs,
        steps,
        worstLatenessNs,
        stateHash,
        chain);
  }

  /**
   * A result of a trial without a depth limit, of a controller of this program.
   *
   * @param index position in run order, from 0
   * @param condition name of its condition in the plan
   * @param seed seed of its scene
   * @param expectation what the plan expected
   * @param verdict its verdict
   * @param code why, one word
   * @param message why, one plain sentence
   * @param stopped whether the file came to rest by the decision to stop
   * @param remainingMicrons true remaining distance at standstill, µm
   * @param stopErrorMicrons remaining distance at standstill minus standoff, µm
   * @param deepestMicrons least true remaining distance of the whole trial, µm
   * @param readingMicrons the controller's reading when it decided to stop, µm
   * @param boundMicrons the bound that the controller stated for this reading, µm
   * @param state the controller's last state
   * @param reason its last reason
   * @param trust its trust when it decided, or at the end
   * @param cause its cause when it decided, or at the end
   * @param stopTimeNs bench time of the decision to stop, ns
   * @param durationNs bench time of the whole trial, ns
   * @param steps how many steps the controller took
   * @param worstLatenessNs the latest step, ns
   * @param stateHash hash of the controller after the last step
   * @param chain where the stop error comes from
   */
  public TrialResult(
      int index,
      String condition,
      long seed,
      Expectation expectation,
      Verdict verdict,
      String code,
      String message,
      boolean stopped,
      int remainingMicrons,
      int stopErrorMicrons,
      int deepestMicrons,
      int readingMicrons,
      int boundMicrons,
      State state,
      Reason reason,
      Trust trust,
      Cause cause,
      long stopTimeNs,
      long durationNs,
      long steps,
      long worstLatenessNs,
      long stateHash,
      ErrorChain chain) {
    this(
        index,
        condition,
        seed,
        expectation,
        verdict,
        code,
        message,
        stopped,
        remainingMicrons,
        stopErrorMicrons,
        deepestMicrons,
        readingMicrons,
        boundMicrons,
        state,
        reason,
        trust,
        cause,
        stopTimeNs,
        durationNs,
        steps,
        worstLatenessNs,
        stateHash,
        chain,
        DepthReached.NONE,
        DeviceTrial.NONE);
  }

  /** Code of a trial in which the motor never turned and the controller did not refuse. */
  public static final String NEVER_STARTED = "NEVER_STARTED";

  /** Code of a trial of a device that had no reading in its canal, and turns elsewhere. */
  public static final String NO_READING = "NO_READING";

  /** Code of a trial in which there was no valid reading where the plan expects one. */
  public static final String REFUSED = "REFUSED";

  /** Code of a trial in which nothing but the hand or the time limit ended the motion. */
  public static final String NO_STOP = "NO_STOP";

  /** Code of a trial that the time limit cut short. */
  public static final String TIME_LIMIT = "TIME_LIMIT";

  /**
   * Whether the file came to rest where the plan wants it: at the standoff by the reading, or at
   * the depth limit by the axis. Then it has a stop error.
   *
   * @return true when the controller decided so
   */
  public boolean rested() {
    return stopped || depth.depthMicrons() > 0;
  }

  /**
   * Whether the controller was sure when it decided to stop.
   *
   * @return true for a stop decided by a reading of trust {@code SURE}
   */
  public boolean sureAtStop() {
    return stopped && trust == Trust.SURE;
  }

  /**
   * Whether the controller stated a bound when it decided to stop, and the bench knows the truth.
   *
   * @return true where {@link #isCovered} says something
   */
  public boolean hasCheckedBound() {
    return stopped && boundMicrons > 0 && !chain.equals(ErrorChain.NONE);
  }

  /**
   * Truth minus reading at the decision to stop.
   *
   * @return µm; 0 where the stop has no error chain
   */
  public int readingErrorMicrons() {
    return chain.senseMicrons() + chain.filterMicrons();
  }

  /**
   * Whether the error of the reading at the decision to stop lies within the stated bound.
   *
   * @return true on the bound and inside
   */
  public boolean isCovered() {
    return hasCheckedBound() && Math.abs(readingErrorMicrons()) <= boundMicrons;
  }

  /**
   * Whether a device was tried that this program does not control.
   *
   * @return true where the trial has a tooth
   */
  public boolean isOfDevice() {
    return !device.tooth().isEmpty();
  }

  /**
   * Whether the motor never turned and the controller did not say why.
   *
   * @return true for what is neither a stop nor a refusal
   */
  public boolean neverStarted() {
    return code.equals(NEVER_STARTED);
  }

  /**
   * Whether the controller gave up for want of a valid reading.
   *
   * @return true when it did not stop at the standoff and refused its reading at the end
   */
  public boolean refused() {
    return !rested()
        && (expectation == Expectation.DEPTH_LIMIT
            ? reason == Reason.TRUST_LOST // no reading is asked for
            : refuses(state, reason, trust, cause)
                || (isOfDevice() && (code.equals(REFUSED) || code.equals(NO_READING))));
  }

  /**
   * Whether a controller refuses its reading. A wide bound alone is no refusal, unless the motor
   * holds because of it.
   *
   * @param state its state
   * @param reason its reason
   * @param trust its trust
   * @param cause its cause
   * @return true when there is a cause that makes the reading unfit for a stop
   */
  static boolean refuses(State state, Reason reason, Trust trust, Cause cause) {
    if (trust == Trust.SURE || cause == Cause.NO_CAUSE) {
      return false;
    }
    boolean wideAlone = trust == Trust.DOUBTFUL && cause == Cause.WIDE;
    return !wideAlone || (state == State.HOLDING && reason == Reason.TRUST_LOST);
  }

  /**
   * Whether the controller drove the file to an end that shows where it drives it. A trial that was
   * refused, that never started, that the time limit cut short or that took no step shows nothing
   * about over-travel, however far the motor turned before.
   *
   * @return true when the trial says how far the controller drives the file
   */
  public boolean driven() {
    boolean stepped = steps > 0 || (isOfDevice() && code.equals(NO_STOP));
    return rested() || (stepped && !(refused() || neverStarted() || code.equals(TIME_LIMIT)));
  }

  /**
   * The same result with another verdict; every number stays.
   *
   * @param newVerdict the verdict
   * @param newCode why, one word
   * @param newMessage why, in plain words
   * @return the changed result
   */
  public TrialResult with(Verdict newVerdict, String newCode, String newMessage) {
    return copy(condition, newVerdict, newCode, newMessage, chain, depth, device);
  }

  /**
   * The same result under another name of its condition.
   *
   * @param newCondition the name
   * @return the changed result
   */
  public TrialResult with(String newCondition) {
    return copy(newCondition, verdict, code, message, chain, depth, device);
  }

  /**
   * The same result with its error split.
   *
   * @param split where the stop error comes from
   * @return the whole result
   */
  public TrialResult with(ErrorChain split) {
    return copy(condition, verdict, code, message, split, depth, device);
  }

  /**
   * The same result with a depth.
   *
   * @param reached how it went at the depth limit
   * @return the whole result
   */
  public TrialResult with(DepthReached reached) {
    return copy(condition, verdict, code, message, chain, reached, device);
  }

  /**
   * The same result of a trial of a device that this program does not control.
   *
   * @param tried tooth, unit and hand
   * @return the whole result
   */
  public TrialResult with(DeviceTrial tried) {
    return copy(condition, verdict, code, message, chain, depth, tried);
  }

  /**
   * The same result without what differs between settings or hands by design: how the controller
   * came to its stop, in which time, and in which words. What is judged stays: verdict, code, and
   * where the file went.
   *
   * @return what a blinded reader sees
   */
  public TrialResult blinded() {
    return new TrialResult(
        index,
        condition,
        seed,
        expectation,
        verdict,
        code,
        PolicyFailure.isIn(this) ? "A policy failed." : firstSentence(message),
        stopped,
        remainingMicrons,
        stopErrorMicrons,
        deepestMicrons,
        0,
        0,
        State.PARKED,
        Reason.STARTED_UP,
        Trust.NONE,
        Cause.NO_CAUSE,
        0,
        0,
        0,
        worstLatenessNs,
        0,
        ErrorChain.NONE,
        depth.blinded(),
        device.blinded());
  }

  /** What follows it tells how the controller got there. */
  private static String firstSentence(String text) {
    int end = text.indexOf(". ");
    return end < 0 ? text : text.substring(0, end + 1);
  }

  private TrialResult copy(
      String newCondition,
      Verdict newVerdict,
      String newCode,
      String newMessage,
      ErrorChain split,
      DepthReached reached,
      DeviceTrial tried) {
    return new TrialResult(
        index,
        newCondition,
        seed,
        expectation,
        newVerdict,
        newCode,
        newMessage,
        stopped,
        remainingMicrons,
        stopErrorMicrons,
        deepestMicrons,
        readingMicrons,
        boundMicrons,
        state,
        reason,
        trust,
        cause,
        stopTimeNs,
        durationNs,
        steps,
        worstLatenessNs,
        stateHash,
        split,
        reached,
        tried);
  }
}
