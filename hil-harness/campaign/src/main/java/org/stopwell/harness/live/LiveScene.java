package org.stopwell.harness.live;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.physics.canal.Bore;
import org.stopwell.rig.physics.canal.Canal;
import tools.jackson.jr.ob.JSON;

/** The scene of a trial as the drawing of a canal takes it; lengths in µm. */
final class LiveScene {
  private LiveScene() {}

  /**
   * Writes a scene.
   *
   * @param spec the trial
   * @param condition place of its condition in the list of conditions, −1 when it is not there
   * @param simulated whether the bench is a model
   * @return one JSON object
   */
  static String json(TrialSpec spec, int condition, boolean simulated) throws IOException {
    ParameterValues canal = spec.scene().section("canal");
    ParameterValues fluid = spec.scene().section("fluid");
    ParameterValues file = spec.scene().section("file");
    Canal shape = Canal.of(canal);
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("trial", spec.index() + 1);
    all.put("condition", condition);
    all.put("network", CanalSection.kind(canal).isBuilt());
    all.put("canalUm", Canal.lengthMicrons(canal));
    all.put("bore", bore(shape));
    @Nullable Long constriction =
        shape.constriction() > 0 ? canal.get(CanalSection.CONSTRICTION) : null;
    all.put("constrictionUm", constriction);
    all.put("chamberUm", fluid.get(FluidSection.CHAMBER_DEPTH));
    double squareMillimetres = fluid.get(FluidSection.CHAMBER_AREA) * 1e-3;
    all.put(
        "chamberDiameterUm",
        StrictMath.round(2_000 * StrictMath.sqrt(squareMillimetres / Math.PI)));
    Map<String, Object> instrument = new LinkedHashMap<>();
    instrument.put("tipDiameterUm", file.get(FileSection.SIZE) * 10);
    instrument.put("taper", file.get(FileSection.TAPER) / 10_000.0);
    instrument.put("cuttingUm", file.get(FileSection.CUTTING_LENGTH));
    all.put("file", instrument);
    all.put("standoffUm", spec.standoffMicrons());
    all.put("toleranceUm", spec.toleranceMicrons());
    all.put("simulated", simulated);
    return JSON.std.asString(all);
  }

  /** From the orifice to the foramen: depth and diameter. */
  private static List<List<Long>> bore(Canal shape) {
    Bore bore = new Bore(shape);
    List<List<Long>> points = new ArrayList<>();
    for (int i = bore.points() - 1; i >= 0; i--) {
      double height = bore.height(i);
      points.add(
          List.of(
              StrictMath.round((shape.length() - height) * 1e6),
              StrictMath.round(bore.radius(height) * 2e6)));
    }
    return points;
  }
}
