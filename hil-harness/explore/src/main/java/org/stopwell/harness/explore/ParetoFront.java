package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.stats.Proportion;

/**
 * Points of the settings that no other point beats: none is at most as bad in over-travel, early
 * stops and time, and better in one of them. All points met the same canals.
 */
public final class ParetoFront {
  /**
   * A point of the settings and what happened there.
   *
   * @param place number of the point
   * @param values its settings as people write them, in the order of the factors of the settings
   * @param overTravel trials past the foramen
   * @param early trials that stopped early
   * @param refused trials that refused
   * @param seconds mean bench time, s
   * @param onFront whether no other point beats it
   */
  public record Point(
      int place,
      List<String> values,
      Proportion overTravel,
      Proportion early,
      Proportion refused,
      double seconds,
      boolean onFront) {
    /** Takes a copy. */
    public Point {
      values = List.copyOf(values);
    }
  }

  private ParetoFront() {}

  /** Whether one point is at least as good everywhere and better somewhere. */
  static boolean beats(double[] one, double[] other) {
    boolean better = false;
    for (int i = 0; i < one.length; i++) {
      if (one[i] > other[i]) {
        return false;
      }
      better |= one[i] < other[i];
    }
    return better;
  }

  /** Which points no other beats. */
  static boolean[] front(List<double[]> points) {
    boolean[] front = new boolean[points.size()];
    for (int i = 0; i < front.length; i++) {
      double[] own = points.get(i);
      front[i] = points.stream().noneMatch(rival -> beats(rival, own));
    }
    return front;
  }

  /** All points of a summary that ran, with the front marked. */
  static List<Point> of(ExploreSummary kept, java.util.function.IntFunction<List<String>> values) {
    List<Integer> places = new ArrayList<>();
    List<double[]> objectives = new ArrayList<>();
    for (int place = 0; place < kept.shape.places(); place++) {
      double n = kept.count(place, ExploreSummary.PlaceSum.TRIALS);
      if (n > 0) {
        places.add(place);
        objectives.add(
            new double[] {
              kept.count(place, ExploreSummary.PlaceSum.OVER_TRAVEL) / n,
              kept.count(place, ExploreSummary.PlaceSum.EARLY) / n,
              kept.count(place, ExploreSummary.PlaceSum.MILLIS) / n
            });
      }
    }
    boolean[] front = front(objectives);
    List<Point> points = new ArrayList<>();
    for (int i = 0; i < front.length; i++) {
      int place = places.get(i);
      long n = kept.count(place, ExploreSummary.PlaceSum.TRIALS);
      points.add(
          new Point(
              place,
              values.apply(place),
              new Proportion(kept.count(place, ExploreSummary.PlaceSum.OVER_TRAVEL), n),
              new Proportion(kept.count(place, ExploreSummary.PlaceSum.EARLY), n),
              new Proportion(kept.count(place, ExploreSummary.PlaceSum.REFUSED), n),
              objectives.get(i)[2] / 1000,
              front[i]));
    }
    return points;
  }
}
