package org.stopwell.harness.advice;

import java.util.Locale;
import java.util.function.Consumer;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.FeedLimit;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.SettingsGroup;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;

/** States up to which feed a standoff protects from over-travel, and warns of faster hands. */
final class FeedAdvice {
  /** Number of trials of a plan that are examined, because drawn values differ. */
  private static final int MOST_TRIALS = 2_000;

  private FeedAdvice() {}

  /** For settings: the hand is not known, so the limit is stated alone. */
  static void print(Settings settings, Consumer<String> out) {
    for (Stage stage : Stage.values()) {
      if (protects(settings, stage)) {
        out.accept(limit(settings, stage));
      }
    }
  }

  /** For the settings of a plan, whose scenes state the hand. */
  static void print(SettingsGroup group, Plan plan, Consumer<String> out) {
    if (!protects(group.settings(), group.stage())) {
      return;
    }
    out.accept(limit(group.settings(), group.stage()));
    FeedLimit limit = FeedLimit.of(group.settings().controller(), group.stage());
    String condition = "";
    double worst = 0;
    double limitThere = 0;
    for (int i = 0; i < Math.min(plan.trials(), MOST_TRIALS); i++) {
      TrialSpec trial = plan.trial(i);
      ParameterValues hand = trial.scene().section("hand");
      double most = limit.micronsPerSecond(hand.get(HandSection.REACTION) * 1_000_000);
      double beyond = fastest(hand) - most;
      if (group.conditions().contains(trial.condition()) && beyond > worst) {
        worst = beyond;
        limitThere = most;
        condition = trial.condition();
      }
    }
    if (worst > 0 && limitThere > 0) {
      out.accept(
          String.format(
              Locale.ROOT,
              "  %s: warning: the hand of condition %s moves at up to %.1f mm/s, above %.1f mm/s:"
                  + " over-travel is possible; feed more slowly or raise standoff_mm",
              name(group.stage()),
              condition,
              (limitThere + worst) * 1e-3,
              limitThere * 1e-3));
    }
  }

  /** Speed on the way in, µm/s: the mean feed, and what strokes add to it. */
  private static double fastest(ParameterValues hand) {
    double feed = hand.get(HandSection.FEED);
    boolean pecks = HandSection.motion(hand) == HandMotion.PECKING;
    return pecks ? feed + hand.get(HandSection.PECK_SPEED) : feed;
  }

  private static boolean protects(Settings settings, Stage stage) {
    if (!settings.controller().has(stage) || !FeedLimit.isKnown(settings.controller())) {
      return false;
    }
    ParameterValues values = settings.controller().stage(stage);
    return !values.choice(StageParameters.APICAL).equals(StageParameters.NONE)
        && values.get(StageParameters.STANDOFF) > 0;
  }

  private static String limit(Settings settings, Stage stage) {
    ParameterValues values = settings.controller().stage(stage);
    FeedLimit limit = FeedLimit.of(settings.controller(), stage);
    String standoff = StageParameters.STANDOFF.human(values.get(StageParameters.STANDOFF));
    if (!(limit.micronsPerSecond(0) > 0)) {
      return String.format(
          Locale.ROOT,
          "  %s: standoff_mm %s mm does not exceed the error of a sure reading, a bound of %.2f mm"
              + " and %.2f mm of noise: over-travel is possible at any feed; raise standoff_mm",
          name(stage),
          standoff,
          limit.boundMicrons() * 1e-3,
          limit.noiseMicrons() * 1e-3);
    }
    return String.format(
        Locale.ROOT,
        "  %s: standoff_mm %s mm protects from over-travel up to a feed of %.1f mm/s: the reading is"
            + " within %.2f mm by the declared noise, the reaction takes %s ms, and %s",
        name(stage),
        standoff,
        limit.micronsPerSecond(0) * 1e-3,
        limit.noiseMicrons() * 1e-3,
        StageParameters.REACTION.human(limit.reactionNs()),
        limit.boundMicrons() > 0
            ? String.format(Locale.ROOT, "the stated bound is %.2f mm", limit.boundMicrons() * 1e-3)
            : unbounded(settings));
  }

  /** What the limit leaves out where no bound is stated. */
  private static String unbounded(Settings settings) {
    return settings.controller().sensing().byCurve()
        ? "no bound is stated for other canals than that of the curve"
        : "no error of the locator is declared";
  }

  private static String name(Stage stage) {
    return stage.name().toLowerCase(Locale.ROOT);
  }
}
