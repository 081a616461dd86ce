package org.stopwell.rig.virtual;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Drive;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.bench.Truth;

/** A curve that straightens while the file cuts, and one that had been straightened before. */
class StraighteningTrialTest {
  private static final long MS = 1_000_000;

  private final ControllerInput in = new ControllerInput();
  private final Truth truth = new Truth();

  private Plant shaped(String canal) throws Exception {
    Plant plant =
        new Plant(
            Scene.of(
                Map.of(
                    "canal",
                        keys(
                            "curve_deg=45 curve_mm=5 constriction_diameter_mm=0.2 taper=0.02 "
                                + canal),
                    "file", keys("size=25 taper=0.06 shear_strength_mpa=3000 fatigue_strain=20"),
                    "hand",
                        keys(
                            "passive_mm=9 feed_mm_per_s=1 tremor_um=0 depth_axis=present"
                                + " depth_step_um=1 reaction_ms=0")),
                1));
    ControllerOutput out = new ControllerOutput();
    out.drive = Drive.FORWARD;
    out.speedMilliRpm = 300_000;
    out.torqueLimitMicroNewtonMetres = 60_000;
    long ms = 0;
    do {
      plant.advance(++ms * MS, out);
      plant.read(in);
    } while (in.insertionMicrons < 15_000 && ms < 60_000);
    plant.truth(truth);
    return plant;
  }

  private static Map<String, String> keys(String words) {
    Map<String, String> keys = new java.util.HashMap<>();
    for (String word : words.strip().split(" +", -1)) {
      keys.put(word.substring(0, word.indexOf('=')), word.substring(word.indexOf('=') + 1));
    }
    return keys;
  }

  @Test
  void theForamenComesNearerAtTheSameDepth() throws Exception {
    shaped("");
    assertEquals(16_000, in.insertionMicrons + truth.remainingMicrons, 1);

    Plant straightened = shaped("straightens=yes");
    int lost = 16_000 - in.insertionMicrons - truth.remainingMicrons;
    assertTrue(lost > 40 && lost < 300, "lost " + lost + " µm");
    assertEquals(16e-3 - lost * 1e-6, straightened.specimen().length(), 1.5e-6);

    shaped("straightens=yes inside_share=1");
    int inside = 16_000 - in.insertionMicrons - truth.remainingMicrons;
    assertEquals(2, inside / (double) lost, 0.2);
  }

  /** What a trial takes off is what a mounted canal of the same shape has lost. */
  @Test
  void aTrialAndAMountedShapeAgree() throws Exception {
    shaped("straightens=yes inside_share=1");
    int lost = 16_000 - in.insertionMicrons - truth.remainingMicrons;
    double to = truth.remainingMicrons * 1e-3;
    Plant mounted =
        new Plant(
            Scene.of(
                Map.of(
                    "canal",
                    keys(
                        "curve_deg=45 curve_mm=5 constriction_diameter_mm=0.2 taper=0.02"
                            + " inside_share=1 shaped_size=25 shaped_taper=0.06 shaped_to_mm="
                            + to)),
                1));

    assertEquals(lost, 16_000 - mounted.specimen().length() * 1e6, 3);
  }
}
