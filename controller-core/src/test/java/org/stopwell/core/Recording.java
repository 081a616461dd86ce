package org.stopwell.core;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.Stage;

/** Inputs that a controller saw, step by step. */
final class Recording {

  /**
   * One step.
   *
   * @param nowNs its time, ns
   * @param in its input
   */
  record Step(long nowNs, ControllerInput in) {}

  private Recording() {}

  static Map<String, Map<String, Object>> settings() {
    Map<String, Map<String, Object>> settings = TestBench.length("on_torque", "back-out");
    settings.put(
        "stages.shape", Map.of("on_torque", "rock", "apical", "back-out", "motion", "reciprocate"));
    return settings;
  }

  /** Canal entry, approach, stop, torque, leak, lock and reset, in two stages. */
  static List<Step> ofAWorkingLife() {
    List<Step> steps = new ArrayList<>();
    TestBench bench =
        new TestBench(settings()) {
          @Override
          void step() {
            super.step();
            ControllerInput copy = new ControllerInput();
            copy.copyFrom(lastInput);
            steps.add(new Step(nowNs, copy));
          }
        };
    for (Stage stage : List.of(Stage.LENGTH, Stage.SHAPE)) {
      bench.in.stage = stage;
      bench.inCanal = false;
      bench.started();
      bench.in.torqueMicroNewtonMetres = 6_000;
      bench.run(20);
      bench.in.torqueMicroNewtonMetres = 100;
      bench.run(1_500);
      bench.feedUntilStateChanges(1_000);
      bench.feedUntilStateChanges(1_000);
      bench.run(1_000);
      bench.leadTo(bench.remainingMicrons + 2_000);
      bench.run(400);
      bench.leakOhms = 1_000;
      bench.run(300);
      bench.leakOhms = Double.POSITIVE_INFINITY;
      bench.in.stopLine = true;
      bench.run(20);
      bench.in.stopLine = false;
      bench.run(5);
      bench.in.reset = true;
      bench.run(5);
      bench.in.reset = false;
      bench.in.demand = false;
      bench.run(5);
      bench.in.demand = true;
      bench.leadTo(8_000);
      bench.run(400);
    }
    return steps;
  }
}
