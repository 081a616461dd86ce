package org.stopwell.harness.stats;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Which statistics a plan asks for beside its claims.
 *
 * @param coverage where a share of all stops lies: a tolerance interval
 * @param precision bias, repeatability and, with groups, what lies between them
 * @param agreement the controller's reading against the truth when it decided
 * @param sequential bounds that hold however often one looks
 * @param marginMicrons margin of the mean stop error for two one-sided tests, µm; 0 when not asked
 * @param share share of the stops that the tolerance interval shall hold, 0 to 1 exclusive
 * @param confidence confidence of everything here, 0.5 to 1 exclusive
 * @param factors the factors of the plan in the order in which they make the name of a condition
 * @param groups those of them whose levels are a sample of many, such as canals, the outermost
 *     first
 */
public record StatisticsChoice(
    boolean coverage,
    boolean precision,
    boolean agreement,
    boolean sequential,
    int marginMicrons,
    double share,
    double confidence,
    List<String> factors,
    List<String> groups) {
  /** The default for a plan without a choice. */
  public static final StatisticsChoice DEFAULT =
      new StatisticsChoice(true, true, true, false, 0, 0.95, 0.95, List.of(), List.of());

  /** Nothing beside the claims. */
  public static final StatisticsChoice NOTHING =
      new StatisticsChoice(false, false, false, false, 0, 0.95, 0.95, List.of(), List.of());

  /**
   * Checks and closes it.
   *
   * @throws IllegalArgumentException when a share is out of its limits or a group is no factor
   */
  public StatisticsChoice {
    factors = List.copyOf(factors);
    groups = List.copyOf(groups);
    if (!(share > 0 && share < 1) || !(confidence > 0.5 && confidence < 1) || marginMicrons < 0) {
      throw new IllegalArgumentException(
          "share " + share + ", confidence " + confidence + ", margin " + marginMicrons + " µm");
    }
    if (!factors.containsAll(groups)) {
      throw new IllegalArgumentException("groups " + groups + " of factors " + factors);
    }
  }

  /**
   * The level that a group has in a condition.
   *
   * @param condition name of the condition: the levels of all factors with {@code /} between
   * @param group one of {@link #groups}
   * @return the level
   */
  public String level(String condition, String group) {
    String[] levels = condition.split("/", -1);
    int at = factors.indexOf(group);
    return at < levels.length ? levels[at] : condition;
  }

  /**
   * What is left of a condition without its groups: the levels that were chosen, not sampled.
   *
   * @param condition name of the condition
   * @return the other levels
   */
  public String fixed(String condition) {
    List<String> levels = new ArrayList<>(Arrays.asList(condition.split("/", -1)));
    for (int i = Math.min(levels.size(), factors.size()) - 1; i >= 0; i--) {
      if (groups.contains(factors.get(i))) {
        levels.remove(i);
      }
    }
    return String.join("/", levels);
  }
}
