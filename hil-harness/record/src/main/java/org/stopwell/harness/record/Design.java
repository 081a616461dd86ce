package org.stopwell.harness.record;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.budget.StopBudget;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.SettingsGroup;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.StatisticsReader;
import org.stopwell.harness.plan.WeightsSource;
import org.stopwell.harness.stats.StatisticsChoice;
import org.stopwell.harness.trial.PlannedFault;

/**
 * The checked values of a plan that evidence and report need beside conditions, claims and
 * protocol. A run file keeps them as they were when the run began, so that no later program reads
 * the plan again.
 *
 * @param analysis the statistics that the plan asks for; empty only for a run file before version 3
 *     whose choice this program cannot read
 * @param told the settings by condition, where levels of the plan replace values of the settings
 *     file
 * @param faults what goes wrong on purpose, by condition
 * @param budget what the uncertainty budget takes from the scene
 * @param weights the weights that its controllers read by
 * @param devices the device under test by condition, where the controller is no part of this
 *     program; none for a run that was measured elsewhere, whose conditions name the device
 * @param kept whether the run file keeps it; false for one before version 3, which holds the plan
 *     as text alone
 * @param unread why this program cannot read the plan of a run file before version 3; empty where
 *     nothing is missing
 */
public record Design(
    Optional<StatisticsChoice> analysis,
    List<Told> told,
    Map<String, List<PlannedFault>> faults,
    Optional<StopBudget.Basis> budget,
    List<Weights> weights,
    Map<String, Device> devices,
    boolean kept,
    String unread) {
  /** The default statistics, and one way to tell the controller. */
  public static final Design PLAIN =
      new Design(
          Optional.of(StatisticsChoice.DEFAULT),
          List.of(),
          Map.of(),
          Optional.empty(),
          List.of(),
          Map.of(),
          true,
          "");

  /**
   * Weights that controllers of the run read by.
   *
   * @param name the file as the settings name it, {@link WeightsSource#SHIPPED} for those that came
   *     with the program
   * @param fingerprint of all their numbers
   * @param recipe what they were fitted from
   * @param text the file word for word; empty for those that came with the program
   */
  public record Weights(String name, String fingerprint, String recipe, String text) {
    /**
     * What stands for them.
     *
     * @return one line
     */
    public String words() {
      return name + ", " + fingerprint + ": " + recipe;
    }
  }

  /**
   * The conditions with the same settings of the controller.
   *
   * @param conditions their names, by the levels' own names
   * @param stage stage of work
   * @param fingerprint of all values of the settings
   * @param changes each value that is not as in the settings file, in words
   */
  public record Told(
      List<String> conditions, Stage stage, String fingerprint, List<String> changes) {
    /** Takes copies. */
    public Told {
      conditions = List.copyOf(conditions);
      changes = List.copyOf(changes);
    }

    /**
     * What differs from the settings file.
     *
     * @return a few words
     */
    public String changeWords() {
      return changes.isEmpty() ? "as in the settings" : String.join("; ", changes);
    }
  }

  /** Takes copies, in the order of the plan. */
  public Design {
    told = List.copyOf(told);
    weights = List.copyOf(weights);
    faults = new LinkedHashMap<>(faults);
    devices = Collections.unmodifiableMap(new LinkedHashMap<>(devices));
  }

  /**
   * A design whose controllers read by no weights.
   *
   * @param analysis the statistics that the plan asks for
   * @param told the settings by condition
   * @param faults what goes wrong on purpose, by condition
   * @param budget what the uncertainty budget takes from the scene
   * @param kept whether the run file keeps it
   * @param unread why this program cannot read the plan
   */
  public Design(
      Optional<StatisticsChoice> analysis,
      List<Told> told,
      Map<String, List<PlannedFault>> faults,
      Optional<StopBudget.Basis> budget,
      boolean kept,
      String unread) {
    this(analysis, told, faults, budget, List.of(), Map.of(), kept, unread);
  }

  /**
   * The design of a plan.
   *
   * @param plan the plan
   * @return its values
   */
  public static Design of(Plan plan) {
    return of(plan, true);
  }

  private static Design of(Plan plan, boolean kept) {
    List<SettingsGroup> all = SettingsGroup.of(plan);
    boolean alike = all.size() == 1 && all.get(0).changes().isEmpty();
    List<Told> told = new ArrayList<>();
    for (SettingsGroup one : alike ? List.<SettingsGroup>of() : all) {
      told.add(
          new Told(
              one.conditions(),
              one.stage(),
              one.fingerprint(),
              one.changes().stream().map(SettingsGroup.Change::words).toList()));
    }
    Map<String, List<PlannedFault>> faults = new LinkedHashMap<>();
    plan.plannedConditions().stream()
        .filter(c -> !c.faults().isEmpty())
        .forEach(c -> faults.put(c.name(), c.faults()));
    Map<String, Device> devices = new LinkedHashMap<>();
    plan.plannedConditions().forEach(c -> c.device().ifPresent(d -> devices.put(c.name(), d)));
    return new Design(
        Optional.of(plan.analysis()),
        told,
        faults,
        Optional.of(StopBudget.Basis.of(plan)),
        WeightsSource.of(plan).stream()
            .map(
                w ->
                    new Weights(
                        w.name(),
                        w.weights().fingerprintText(),
                        w.weights().origin().recipe(),
                        w.text()))
            .toList(),
        devices,
        kept,
        "");
  }

  /**
   * The design of a run file before version 3, which holds the plan as text alone.
   *
   * @param plan the plan, word for word
   * @param settings the settings, word for word
   * @return its values, as far as this program reads them
   */
  static Design recorded(String plan, String settings) {
    Source source = new Source("the recorded plan", OlderWords.renewed(plan));
    try {
      return of(
          Plan.read(
              source, new Source("the recorded settings", OlderWords.renewed(settings), Map.of())),
          false);
    } catch (PlanException e) {
      Optional<StatisticsChoice> analysis = Optional.empty();
      String unread = e.mistakes().get(0).toString();
      try {
        analysis = Optional.of(StatisticsReader.read(source));
      } catch (PlanException choice) {
        unread = choice.mistakes().get(0).toString();
      }
      return new Design(analysis, List.of(), Map.of(), Optional.empty(), false, unread);
    }
  }
}
