package org.stopwell.harness.stops;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.stopwell.harness.plan.StopPlan;
import org.stopwell.harness.protocol.Order;

/**
 * The order of the trials of a plan as latin squares: every operator tries every device at every
 * setting equally often in every place of a tooth, and after every other. One operator works on one
 * tooth.
 */
public final class StopSchedule {
  private StopSchedule() {}

  /**
   * What a plan lacks for a schedule.
   *
   * @param plan the plan
   * @return one sentence each; none where a schedule can be made
   */
  public static List<String> missing(StopPlan plan) {
    List<String> missing = new ArrayList<>();
    Map.of("devices", plan.devices(), "operators", plan.operators(), "teeth", plan.teeth())
        .forEach(
            (key, codes) -> {
              if (codes.isEmpty()) {
                missing.add(key + ": missing; a schedule needs the list of its codes");
              }
            });
    if (missing.isEmpty()) {
      int square = square(plan);
      if (plan.teeth().size() % square != 0) {
        missing.add(
            "teeth: "
                + plan.teeth().size()
                + " teeth, must be a multiple of "
                + square
                + ": a latin square of "
                + places(plan)
                + " devices at settings takes "
                + Order.LATIN_SQUARE.period(places(plan))
                + " teeth of each of "
                + plan.operators().size()
                + " operators");
      }
      if (plan.trials() > 0 && plan.trials() != plan.teeth().size()) {
        missing.add(
            "trials: "
                + plan.trials()
                + ", must be the number of teeth, "
                + plan.teeth().size()
                + ": a schedule tries each device at each setting once on each tooth");
      }
    }
    missing.sort(Comparator.naturalOrder());
    return missing;
  }

  private static int places(StopPlan plan) {
    return plan.devices().size() * plan.standoffMicrons().size();
  }

  private static int square(StopPlan plan) {
    return plan.operators().size() * Order.LATIN_SQUARE.period(places(plan));
  }

  /**
   * The table to be filled in.
   *
   * @param plan a plan that lacks nothing
   * @param shown the code of each device
   * @return lines of CSV: the header, then one row for each trial in its order
   */
  public static List<String> rows(StopPlan plan, UnaryOperator<String> shown) {
    List<String> lines = new ArrayList<>();
    lines.add(String.join(",", StopTable.COLUMNS) + ",order");
    List<String> settings = List.copyOf(plan.standoffMicrons().keySet());
    int operators = plan.operators().size();
    int order = 1;
    for (int i = 0; i < plan.teeth().size(); i++) {
      int[] places = Order.LATIN_SQUARE.of(i / operators, places(plan), plan.seed());
      for (int place : places) {
        lines.add(
            String.join(
                ",",
                plan.teeth().get(i),
                shown.apply(plan.devices().get(place / settings.size())),
                "",
                plan.operators().get(i % operators),
                settings.get(place % settings.size()),
                "",
                "",
                "",
                "",
                "",
                "",
                Integer.toString(order)));
        order++;
      }
    }
    return lines;
  }
}
