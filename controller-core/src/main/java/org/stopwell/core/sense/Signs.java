package org.stopwell.core.sense;

/** Signs of lost trust that one sample alone cannot show. A reused frame. */
final class Signs {
  boolean stale;
  boolean railed;
  boolean frozen;
  boolean jumpy;

  /** No bound within the tolerance is stated for the distance. */
  boolean wide = true;

  /** The file is farther than the curve goes: there is no distance to state a bound for. */
  boolean far;

  long bits() {
    return (stale ? 1 : 0)
        | (railed ? 2 : 0)
        | (frozen ? 4 : 0)
        | (jumpy ? 8 : 0)
        | (wide ? 16 : 0)
        | (far ? 32 : 0);
  }
}
