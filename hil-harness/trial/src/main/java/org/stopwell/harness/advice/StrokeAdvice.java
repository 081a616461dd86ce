package org.stopwell.harness.advice;

import java.util.Locale;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.Settings;
import org.stopwell.rig.bench.MotorSection;
import org.stopwell.rig.physics.motor.ReciprocationLimit;

/** Warns of a stage that reciprocates too fast for its strokes. */
final class StrokeAdvice {
  /** Play of an undescribed gear, degrees: the default of the motor section. */
  private static final double USUAL_PLAY_DEGREES = 1;

  private StrokeAdvice() {}

  /** For settings, whose motor is not known. */
  static void print(Settings settings, Consumer<String> out) {
    print(settings, USUAL_PLAY_DEGREES, out);
  }

  /** For settings of a plan, whose scenes state the play of the gear. */
  static void print(Settings settings, Plan plan, Consumer<String> out) {
    long milliDegrees =
        IntStream.range(0, plan.plannedConditions().size())
            .mapToLong(i -> plan.trial(i).scene().section("motor").get(MotorSection.BACKLASH))
            .max()
            .orElse(0);
    print(settings, milliDegrees * 1e-3, out);
  }

  private static void print(Settings settings, double playDegrees, Consumer<String> out) {
    for (Stage stage : Stage.values()) {
      if (settings.controller().has(stage)) {
        ParameterValues values = settings.controller().stage(stage);
        String motion = values.choice(StageParameters.MOTION);
        if (motion.equals(StageParameters.RECIPROCATE) || motion.equals(StageParameters.BY_LOAD)) {
          print(stage.name().toLowerCase(Locale.ROOT), values, playDegrees, out);
        }
      }
    }
  }

  private static void print(
      String name, ParameterValues stage, double playDegrees, Consumer<String> out) {
    long backward = stage.get(StageParameters.BACKWARD_ANGLE);
    long speed = stage.get(StageParameters.SPEED);
    int limitRpm = ReciprocationLimit.rpm(backward * 1e-3, playDegrees);
    if (limitRpm == 0) {
      out.accept(
          String.format(
              Locale.ROOT,
              "  %s: motor.backlash_deg: %.2f deg is above %.2f deg, up to which the motor of the"
                  + " virtual bench keeps strokes within %d deg of what is set (simulated; measure"
                  + " your own motor)",
              name,
              playDegrees,
              ReciprocationLimit.MOST_PLAY_DEGREES,
              ReciprocationLimit.WITHIN_DEGREES));
    } else if (speed > limitRpm * 1000L) {
      out.accept(
          String.format(
              Locale.ROOT,
              "  %s: speed_rpm: %s rpm with backward_deg %s deg is above %d rpm, up to which the"
                  + " motor of the virtual bench keeps strokes within %d deg of what is set, with"
                  + " %.2f deg of play (simulated; measure your own motor)",
              name,
              StageParameters.SPEED.human(speed),
              StageParameters.BACKWARD_ANGLE.human(backward),
              limitRpm,
              ReciprocationLimit.WITHIN_DEGREES,
              playDegrees));
    }
  }
}
