package org.stopwell.harness.tryout;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.physics.file.Instrument;
import org.stopwell.rig.physics.fluid.FillLimit;

/** How full the canal may be before the file enters, so that the chamber stays dry. */
final class FillAdvice {
  private FillAdvice() {}

  static String of(Scene scene, ParameterValues stage, long levelMicrons) {
    Canal canal = Canal.of(scene.section("canal"));
    ParameterValues fluid = scene.section("fluid");
    double standoff = stage.get(StageParameters.STANDOFF) * 1e-6;
    double level = levelMicrons * 1e-6;
    FillLimit limit =
        FillLimit.of(
            canal,
            Instrument.of(scene.section("file")),
            level,
            fluid.get(FluidSection.CHAMBER_AREA) * 1e-9,
            fluid.get(FluidSection.CHAMBER_DEPTH) * 1e-6,
            standoff);
    // downwards, because more than this floods the chamber
    long tenths = (long) Math.floor(limit.highestDry() * 1e4);
    long below = Math.round(canal.length() * 1e4) - tenths;
    String most =
        Decimal.text(tenths, 1)
            + " mm above the foramen ("
            + Decimal.text(below, 1)
            + " mm below the orifice; flat-level estimate)";
    if (stage.choice(StageParameters.APICAL).equals(StageParameters.NONE)) {
      return "This stage does not stop by the reading. A canal filled to the orifice suits it."
          + " A reading needs at most "
          + most
          + ".";
    }
    if (!limit.chamberStaysDry()) {
      return "A file pushed to the standoff floods the chamber, and current leaks around the canal."
          + " Fill to at most "
          + most
          + ", or remove "
          + Decimal.rounded(limit.toRemove() * 1e9, 1)
          + " mm³.";
    }
    if (!(limit.levelAfter() >= standoff)) {
      return "The tip meets no fluid before the standoff. No reading is possible. Fill to at most "
          + most
          + ".";
    }
    return "The chamber stays dry down to the standoff. Fill to at most " + most + ".";
  }
}
