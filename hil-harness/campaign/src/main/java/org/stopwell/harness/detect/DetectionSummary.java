package org.stopwell.harness.detect;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import org.stopwell.harness.stats.Numbers;
import org.stopwell.harness.stats.Proportion;

/**
 * The smallest defects that a plan detects.
 *
 * @param plan name of the plan
 * @param trials trials of one campaign
 * @param campaigns campaigns for each size of a defect
 * @param alarms campaigns with a sound controller that did not pass
 * @param findings what was found for each kind of defect
 */
public record DetectionSummary(
    String plan, int trials, int campaigns, Proportion alarms, List<Detection.Finding> findings) {
  /** Takes a copy. */
  public DetectionSummary {
    findings = List.copyOf(findings);
  }

  /**
   * For people.
   *
   * @param out receives the lines
   */
  public void print(Consumer<String> out) {
    out.accept(
        plan + ": " + campaigns + " campaigns of " + trials + " trials for each size, simulated");
    out.accept(
        "A sound controller raises an alarm in "
            + alarms.count()
            + " of "
            + alarms.trials()
            + " (with 95 % confidence at most "
            + Numbers.upperPercent(alarms.upperBound(0.95))
            + ").");
    if (alarms.count() == alarms.trials()) {
      out.accept("A sound controller never passes this plan, so the plan detects nothing.");
      return;
    }
    for (Detection.Finding f : findings) {
      out.accept("  " + f.kind().text() + ": " + sentence(f));
    }
  }

  /**
   * What was found for one kind of defect.
   *
   * @param f the finding
   * @return the result in words, without the kind
   */
  public static String sentence(Detection.Finding f) {
    String missed =
        f.missed()
            .map(
                t ->
                    (f.kind().sizes().size() == 1
                            ? ""
                            : "missed at " + f.kind().size(t.size()) + ", ")
                        + "detected in "
                        + t.noticed().count()
                        + " of "
                        + t.noticed().trials()
                        + " campaigns")
            .orElse("");
    Optional<Detection.Tried> smallest = f.smallest();
    if (smallest.isEmpty()) {
      return "NOT DETECTED ("
          + missed
          + ")"
          + f.missed()
              .flatMap(Detection.Tried::effect)
              .map(e -> "\n" + why(f.kind(), e))
              .orElse("");
    }
    Detection.Tried t = smallest.get();
    String size = f.kind().size(t.size());
    return (size.isEmpty() ? "detected" : "detected from " + size + " on")
        + ", "
        + t.noticed().count()
        + " of "
        + t.noticed().trials()
        + ", at least "
        + Numbers.lowerPercent(t.noticed().lowerBound(0.95))
        + (missed.isEmpty() ? "" : "; " + missed);
  }

  /** The effect of a missed defect on the trials, to show what a plan would have to detect. */
  private static String why(DefectKind kind, Detection.Effect effect) {
    boolean still = effect.worstMicrons() == 0;
    String moved =
        still
            ? "no stop moved"
            : "stops moved by up to " + Numbers.plainMillimetres(effect.worstMicrons());
    boolean judged = effect.verdicts() > 0;
    return "    "
        + (judged
            ? "Tolerated by the claims of this plan"
            : still ? "Harmless under this plan" : "Within the tolerance of this plan")
        + ": in the campaign that missed it, "
        + moved
        + "\n    and "
        + (judged
            ? "verdict or cause changed in " + effect.verdicts() + " of "
            : "no verdict or cause changed in ")
        + effect.trials()
        + " trials. To detect it, a plan needs\n    "
        + kind.needs()
        + (judged ? ", or more trials." : ".");
  }

  /**
   * For machines.
   *
   * @return the values of a JSON object
   */
  public Map<String, Object> values() {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("plan", plan);
    all.put("simulated", true);
    all.put("campaigns", campaigns);
    all.put("trials", trials);
    all.put("false_alarms", alarms.count());
    all.put("false_alarms_upper_95", alarms.upperBound(0.95).orElse(1));
    List<Map<String, Object>> kinds = new ArrayList<>();
    for (Detection.Finding f : findings) {
      Map<String, Object> one = new LinkedHashMap<>();
      one.put("kind", f.kind().name());
      one.put("meaning", f.kind().text());
      f.smallest()
          .ifPresent(
              t -> {
                one.put("noticed_from", t.size());
                one.put("noticed", t.noticed().count());
                one.put("of", t.noticed().trials());
                one.put("lower_95", t.noticed().lowerBound(0.95).orElse(0));
              });
      f.missed()
          .ifPresent(
              t -> {
                one.put("missed", t.size());
                t.effect()
                    .ifPresent(
                        e -> {
                          one.put("missed_trials", e.trials());
                          one.put("missed_verdicts_changed", e.verdicts());
                          one.put("missed_largest_shift_um", e.worstMicrons());
                        });
              });
      kinds.add(one);
    }
    all.put("kinds", kinds);
    return all;
  }
}
