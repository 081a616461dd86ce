package org.stopwell.core.state;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.trace.StateHash;

/**
 * Conditions between a stop and the next start.
 *
 * <p>After a stop the file must be withdrawn by a distance and stay so for a time. The reading pays
 * that as long as its thread since the stop is unbroken; the feed axis pays it always. Once the
 * thread is broken, or where no place was known at the stop, the file must leave the canal.
 *
 * <p>A signal that says outside is not a file that has left: a tip that dries, or a lead that
 * breaks, says the same. The canal counts as left when the file was followed out of it: by the
 * reading or the axis, or because the motor last turned beyond the curve. Otherwise the operator
 * must let go of the demand while the signal says outside.
 *
 * <p>A file that turned until the contact was lost in place owes no withdrawal, but motion must be
 * demanded again. The same applies at power-on; and after a latched fault that a person has
 * acknowledged, where only a new demand counts.
 */
final class Rearm {
  /** A single step of the reading shows at most this share of a withdrawal; assumed. */
  private static final double MOST_STEP_SHARE = 0.25;

  private final Withdrawal byReading = new Withdrawal();
  private final Withdrawal byAxis = new Withdrawal();
  private boolean withdrawalOwed;
  private boolean askOwed = true;
  private boolean demandOwed;

  /** The motor last turned beyond the curve, or has not turned and no place is known yet. */
  private boolean beyond = true;

  private boolean demandHeld = true;
  private boolean pressed;
  private long thread;

  /** The motor has stopped where a withdrawal is owed. */
  void oweWithdrawal(PositionSense sense, boolean axis, int insertionMicrons) {
    begin(sense, axis, insertionMicrons);
    withdrawalOwed = true;
  }

  /** The signal has ended a motion: a new demand is needed, unless the file was followed out. */
  void oweAskUnlessFollowed(PositionSense sense, boolean axis, int insertionMicrons) {
    askOwed |= !wasFollowedOut();
    begin(sense, axis, insertionMicrons);
  }

  /** A latched fault was acknowledged: a new demand is needed. */
  void oweDemand() {
    demandOwed = true;
  }

  /** The motor starts: one press of the demand is one start. */
  void start(PositionSense sense, boolean axis, int insertionMicrons) {
    begin(sense, axis, insertionMicrons);
    pressed = false;
  }

  private void begin(PositionSense sense, boolean axis, int insertionMicrons) {
    byReading.begin(sense.placed(), sense.measuredMicrons(), sense.farnessWitness());
    byAxis.begin(axis, -insertionMicrons, 0);
  }

  /** One step. */
  void update(
      long dtNs,
      PositionSense sense,
      ControllerInput in,
      boolean plausible,
      boolean mayTurn,
      StageSetup setup) {
    boolean axis = plausible && in.insertionPresent;
    boolean known = sense.placed() || sense.far();
    if (thread != sense.thread()) {
      thread = sense.thread();
      byReading.cut();
    }
    byReading.update(
        dtNs,
        known && sense.sound(), // a difference: of an error of the place only the stretch counts
        sense.measuredMicrons(),
        sense.farnessWitness(),
        sense.far(),
        sense.feignedMicronsPerSecond(),
        setup.rearmMicrons * MOST_STEP_SHARE,
        setup.rearmMicrons,
        setup.rearmNs);
    byAxis.update(
        dtNs,
        axis,
        axis ? -in.insertionMicrons : 0,
        0,
        false,
        0,
        Double.MAX_VALUE,
        setup.rearmMicrons,
        setup.rearmNs);
    if (mayTurn && known) {
      beyond = sense.far();
    } else {
      beyond &= !sense.placed();
    }
    boolean left = sense.outside() && wasFollowedOut();
    boolean released = plausible && !in.demand;
    boolean drawnBack = byReading.pays(setup.rearmNs) || byAxis.pays(setup.rearmNs);
    boolean vouched = released && sense.outside();
    withdrawalOwed &= !(drawnBack || left || vouched);
    askOwed &= !(left || released);
    demandOwed &= !released;
    if (plausible) {
      pressed |= (in.demand && !demandHeld);
      demandHeld = in.demand;
    }
    pressed = pressed && !sense.outside();
  }

  private boolean wasFollowedOut() {
    return beyond || byReading.followedOut() || byAxis.followedOut();
  }

  boolean clear() {
    return !withdrawalOwed && !askOwed && !demandOwed;
  }

  /** Whether there was a new demand in the canal since the last start of the motor. */
  boolean pressed() {
    return pressed;
  }

  private long bits() {
    return (withdrawalOwed ? 1 : 0)
        | (askOwed ? 2 : 0)
        | (demandOwed ? 4 : 0)
        | (beyond ? 8 : 0)
        | (demandHeld ? 16 : 0)
        | (pressed ? 32 : 0);
  }

  long mixInto(long hash) {
    return byAxis.mixInto(byReading.mixInto(StateHash.mix(StateHash.mix(hash, bits()), thread)));
  }

  /** What only the next starts depend on counts while something is owed. */
  long mixMode(long hash) {
    long owed = (withdrawalOwed ? 1 : 0) | (askOwed ? 2 : 0) | (demandOwed ? 4 : 0);
    long paying = (byReading.whole() ? 8 : 0) | (wasFollowedOut() ? 16 : 0);
    return StateHash.mix(hash, owed | (withdrawalOwed || askOwed ? paying : 0));
  }
}
