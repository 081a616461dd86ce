package org.stopwell.harness.claim;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.harness.protocol.Protocol;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.TrialResult;

/**
 * Which trials share a canal, so that they are not independent of each other. A drawn canal is
 * shared by all conditions: the trials of all of them count in it.
 *
 * @param canalTrials trials of each condition that share one drawn canal; 1 when each has its own
 * @param commonCanals whether all conditions work on the same drawn canals
 * @param choice the factors of the plan; the first of its groups, if any, is what trials share
 * @param byTooth whether trials on one tooth are repeats, as with a device of its own
 * @param canals the canal, or the tooth, of each trial that was run, by the trial's index
 */
public record Repeats(
    int canalTrials,
    boolean commonCanals,
    StatisticsChoice choice,
    boolean byTooth,
    Map<Integer, String> canals) {
  /** Every trial has a canal of its own. */
  public static final Repeats NONE =
      new Repeats(1, false, StatisticsChoice.DEFAULT, false, Map.of());

  /** Takes a copy. */
  public Repeats {
    canals = Map.copyOf(canals);
  }

  /**
   * How trials of a plan share canals.
   *
   * @param protocol its protocol
   * @param choice the statistics that it asks for
   * @return without trials yet
   */
  public static Repeats of(Protocol protocol, StatisticsChoice choice) {
    return new Repeats(protocol.canalTrials(), protocol.commonCanals(), choice, false, Map.of());
  }

  /**
   * The same where trials on one tooth are repeats.
   *
   * @return with one number for each tooth
   */
  public Repeats ofTeeth() {
    return new Repeats(canalTrials, commonCanals, choice, true, canals);
  }

  /**
   * What counts as one number.
   *
   * @return canal, tooth, or level of a factor
   */
  public String one() {
    return clustering(1).words();
  }

  /**
   * Whether trials share canals at all.
   *
   * @return false when every trial stands for itself
   */
  public boolean any() {
    return byTooth || canalTrials > 1 || commonCanals || !choice.groups().isEmpty();
  }

  /**
   * Whether trials share drawn canals, one canal after the other in run order.
   *
   * @return false when each has its own, and when they share levels of a factor
   */
  public boolean canalAfterCanal() {
    return !byTooth && (canalTrials > 1 || commonCanals) && choice.groups().isEmpty();
  }

  /** What so many clusters share. */
  Basis.Clustering clustering(int clusters) {
    return new Basis.Clustering(
        clusters,
        byTooth ? Basis.Clustering.TOOTH : choice.groups().isEmpty() ? "" : choice.groups().get(0));
  }

  /**
   * The canal of a condition's trial.
   *
   * @param condition name of the condition
   * @param number how many trials of the condition come before it
   * @return a name for the canal
   */
  public String canal(String condition, int number) {
    return choice.groups().isEmpty()
        ? Integer.toString(number / canalTrials)
        : choice.level(condition, choice.groups().get(0));
  }

  /**
   * The canal of a trial that was run.
   *
   * @param trial one of those given to {@link #over}
   * @return a name for the canal
   */
  public String canal(TrialResult trial) {
    return canals.getOrDefault(trial.index(), "");
  }

  /**
   * The same over some trials.
   *
   * @param trials every trial that was run, without sentinels, in run order
   * @return with the canal of each
   */
  public Repeats over(List<TrialResult> trials) {
    if (!any()) {
      return this;
    }
    Map<String, Integer> before = new HashMap<>();
    Map<Integer, String> found = new HashMap<>();
    for (TrialResult t : trials) {
      int number = before.merge(t.condition(), 1, Integer::sum) - 1;
      found.put(t.index(), byTooth ? t.device().tooth() : canal(t.condition(), number));
    }
    return new Repeats(canalTrials, commonCanals, choice, byTooth, found);
  }
}
