package org.stopwell.core.sense;

/** Signs of lost trust that one sample alone cannot show. A reused frame. */
final class Signs {
  boolean stale;
  boolean railed;
  boolean frozen;
  boolean jumpy;

  long bits() {
    return (stale ? 1 : 0) | (railed ? 2 : 0) | (frozen ? 4 : 0) | (jumpy ? 8 : 0);
  }
}
