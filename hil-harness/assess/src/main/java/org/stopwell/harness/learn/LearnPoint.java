package org.stopwell.harness.learn;

import java.util.List;
import java.util.TreeMap;

/**
 * One point of the curve over the number of teeth.
 *
 * @param teeth how many teeth were taught
 * @param stopped decisions to stop in other teeth
 * @param within how many of them were within 0.5 mm of the standoff
 * @param past how many of them were past the foramen
 * @param squares sum of the squared errors of the stops, mm²
 */
public record LearnPoint(int teeth, int stopped, int within, int past, double squares) {
  static LearnPoint of(int teeth, List<DecidingReading> decisions) {
    int stopped = 0;
    int within = 0;
    int past = 0;
    double squares = 0;
    for (DecidingReading d : decisions) {
      if (d.stopped()) {
        stopped++;
        within += d.within() ? 1 : 0;
        past += d.past() ? 1 : 0;
        squares += d.offMm() * d.offMm();
      }
    }
    return new LearnPoint(teeth, stopped, within, past, squares);
  }

  /** Draws of the same number of teeth together; fewest teeth first. */
  static List<LearnPoint> merged(List<LearnPoint> points) {
    TreeMap<Integer, LearnPoint> byTeeth = new TreeMap<>();
    for (LearnPoint p : points) {
      byTeeth.merge(
          p.teeth,
          p,
          (a, b) ->
              new LearnPoint(
                  a.teeth,
                  a.stopped + b.stopped,
                  a.within + b.within,
                  a.past + b.past,
                  a.squares + b.squares));
    }
    return List.copyOf(byTeeth.values());
  }

  /**
   * Share of the stops within 0.5 mm of the standoff.
   *
   * @return 0 to 1
   */
  public double share() {
    return stopped == 0 ? 0 : within / (double) stopped;
  }

  /**
   * Root mean square error of the stops.
   *
   * @return mm
   */
  public double rmsMm() {
    return stopped == 0 ? 0 : Math.sqrt(squares / stopped);
  }
}
