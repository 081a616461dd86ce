package org.stopwell.core.guard;

/**
 * What a guard may ask for, from the least to the most careful. Careful means little motion:
 * rocking still drives forward, backing out still turns, holding does not turn, a lock must be
 * acknowledged.
 */
public enum Reaction {
  /** Go on. */
  NONE,
  /** Slow down. */
  EASE,
  /** Alternate. */
  ROCK,
  /** Turn backwards. */
  BACK_OUT,
  /** Stop until the file is withdrawn. */
  HOLD,
  /** Stop until a person acknowledges. */
  LOCK
}
