package org.stopwell.harness.advice;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import org.stopwell.harness.plan.Device;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.Decider;
import org.stopwell.rig.bench.DeviceWatch;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.device.DeviceFault;

/** What a plan needs from a bench. A bench without it is refused before anything moves. */
public final class BenchNeeds {
  private BenchNeeds() {}

  /**
   * What a plan needs and a bench cannot do.
   *
   * @param plan the plan
   * @param bench the bench, open
   * @return one line for each lack; empty when the bench has everything
   */
  public static List<String> missing(Plan plan, Bench bench) {
    List<String> missing = new ArrayList<>();
    Optional<DeviceWatch> watch = bench.deviceWatch();
    for (Lack lack : bench.lacks()) {
      boolean needed =
          switch (lack.ability()) {
            case STAGE -> wantsStage(plan);
            case TOOTH -> !plan.teeth().isEmpty();
            case MOTOR, POSITION, TRUTH -> !plan.isExternal();
            case DEVICE -> plan.isExternal();
          };
      if (needed) {
        missing.add(need(lack.ability()) + ", but " + lack.clause());
      }
    }
    if (plan.isExternal() && watch.isEmpty() && missing.isEmpty()) {
      Lack lack = new Lack(Ability.DEVICE, "the bench " + bench.describe().kind());
      missing.add(need(lack.ability()) + ", but " + lack.clause());
    }
    List<String> known = watch.map(DeviceWatch::models).orElse(List.of());
    plan.plannedConditions().stream()
        .flatMap(condition -> condition.device().stream())
        .map(Device::model)
        .distinct()
        .filter(model -> !known.isEmpty() && !known.contains(model))
        .forEach(
            model ->
                missing.add(
                    "device.model: "
                        + model
                        + " is no simulated device; the bench "
                        + bench.describe().kind()
                        + " has "
                        + String.join(", ", known)));
    Set<DeviceFault> playable = watch.map(DeviceWatch::playable).orElse(Set.of());
    plan.plannedConditions().stream()
        .flatMap(condition -> condition.faults().stream())
        .map(fault -> fault.injection().kind())
        .distinct()
        .filter(kind -> !kind.ofController())
        .filter(kind -> kind.ofDevice().filter(playable::contains).isEmpty())
        .forEach(
            kind ->
                missing.add(
                    "faults: "
                        + kind.key()
                        + " needs a simulated device; the bench "
                        + bench.describe().kind()
                        + " cannot play it. Use --bench virtual or --bench emulated"));
    bench.decider().ifPresent(boards -> missing.addAll(boards(plan, boards)));
    if (plan.drawsCanals() && !bench.describe().simulated()) {
      missing.add(
          "draw: population draws canals of the virtual bench, but this bench is hardware; state"
              + " the canal under scene");
    }
    return missing;
  }

  /** A board holds one settings file: conditions with other settings need another board. */
  private static List<String> boards(Plan plan, Decider boards) {
    Map<Long, List<PlannedCondition>> bySettings =
        plan.plannedConditions().stream()
            .collect(
                Collectors.groupingBy(
                    condition -> condition.settings().controller().fingerprint(),
                    LinkedHashMap::new,
                    Collectors.toList()));
    List<String> missing = new ArrayList<>();
    for (List<PlannedCondition> alike : bySettings.values()) {
      boards
          .lack(alike.get(0).settings().controller())
          .ifPresent(
              why ->
                  missing.add(
                      "condition "
                          + alike.stream()
                              .map(PlannedCondition::name)
                              .collect(Collectors.joining(", "))
                          + ": "
                          + why
                          + (bySettings.size() > 1
                              ? ". The conditions of this plan need "
                                  + bySettings.size()
                                  + " boards: export with --plan and --condition, and name their"
                                  + " ports with commas between them (--port A,B)"
                              : "")));
    }
    return missing;
  }

  private static boolean wantsStage(Plan plan) {
    return plan.plannedConditions().stream()
        .map(condition -> condition.scene().getOrDefault("hand", Map.of()))
        .anyMatch(hand -> "stage".equals(hand.get("motion")));
  }

  private static String need(Ability ability) {
    return switch (ability) {
      case MOTOR -> "stage: a trial turns the file";
      case POSITION -> "settings: the controller needs the position of the tip";
      case TRUTH -> "tolerance_mm: the verdict needs the true distance";
      case STAGE -> "scene.hand.motion: stage feeds the file";
      case DEVICE -> "controller: external watches a device with a motor of its own";
      case TOOTH -> "teeth: the plan reads extracted teeth";
    };
  }
}
