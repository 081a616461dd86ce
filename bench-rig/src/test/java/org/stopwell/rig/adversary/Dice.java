package org.stopwell.rig.adversary;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Draws scenarios inside the budget, and changes them a little. */
final class Dice {
  private static final int MOST_MOVES = 3;
  private static final int MOST_TROUBLES = 3;
  private static final int LONGEST_MS = 3_000;

  private final Random random;
  private final List<Kind> kinds;
  private final int fastest;

  /**
   * Dice.
   *
   * @param seed what they depend on
   * @param kinds what may happen
   * @param fastest fastest feed of the hand, µm/s
   */
  Dice(long seed, List<Kind> kinds, int fastest) {
    random = new Random(seed);
    this.kinds = kinds;
    this.fastest = fastest;
  }

  Scenario draw() {
    List<Move> feed = new ArrayList<>();
    feed.add(new Move(between(100, LONGEST_MS), between(fastest / 3, fastest)));
    more(feed, MOST_MOVES);
    List<Move> rest = new ArrayList<>();
    more(rest, MOST_MOVES);
    List<Trouble> troubles = new ArrayList<>();
    for (int i = random.nextInt(MOST_TROUBLES + 1); i > 0 && !kinds.isEmpty(); i--) {
      troubles.add(trouble());
    }
    return new Scenario(random.nextInt(1_000), feed, rest, troubles);
  }

  Scenario change(Scenario from) {
    List<Move> feed = new ArrayList<>(from.feed());
    List<Move> rest = new ArrayList<>(from.rest());
    List<Trouble> troubles = new ArrayList<>(from.troubles());
    long seed = from.seed();
    switch (random.nextInt(6)) {
      case 0, 1 -> change(feed);
      case 2 -> change(rest);
      case 3, 4 -> {
        if (kinds.isEmpty()) {
          change(feed);
        } else if (troubles.isEmpty() || random.nextInt(4) == 0) {
          put(troubles, trouble(), MOST_TROUBLES);
        } else {
          int i = random.nextInt(troubles.size());
          troubles.set(i, near(troubles.get(i)));
        }
      }
      default -> seed = random.nextInt(1_000);
    }
    return new Scenario(seed, feed, rest, troubles);
  }

  private void change(List<Move> moves) {
    if (moves.isEmpty() || random.nextInt(3) == 0) {
      put(moves, move(), MOST_MOVES);
      return;
    }
    int i = random.nextInt(moves.size());
    Move move = moves.get(i);
    int speed = move.micronsPerSecond() + between(-fastest / 4, fastest / 4);
    moves.set(
        i,
        new Move(
            Math.max(10, move.forMs() + between(-150, 150)),
            Math.max(-fastest, Math.min(fastest, speed))));
  }

  private <T> void put(List<T> list, T item, int most) {
    if (list.size() < most) {
      list.add(random.nextInt(list.size() + 1), item);
    } else {
      list.set(random.nextInt(list.size()), item);
    }
  }

  private void more(List<Move> moves, int most) {
    for (int i = random.nextInt(most); i > 0; i--) {
      moves.add(move());
    }
  }

  private Move move() {
    return new Move(between(20, LONGEST_MS / 3), between(-fastest, fastest));
  }

  private Trouble trouble() {
    Kind kind = kinds.get(random.nextInt(kinds.size()));
    int forMs = random.nextInt(3) == 0 ? 60_000 : between(5, LONGEST_MS);
    return new Trouble(
        kind, random.nextBoolean(), between(0, LONGEST_MS), forMs, size(kind, random.nextDouble()));
  }

  private Trouble near(Trouble from) {
    double span = from.kind().most - from.kind().least;
    double size = from.size() + span * (random.nextDouble() - 0.5) / 2;
    return new Trouble(
        from.kind(),
        from.afterStop(),
        Math.max(0, from.fromMs() + between(-200, 200)),
        Math.max(5, from.forMs() + between(-200, 200)),
        Math.max(from.kind().least, Math.min(from.kind().most, size)));
  }

  private static double size(Kind kind, double share) {
    return kind.least + share * (kind.most - kind.least);
  }

  private int between(int low, int high) {
    return low + random.nextInt(high - low + 1);
  }
}
