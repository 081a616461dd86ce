package org.stopwell.harness.cli;

import java.io.PrintWriter;
import java.util.Locale;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.harness.plan.Settings;
import org.stopwell.rig.physics.motor.ReciprocationLimit;

/** Warns of a stage that reciprocates faster than its strokes can be kept. */
final class StrokeAdvice {
  private StrokeAdvice() {}

  static void print(Settings settings, PrintWriter out) {
    for (Stage stage : Stage.values()) {
      if (settings.controller().has(stage)) {
        print(stage.name().toLowerCase(Locale.ROOT), settings.controller().stage(stage), out);
      }
    }
  }

  private static void print(String name, ParameterValues stage, PrintWriter out) {
    String motion = stage.choice(StageParameters.MOTION);
    long backward = stage.get(StageParameters.BACKWARD_ANGLE);
    long speed = stage.get(StageParameters.SPEED);
    int limitRpm = ReciprocationLimit.rpm(backward * 1e-3);
    boolean alternates =
        motion.equals(StageParameters.RECIPROCATE) || motion.equals(StageParameters.ADAPTIVE);
    if (alternates && speed > limitRpm * 1000L) {
      out.println(
          String.format(
              Locale.ROOT,
              "  %s: speed_rpm: %s rpm with backward_deg %s deg is above %d rpm, up to which the"
                  + " motor of the virtual bench keeps strokes within %d deg of what is set"
                  + " (simulated; measure your own motor)",
              name,
              StageParameters.SPEED.human(speed),
              StageParameters.BACKWARD_ANGLE.human(backward),
              limitRpm,
              ReciprocationLimit.WITHIN_DEGREES));
    }
  }
}
