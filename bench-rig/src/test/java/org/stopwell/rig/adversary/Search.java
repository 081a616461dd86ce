package org.stopwell.rig.adversary;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.BiFunction;

/** Random scenarios, hill climbing from each, and shrinking of what breaks an invariant. */
final class Search {
  /** Makes the invariants of one run. */
  interface Judges extends BiFunction<Setup, Scenario, List<Check>> {}

  private final Setup setup;
  private final Judges judges;

  private final Player player;

  /** Plays a scenario: with or without a budget. */
  interface Player extends BiFunction<Setup, Scenario, Run> {}

  Search(Setup setup, Judges judges) {
    this(setup, judges, Run::new);
  }

  Search(Setup setup, Judges judges, Player player) {
    this.setup = setup;
    this.judges = judges;
    this.player = player;
  }

  /**
   * Looks for a broken invariant.
   *
   * @param seed seed of the search
   * @param kinds what may happen
   * @param fastest fastest feed of the hand, µm/s
   * @param starts random scenarios to set out from
   * @param climbs changes tried from each
   * @return the first one found, shrunk
   */
  Optional<Found> run(long seed, List<Kind> kinds, int fastest, int starts, int climbs) {
    Dice dice = new Dice(seed, kinds, fastest);
    for (int start = 0; start < starts; start++) {
      Scenario at = dice.draw();
      double[] margins = margins(at);
      for (int climb = 0; ; climb++) {
        int broken = worst(margins);
        if (margins[broken] < 0) {
          Scenario least = shrink(at, broken);
          String name = judges.apply(setup, least).get(broken).name();
          return Optional.of(new Found(setup, seed, name, least));
        }
        if (climb == climbs) {
          break;
        }
        Scenario next = dice.change(at);
        double[] there = margins(next);
        // One invariant after the other is climbed for, so that none hides the others.
        int aim = start % margins.length;
        if (there[aim] <= margins[aim] || there[worst(there)] < 0) {
          at = next;
          margins = there;
        }
      }
    }
    return Optional.empty();
  }

  /** The least margin of one invariant that the search comes to, of scenarios without failure. */
  double least(long seed, List<Kind> kinds, int fastest, int starts, int climbs, int aim) {
    Dice dice = new Dice(seed, kinds, fastest);
    double least = Double.MAX_VALUE;
    for (int start = 0; start < starts; start++) {
      Scenario at = dice.draw();
      double margin = margins(at)[aim];
      for (int climb = 0; climb < climbs; climb++) {
        Scenario next = dice.change(at);
        double there = margins(next)[aim];
        if (there <= margin) {
          at = next;
          margin = there;
        }
      }
      least = Math.min(least, margin);
    }
    return least;
  }

  private double[] margins(Scenario scenario) {
    List<Check> checks = judges.apply(setup, scenario);
    player.apply(setup, scenario).play(checks);
    return checks.stream().mapToDouble(Check::margin).toArray();
  }

  private static int worst(double[] margins) {
    int worst = 0;
    for (int i = 1; i < margins.length; i++) {
      worst = margins[i] < margins[worst] ? i : worst;
    }
    return worst;
  }

  /** Leaves out and halves what can be, as long as the same invariant breaks. */
  private Scenario shrink(Scenario from, int broken) {
    Scenario least = from;
    boolean smaller = true;
    while (smaller) {
      smaller = false;
      for (Scenario next : simpler(least)) {
        if (margins(next)[broken] < 0) {
          least = next;
          smaller = true;
          break;
        }
      }
    }
    return least;
  }

  private static List<Scenario> simpler(Scenario s) {
    List<Scenario> all = new ArrayList<>();
    for (int i = 0; i < s.troubles().size(); i++) {
      all.add(new Scenario(s.seed(), s.feed(), s.rest(), without(s.troubles(), i)));
    }
    for (int i = 0; i < s.rest().size(); i++) {
      all.add(new Scenario(s.seed(), s.feed(), without(s.rest(), i), s.troubles()));
    }
    for (int i = 0; i < s.feed().size(); i++) {
      all.add(new Scenario(s.seed(), without(s.feed(), i), s.rest(), s.troubles()));
    }
    if (s.seed() != 0) {
      all.add(new Scenario(0, s.feed(), s.rest(), s.troubles()));
    }
    for (int i = 0; i < s.troubles().size(); i++) {
      Trouble t = s.troubles().get(i);
      int from = round(t.fromMs());
      int duration = round(t.forMs());
      double size = Math.rint(t.size() * 10) / 10;
      boolean allowed = size >= t.kind().least && size <= t.kind().most;
      Trouble rounder =
          new Trouble(t.kind(), t.afterStop(), from, duration, allowed ? size : t.size());
      if (!rounder.equals(t)) {
        all.add(new Scenario(s.seed(), s.feed(), s.rest(), with(s.troubles(), i, rounder)));
      }
    }
    for (int i = 0; i < s.feed().size(); i++) {
      Move rounder = round(s.feed().get(i));
      if (!rounder.equals(s.feed().get(i))) {
        all.add(new Scenario(s.seed(), with(s.feed(), i, rounder), s.rest(), s.troubles()));
      }
    }
    for (int i = 0; i < s.rest().size(); i++) {
      Move rounder = round(s.rest().get(i));
      if (!rounder.equals(s.rest().get(i))) {
        all.add(new Scenario(s.seed(), s.feed(), with(s.rest(), i, rounder), s.troubles()));
      }
    }
    return all;
  }

  private static Move round(Move move) {
    return new Move(round(move.forMs()), 100 * Math.round(move.micronsPerSecond() / 100f));
  }

  /** To 100 ms, or to 10 ms below that. */
  private static int round(int ms) {
    int to = ms >= 100 ? 100 : 10;
    return Math.max(5, to * Math.round((float) ms / to));
  }

  private static <T> List<T> without(List<T> list, int i) {
    List<T> less = new ArrayList<>(list);
    less.remove(i);
    return less;
  }

  private static <T> List<T> with(List<T> list, int i, T item) {
    List<T> other = new ArrayList<>(list);
    other.set(i, item);
    return other;
  }
}
