package org.stopwell.rig.adversary;

import java.util.List;
import java.util.stream.Collectors;

/**
 * Everything that one run consists of beside the controller: what the hand does, what happens to
 * signal and bench, and the seed of the noise.
 *
 * @param seed seed of the noise
 * @param feed what the hand does while it feels the motor turn, again and again
 * @param rest what the hand does once it has felt a stop, once; then it rests
 * @param troubles what else happens
 */
record Scenario(long seed, List<Move> feed, List<Move> rest, List<Trouble> troubles) {
  Scenario {
    feed = List.copyOf(feed);
    rest = List.copyOf(rest);
    troubles = List.copyOf(troubles);
  }

  /** The fastest movement towards the foramen of a hand that feeds, µm/s. */
  int feedMicronsPerSecond() {
    return feed.stream().mapToInt(Move::micronsPerSecond).reduce(0, Math::max);
  }

  boolean has(Kind kind) {
    return troubles.stream().anyMatch(t -> t.kind() == kind);
  }

  /** How much there is to read, for shrinking. */
  int length() {
    return feed.size() + rest.size() + troubles.size();
  }

  @Override
  public String toString() {
    return "noise of seed "
        + seed
        + "\n  while the motor turns, the hand feeds: "
        + lines(feed)
        + "\n  after a stop, the hand: "
        + lines(rest)
        + "\n  and: "
        + lines(troubles);
  }

  private static String lines(List<?> list) {
    return list.isEmpty()
        ? "nothing"
        : list.stream().map(Object::toString).collect(Collectors.joining("; "));
  }
}
