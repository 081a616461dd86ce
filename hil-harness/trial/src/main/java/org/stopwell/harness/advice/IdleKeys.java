package org.stopwell.harness.advice;

import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.harness.plan.Plan;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;

/**
 * Keys of a plan that have no effect on hardware: its front end, its motor and its hand are what
 * they are. Such a plan still runs, because the same plan may run on a simulated bench too.
 */
public final class IdleKeys {
  private static final Set<String> FRONT_END =
      Stream.concat(Stream.of(FrontEndSection.SIGNAL), FrontEndSection.FREQUENCIES.stream())
          .map(Parameter::key)
          .collect(Collectors.toSet());

  /** What a driven stage follows, and what it refuses where it cannot. */
  private static final Set<String> STAGE =
      Stream.of(
              HandSection.MOTION,
              HandSection.FEED,
              HandSection.START_ABOVE,
              HandSection.PASSIVE_DEPTH,
              HandSection.AFTER_STOP,
              HandSection.PUSH_THROUGH,
              HandSection.EMERGENCY_STOP)
          .map(Parameter::key)
          .collect(Collectors.toSet());

  private static final String MOTION = HandSection.MOTION.key();

  private IdleKeys() {}

  /**
   * Which written keys have no effect.
   *
   * @param plan the plan
   * @param bench the bench, open
   * @return one line that names them; empty when all have an effect, and on every simulated bench
   */
  public static String of(Plan plan, Bench bench) {
    if (bench.describe().simulated()) {
      return "";
    }
    Set<String> idle = new TreeSet<>();
    plan.plannedConditions()
        .forEach(
            condition ->
                Stream.of("front_end", "motor", "hand")
                    .forEach(
                        section -> {
                          Map<String, String> written =
                              condition.scene().getOrDefault(section, Map.of());
                          Stream.concat(
                                  written.keySet().stream(),
                                  plan.variedKeys().stream()
                                      .filter(name -> name.startsWith(section + "."))
                                      .map(name -> name.substring(section.length() + 1)))
                              .filter(key -> isIdle(plan, section, key, written))
                              .forEach(key -> idle.add(section + "." + key));
                        }));
    return idle.isEmpty()
        ? ""
        : String.join(", ", idle)
            + ": no effect on this bench, whose front end, motor and hand are hardware";
  }

  private static boolean isIdle(
      Plan plan, String section, String key, Map<String, String> written) {
    return switch (section) {
      case "front_end" -> !FRONT_END.contains(key);
      case "motor" -> true;
      default -> !plan.isExternal() && !(isStage(written) && STAGE.contains(key));
    };
  }

  private static boolean isStage(Map<String, String> hand) {
    return HandMotion.STAGE.name().equalsIgnoreCase(hand.get(MOTION));
  }
}
