package org.stopwell.rig.adversary;

/**
 * A stretch of even movement of the hand.
 *
 * @param forMs how long, ms
 * @param micronsPerSecond how fast, positive towards the foramen, µm/s
 */
record Move(int forMs, int micronsPerSecond) {
  @Override
  public String toString() {
    return micronsPerSecond + " um/s for " + forMs + " ms";
  }
}
