package org.stopwell.harness.learn;

import java.util.List;
import java.util.Optional;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/**
 * What the teeth left out say of one fluid.
 *
 * @param fluid its name; "all" for all of them
 * @param approaches how many approaches
 * @param stopped in how many a stop was decided
 * @param within how many of these within 0.5 mm of the standoff
 * @param past how many of these past the foramen
 * @param teeth in how many teeth a stop was decided
 * @param good in how many of these every stop was within 0.5 mm
 * @param untaught share within 0.5 mm of the stops by the weights of the start
 */
public record LearnFluid(
    String fluid,
    int approaches,
    int stopped,
    int within,
    int past,
    int teeth,
    int good,
    double untaught) {
  /**
   * The row as text.
   *
   * @return fluid, approaches, stopped, within, past, within before teaching
   */
  public List<String> cells() {
    return List.of(
        fluid,
        Integer.toString(approaches),
        Integer.toString(stopped),
        LearnResult.percent(share(within, stopped)) + interval(this),
        LearnResult.percent(share(past, stopped)),
        LearnResult.percent(untaught));
  }

  /** The exact interval of the share of good teeth, as text. */
  private static String interval(LearnFluid f) {
    Optional<Interval> i =
        new Proportion(f.good(), f.teeth()).clopperPearson(LearnResult.CONFIDENCE);
    return i.map(
            v ->
                " ["
                    + LearnResult.percent(v.low())
                    + " to "
                    + LearnResult.percent(v.high())
                    + ", "
                    + f.good()
                    + "/"
                    + f.teeth()
                    + "]")
        .orElse("");
  }

  private static double share(int count, int of) {
    return of == 0 ? 0 : count / (double) of;
  }
}
