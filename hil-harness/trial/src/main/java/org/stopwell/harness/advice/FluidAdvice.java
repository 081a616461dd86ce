package org.stopwell.harness.advice;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Consumer;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalKind;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.fluid.FillLimit;

/**
 * States whether the level of the fluid suits a reading, and nothing else: the tip must be wet
 * before the file slows down, and the chamber dry until the file has stopped.
 */
final class FluidAdvice {
  /** Number of trials of a condition that are examined, because drawn values differ. */
  private static final int LOOKED_AT = 25;

  private static final double STEP_MM = 0.05;

  /** Lower limit of a conducting fluid, S/m: tap water is below it, saline has 1.6; assumed. */
  private static final double POOR = 0.1;

  private FluidAdvice() {}

  /** The approach to the standoff in one canal. */
  private record Approach(double floodsAtMm, double wetFromMm, FillLimit limit, boolean poor) {}

  static void print(Settings settings, Consumer<String> out) {
    for (Stage stage : Stage.values()) {
      if (settings.controller().has(stage)) {
        out.accept("  " + word(stage) + ": " + stageAlone(settings.controller().stage(stage)));
      }
    }
  }

  private static String stageAlone(ParameterValues stage) {
    if (stopsByReading(stage)) {
      return "stops by the reading; needs a wet apical part of the canal and a dry chamber, see"
          + " stopwell fluid";
    }
    long depth = stage.get(StageParameters.DEPTH_LIMIT);
    return "does not stop by the reading: the apical reaction is off by intent (apical: none), because"
        + " a canal filled to the orifice gives no valid reading; "
        + (depth > 0
            ? "the depth axis stops it at "
                + StageParameters.DEPTH_LIMIT.human(depth)
                + " mm (a chosen depth, or a measured length less a set distance)"
            : "nothing stops it at the foramen");
  }

  private static boolean stopsByReading(ParameterValues stage) {
    return !stage.choice(StageParameters.APICAL).equals(StageParameters.NONE);
  }

  static void print(Plan plan, Consumer<String> out) {
    Map<String, List<String>> conditions = new LinkedHashMap<>();
    for (PlannedCondition condition : plan.plannedConditions()) {
      conditions
          .computeIfAbsent(sentence(plan, condition), s -> new ArrayList<>())
          .add(condition.name());
    }
    conditions.forEach(
        (sentence, names) -> {
          boolean all = names.size() == plan.plannedConditions().size() && names.size() > 1;
          String who = all ? "all " + names.size() + " conditions" : String.join(", ", names);
          out.accept("  " + who + ": " + sentence);
        });
  }

  private static String sentence(Plan plan, PlannedCondition condition) {
    ParameterValues stage = condition.settings().controller().stage(condition.stage());
    List<Scene> scenes = new ArrayList<>();
    for (int i = 0; i < plan.trials() && scenes.size() < LOOKED_AT; i++) {
      TrialSpec trial = plan.trial(i);
      if (trial.condition().equals(condition.name())) {
        scenes.add(trial.scene());
      }
    }
    if (CanalSection.kind(scenes.get(0).section("canal")) == CanalKind.RESISTORS) {
      return "a resistor network, without fluid";
    }
    if (!stopsByReading(stage)) {
      return stageAlone(stage);
    }
    double standoffMm = stage.get(StageParameters.STANDOFF) * 1e-3;
    double easeMm = standoffMm + stage.get(StageParameters.EASE) * 1e-3;
    List<Approach> all = scenes.stream().map(scene -> approach(scene, standoffMm)).toList();
    List<Approach> floods = all.stream().filter(a -> a.floodsAtMm > 0).toList();
    List<Approach> dry = all.stream().filter(a -> !(a.wetFromMm >= easeMm)).toList();
    String verdict;
    boolean suits = floods.isEmpty() && dry.isEmpty();
    if (!floods.isEmpty()) {
      verdict = share(floods, all) + flooded(floods);
    } else if (!dry.isEmpty()) {
      verdict = share(dry, all) + dryTip(dry.get(0), easeMm);
    } else {
      verdict = fine(all);
    }
    // At the depth limit of an axis the reading decides nothing.
    boolean otherwise =
        condition.expectation() != Expectation.DEPTH_LIMIT
            && !condition.expectation().mayRefuse()
            && suits == (condition.expectation() == Expectation.REFUSE);
    return verdict
        + (all.get(0).poor ? "; the fluid conducts little; only the level was examined" : "")
        + (otherwise ? "; the plan expects otherwise" : "");
  }

  private static Approach approach(Scene scene, double standoffMm) {
    double lengthMm = Canal.lengthMicrons(scene.section("canal")) * 1e-3;
    double floodsAt = 0;
    double wetFrom = Double.NEGATIVE_INFINITY;
    FillLimit limit = limit(scene, standoffMm);
    for (double mm = lengthMm; mm > standoffMm; mm -= STEP_MM) {
      double level = limit(scene, mm).levelAfter() * 1e3;
      if (floodsAt == 0 && level > lengthMm + 1e-6) {
        floodsAt = mm;
      }
      if (wetFrom < 0 && level >= mm) {
        wetFrom = mm;
      }
    }
    boolean poor = FluidSection.siemensPerMetre(scene.section("fluid")) < POOR;
    return new Approach(floodsAt, wetFrom, limit, poor);
  }

  private static FillLimit limit(Scene scene, double remainingMm) {
    return FillLimit.of(
        scene.section("canal"), scene.section("fluid"), scene.section("file"), remainingMm * 1e-3);
  }

  private static String share(List<Approach> some, List<Approach> all) {
    return some.size() == all.size()
        ? ""
        : "in " + some.size() + " of " + all.size() + " trials examined ";
  }

  private static String flooded(List<Approach> floods) {
    double first = floods.stream().mapToDouble(Approach::floodsAtMm).max().orElseThrow();
    double most = floods.stream().mapToDouble(a -> a.limit.highestDry()).min().orElseThrow();
    double remove = floods.stream().mapToDouble(a -> a.limit.toRemove()).max().orElseThrow();
    return text(
        "the chamber floods at %.1f mm short of the foramen; current can flow around the canal. Fill"
            + " to at most %.1f mm, or remove %.1f mm³ (flat-level estimate, see stopwell fluid)",
        first, most * 1e3, remove * 1e9);
  }

  private static String dryTip(Approach dry, double easeMm) {
    return dry.wetFromMm < 0
        ? "the tip meets no fluid before the standoff; no reading is possible"
        : text(
            "the tip is wet only from %.1f mm on, but the file must slow down at %.1f mm;"
                + " the reading comes too late",
            dry.wetFromMm, easeMm);
  }

  private static String fine(List<Approach> all) {
    double wet = all.stream().mapToDouble(Approach::wetFromMm).min().orElseThrow();
    double margin =
        all.stream()
            .mapToDouble(a -> a.limit.highestDry() - a.limit.levelBefore())
            .min()
            .orElseThrow();
    return text(
        "the tip is wet from %.1f mm short of the foramen on and the chamber stays dry,"
            + " with a margin of %.1f mm (flat-level estimate); the level suits a reading",
        wet, margin * 1e3);
  }

  private static String word(Stage stage) {
    return stage.name().toLowerCase(Locale.ROOT);
  }

  private static String text(String format, Object... values) {
    return String.format(Locale.ROOT, format, values);
  }
}
