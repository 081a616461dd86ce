package org.stopwell.harness.budget;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.stopwell.rig.calibration.CalibrationRecord;
import org.stopwell.rig.calibration.Calibrations;
import org.stopwell.rig.calibration.Quantity;
import org.stopwell.rig.device.TipSeen;

/**
 * What a device with a motor of its own adds to the budget of a stop: its file is watched at the
 * shank, and in a tooth the target itself is not sharp. Limits without a source are assumed: write
 * your own into the plan's report, or measure them.
 */
final class DeviceLines {
  /** Requirement for the shank scale, U95, k = 2, µm: docs/build-a-bench.md. */
  private static final double SHANK_U95 = 10;

  private static final String PLAY = "axial play of the head";

  /** Play of the head along its axis, either way, µm (assumed). */
  private static final double AXIAL_PLAY = 15;

  /**
   * The rim of the foramen is not plane: what two observers may both call the foramen lies within
   * 150 µm along the canal (assumed). Its middle is the zero.
   */
  private static final double RIM = 150;

  /** A bent file is shorter between shank and tip than a straight one, µm (assumed). */
  private static final double BEND = 20;

  /** Gelatine, alginate or agar as the medium, and its age, µm (assumed). */
  private static final double MEDIUM = 20;

  /** ±1 K of the medium, 2 % of its conductivity per K, at 10 µm per % (assumed). */
  private static final double TEMPERATURE = 20;

  private DeviceLines() {}

  /** A budget with these lines; those of a tooth only where the tip is in one. */
  static UncertaintyBudget added(
      UncertaintyBudget budget, boolean tooth, Calibrations calibrations) {
    List<Input> lines = new ArrayList<>(budget.inputs());
    Optional<CalibrationRecord> scale = calibrations.inForce(Quantity.SHANK_SCALE);
    if (scale.isPresent()) {
      StopBudget.reference(lines, "shank scale", scale.get(), 1);
      StopBudget.offset(lines, "shank scale", scale.get(), 1);
    } else {
      lines.add(
          Input.stated(
              "shank scale", "requirement, docs/build-a-bench.md", SHANK_U95 / 2, "µm", 1));
    }
    lines.add(
        calibrations
            .inForce(Quantity.HEAD_PLAY)
            .map(
                r ->
                    Input.within(
                        PLAY, StopBudget.readings(r), Math.abs(r.mean()) / 2 + r.spread(), "µm", 1))
            .orElseGet(() -> within(PLAY, AXIAL_PLAY)));
    if (tooth) {
      lines.add(within("rim of the foramen, 0 to 150 µm, middle taken", RIM / 2));
      lines.add(within("bend of the file", BEND));
      lines.add(within("medium of the tooth and its age", MEDIUM));
      lines.add(within("temperature of the medium, ±1 K", TEMPERATURE));
    }
    return new UncertaintyBudget(budget.unit(), lines);
  }

  /** The distance at rest is seen: how well an observer sees it, and the last step. */
  static UncertaintyBudget advanced(UncertaintyBudget budget) {
    List<Input> lines = new ArrayList<>(budget.inputs());
    lines.add(
        Input.stated(
            "tip seen at the foramen, one observer", "assumed", TipSeen.OBSERVER_MICRONS, "µm", 1));
    lines.add(
        Input.within(
            "step of the advance", "rule of the bench", TipSeen.STEP_MICRONS / 2.0, "µm", 1));
    return new UncertaintyBudget(budget.unit(), lines);
  }

  private static Input within(String name, double halfWidth) {
    return Input.within(name, "assumed", halfWidth, "µm", 1);
  }
}
