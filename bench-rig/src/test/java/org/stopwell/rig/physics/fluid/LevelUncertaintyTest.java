package org.stopwell.rig.physics.fluid;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.rig.bench.Scene;

/** What a flat level leaves out, against volumes worked out by hand. */
class LevelUncertaintyTest {
  private static final double MM = 1e-3;
  private static final double MM3 = 1e-9;

  private static Scene scene(String canal, String file, String level) throws Exception {
    return Scene.of(
        Map.of(
            "canal",
                Map.of(
                    "constriction_mm", "0",
                    "constriction_diameter_mm", "0.4",
                    "foramen_diameter_mm", "0.4",
                    "taper", canal),
            "file", Map.of("size", "25", "taper", file),
            "fluid", Map.of("level_mm", level)),
        0);
  }

  private static LevelUncertainty withFile(Scene scene) {
    return LevelUncertainty.withFile(
        scene.section("canal"), scene.section("fluid"), scene.section("file"), 0.5 * MM);
  }

  /** Canal 40/.06, file 25/.06 to 0.5 mm: 2.84 mm³ of flutes if all are wet; nothing is cut. */
  @Test
  void flutesAndMetalAreTheLargestParts() throws Exception {
    Scene scene = scene("0.06", "0.06", "14");
    LevelUncertainty after = withFile(scene);

    assertEquals(2.84, after.parts().get(0).volume() / MM3, 0.01);
    // half of the way from an inscribed triangle to a square, of an envelope of 7.10 mm³
    assertEquals(0.1116 * 7.1, after.parts().get(1).volume() / MM3, 0.01);
    assertEquals(0, after.parts().get(2).volume(), 1e-18);
    assertTrue(after.parts().get(4).volume() < 0.02 * MM3, "a film of a hand is thin");
    double sum = 0;
    for (LevelUncertainty.Part part : after.parts()) {
      sum += part.height() * part.height();
    }
    assertEquals(2 * Math.sqrt(sum / 3), after.height(), 1e-12);
    assertTrue(after.bond() > 0.002 && after.bond() < 0.07, "Bond number " + after.bond());
  }

  /** A file of taper 0.06 in a canal of 0.02 is there because it has cut. */
  @Test
  void theCanalIsAsTheFileHasCutIt() throws Exception {
    Scene scene = scene("0.02", "0.06", "8");
    FillLimit limit =
        FillLimit.of(
            scene.section("canal"), scene.section("fluid"), scene.section("file"), 0.5 * MM);
    // uncut: cone 0.4 to 0.72 mm holds 4.048 mm³; the file's metal is 4.26 mm³
    assertTrue(limit.canalVolume() > 7 * MM3 && limit.fileVolume() > 4.2 * MM3);
    assertTrue(limit.highestDry() > 9 * MM, "at most " + limit.highestDry() / MM + " mm");
    double metal = limit.fileVolume();
    double room =
        FillLimit.cut(
                org.stopwell.rig.physics.canal.Canal.of(scene.section("canal")),
                org.stopwell.rig.physics.file.Instrument.of(scene.section("file")),
                0.5 * MM)
            .volumeBelow(limit.highestDry());
    assertEquals(limit.canalVolume() - metal, room, 1e-16);
    assertEquals(
        limit.canalVolume() - 4.0481 * MM3,
        withFile(scene).parts().get(2).volume(),
        0.001 * MM3,
        "chips");
  }

  @Test
  void fluidThatIsMissingOrTooMuchMovesTheLevelAsFarAsItDoes() throws Exception {
    Scene scene = scene("0.06", "0.02", "8");
    LevelUncertainty after = withFile(scene);
    LevelUncertainty.Part flutes = after.parts().get(0);
    double level =
        FillLimit.of(
                scene.section("canal"), scene.section("fluid"), scene.section("file"), 0.5 * MM)
            .levelAfter();
    // small beside the canal: the volume over the free area there
    double r = (0.2 + 0.03 * level / MM) * MM;
    double b = (0.125 + 0.01 * (level / MM - 0.5)) * MM;
    double area = Math.PI * (r * r - 0.6 * b * b);
    assertEquals(flutes.volume() / area, flutes.height(), 0.03 * flutes.height());
  }
}
