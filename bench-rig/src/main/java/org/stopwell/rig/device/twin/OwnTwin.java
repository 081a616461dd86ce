package org.stopwell.rig.device.twin;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.StopController;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Stage;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.SettingsException;

/** The controller of this project as a device: shown by the rotation of its motor alone. */
final class OwnTwin implements Twin {
  private static final int LOW_HZ = 630;
  private static final int HIGH_HZ = 6_300;

  private final int standoffMicrons;
  private @Nullable StopController controller;

  OwnTwin(int standoffMicrons) {
    this.standoffMicrons = standoffMicrons;
  }

  @Override
  public Map<String, String> frontEnd() {
    return Map.of(
        "frequency_1_hz",
        Integer.toString(LOW_HZ),
        "frequency_2_hz",
        Integer.toString(HIGH_HZ),
        "frequency_3_hz",
        "0",
        "frequency_4_hz",
        "0");
  }

  /** A curve must fall from point to point: what does not is left out. */
  @Override
  public void learn(MakersCurve curve) {
    List<double[]> rows = curve.ohms();
    double[] shallow = rows.get(rows.size() - 1);
    boolean flat = shallow[1] / shallow[0] > 0.98;
    List<Calibration.Point> points = new ArrayList<>();
    long last = Long.MIN_VALUE;
    for (int i = 0; i < rows.size(); i++) {
      int microns = curve.deepestMicrons() + i * curve.stepMicrons();
      long low = Math.round(1_000 * rows.get(i)[0]);
      long feature = flat ? low : Math.round(1e6 * rows.get(i)[1] / rows.get(i)[0]);
      if (feature > last) {
        points.add(new Calibration.Point(feature, microns, low));
        last = feature;
      }
    }
    Map<String, Map<String, Object>> written = new LinkedHashMap<>();
    written.put("file", Map.of("size", 25, "taper", "0.04"));
    Map<String, Object> sense = new LinkedHashMap<>();
    sense.put("policy", flat ? "resistance" : "ratio");
    sense.put("low_hz", LOW_HZ);
    if (!flat) {
      sense.put("high_hz", HIGH_HZ);
    }
    double far = shallow[0] / 1e3;
    sense.put("enter_kohm", String.format(java.util.Locale.ROOT, "%.1f", 1.6 * far));
    sense.put("unwetted_kohm", String.format(java.util.Locale.ROOT, "%.1f", 2.2 * far));
    written.put("sense", sense);
    Map<String, Object> stage = new LinkedHashMap<>();
    stage.put("speed_rpm", 300);
    stage.put("torque_ncm", "0.6");
    stage.put("standoff_mm", standoffMicrons / 1e3);
    stage.put("apical", "hold");
    written.put(ControllerSettings.nameOf(Stage.LENGTH), stage);
    try {
      controller = new StopController(ControllerSettings.of(written, new Calibration(points)));
    } catch (SettingsException e) {
      throw new IllegalStateException("the settings of the simulated device: " + e.faults(), e);
    }
  }

  @Override
  public void step(long nowNs, ControllerInput in, ControllerOutput out) {
    in.stage = Stage.LENGTH;
    StopController own = controller;
    if (own == null) {
      out.clear();
    } else {
      own.step(nowNs, in, out);
    }
  }

  @Override
  public long lagNs() {
    return -1;
  }
}
