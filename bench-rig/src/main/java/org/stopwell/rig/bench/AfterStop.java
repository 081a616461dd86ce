package org.stopwell.rig.bench;

/** What the hand does after a stop. */
public enum AfterStop {
  /** Stays. */
  HOLD,
  /** Draws the file out. */
  WITHDRAW,
  /** Draws the file out and comes in again. */
  REPEAT
}
