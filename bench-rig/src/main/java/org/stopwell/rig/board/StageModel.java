package org.stopwell.rig.board;

import java.util.function.LongSupplier;
import org.stopwell.rig.wire.StageFields;
import org.stopwell.rig.wire.StageState;

/**
 * A stage that is not there: carriage, switches, soft limits and the time that a way takes, without
 * inertia and without play. It moves by the machine's clock and carries nothing: the file of an
 * emulated board is fed by the hand of its scene.
 */
final class StageModel {
  /** As in the drive board's {@code calibration.h}; all assumed. */
  static final int LEAST_MICRONS = 200;

  static final int MOST_MICRONS = 38_000;
  static final int FASTEST_MICRONS_PER_SECOND = 10_000;
  private static final int SEEK_MICRONS_PER_SECOND = 5_000;
  private static final int SILENCE_MS = 1_000;

  /** Place of the carriage at the start of the program, from the home switch (assumed). */
  private static final int START_MICRONS = 3_000;

  private final LongSupplier clock;
  private StageState state = StageState.RESTING;
  private boolean homed;
  private double position = START_MICRONS;
  private double target = START_MICRONS;
  private double micronsPerNs;
  private long advancedNs;
  private long heardNs;

  StageModel(LongSupplier clock) {
    this.clock = clock;
  }

  StageFields home() {
    advance();
    if (state.busy()) {
      return as(StageState.BUSY);
    }
    homed = false;
    go(StageState.HOMING, 0, SEEK_MICRONS_PER_SECOND);
    return as(state);
  }

  StageFields move(int toMicrons, long micronsPerSecond) {
    advance();
    if (state.busy()) {
      return as(StageState.BUSY);
    }
    if (!homed) {
      return as(StageState.NOT_HOMED);
    }
    if (!(toMicrons >= LEAST_MICRONS
        && toMicrons <= MOST_MICRONS
        && micronsPerSecond >= 1
        && micronsPerSecond <= FASTEST_MICRONS_PER_SECOND)) {
      return as(StageState.OUTSIDE);
    }
    go(StageState.MOVING, toMicrons, micronsPerSecond);
    return as(state);
  }

  StageFields stop() {
    advance();
    halt(StageState.STOPPED);
    return as(state);
  }

  StageFields ask() {
    advance();
    return as(state);
  }

  /** The host opened a new session or trial, or the power goes for another reason. */
  void leave() {
    advance();
    halt(StageState.LEFT_ALONE);
  }

  private void go(StageState how, int toMicrons, long micronsPerSecond) {
    state = how;
    target = toMicrons;
    micronsPerNs = micronsPerSecond * 1e-9;
  }

  private void halt(StageState why) {
    if (state.busy()) {
      state = why;
    }
  }

  private void advance() {
    long nowNs = clock.getAsLong();
    if (state.busy()) {
      long untilNs = Math.min(nowNs, heardNs + SILENCE_MS * 1_000_000L);
      double way = (untilNs - advancedNs) * micronsPerNs;
      if (Math.abs(target - position) <= way) {
        position = target;
        homed = true;
        state = StageState.ARRIVED;
      } else {
        position += Math.copySign(way, target - position);
        if (untilNs < nowNs) {
          state = StageState.LEFT_ALONE;
        }
      }
    }
    advancedNs = nowNs;
    heardNs = nowNs;
  }

  private StageFields as(StageState told) {
    return new StageFields(
        told,
        homed,
        position <= 0,
        false,
        (int) Math.round(position),
        LEAST_MICRONS,
        MOST_MICRONS,
        FASTEST_MICRONS_PER_SECOND);
  }
}
