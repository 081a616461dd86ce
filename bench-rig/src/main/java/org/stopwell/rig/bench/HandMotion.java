package org.stopwell.rig.bench;

/** How the file is fed. */
public enum HandMotion {
  /** Without pause. */
  STEADY,
  /** With in-and-out strokes. */
  PECKING,
  /** With pauses. */
  HESITATING,
  /** By a stiff stage without tremor that answers at once. */
  STAGE
}
