package org.stopwell.rig.proof;

import java.math.BigDecimal;
import java.util.Map;
import org.stopwell.core.frame.Drive;
import org.stopwell.core.number.Elementary;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.rig.bench.Ability;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.Lack;
import org.stopwell.rig.bench.Scene;

/** A ladder of resistors with the file at rest in it and the motor off. */
public final class RestingScene {
  private static final int LENGTH_MICRONS = 8_000;

  /** Slow enough for a stage that is driven (assumed). */
  private static final int FEED_MM_PER_S = 4;

  /** Until the file has come all the way, and half a second to rest, ns. */
  private static final long UNTIL_THERE_NS =
      LENGTH_MICRONS / FEED_MM_PER_S * 1_000_000L + 500_000_000;

  /** Samples of the front end come every few ms; so many periods are averaged (assumed). */
  private static final int PERIODS = 200;

  private RestingScene() {}

  /**
   * What a bench says of its ladder at one place.
   *
   * @param remainingMicrons where the bench's stage is, µm short of the foramen
   * @param measuredOhms the mean of what the bench measures there, Ω
   * @param nominalOhms what the scene asks for there, Ω
   * @param ohmPerMm growth of the resistance, Ω/mm
   */
  public record Ladder(
      double remainingMicrons, double measuredOhms, double nominalOhms, long ohmPerMm) {
    /**
     * How far apart the bench's two scales are: the place by the ladder minus that by the stage.
     *
     * @return µm
     */
    public double disagreementMicrons() {
      return (measuredOhms - nominalOhms) / ohmPerMm * 1e3;
    }
  }

  /**
   * The scene. A hand without tremor carries the file there; on a physical bench the stage does.
   *
   * @param remainingMicrons place of the tip short of the foramen, µm, 0 to 8000
   * @param seed seed of the front end's noise
   * @return the scene
   * @throws BenchException when the place is outside of the canal
   */
  public static Scene at(int remainingMicrons, long seed) throws BenchException {
    return scene(
        Map.of(
            "motion",
            "stage",
            "start_above_mm",
            0,
            "feed_mm_per_s",
            FEED_MM_PER_S,
            "tremor_um",
            0,
            "passive_mm",
            BigDecimal.valueOf(LENGTH_MICRONS - remainingMicrons, 3).toString()),
        seed);
  }

  /**
   * The scene that leaves a stage in place: to read the place of the tip from a bench.
   *
   * @return the scene
   * @throws BenchException never
   */
  public static Scene left() throws BenchException {
    return scene(Map.of(), 1);
  }

  private static Scene scene(Map<String, ?> hand, long seed) throws BenchException {
    try {
      return Scene.of(
          Map.of(
              "canal",
              Map.of("kind", "resistors", "length_mm", LENGTH_MICRONS / 1_000),
              "hand",
              hand),
          seed);
    } catch (SettingsException e) {
      throw new BenchException(RigFault.REFUSED, String.valueOf(e.getMessage()), e);
    }
  }

  /**
   * Mounts the scene, waits until the file is there, and reads both scales.
   *
   * @param bench an open bench
   * @param remainingMicrons place of the tip, µm
   * @param seed seed of the front end's noise
   * @return both scales
   * @throws BenchException when the bench fails
   */
  public static Ladder read(Bench bench, int remainingMicrons, long seed) throws BenchException {
    Lack.refuse(bench, Ability.POSITION, Ability.TRUTH);
    Scene scene = at(remainingMicrons, seed);
    Drill drill = new Drill(bench, scene);
    drill.run(Drive.OFF, UNTIL_THERE_NS);
    double ohms = 0;
    double microns = 0;
    for (int i = 0; i < PERIODS; i++) {
      drill.exchange(Drive.OFF);
      ohms +=
          Elementary.hypot(drill.reading.zRealMilliOhms[0], drill.reading.zImagMilliOhms[0]) / 1e3;
      microns += bench.truth().remainingMicrons;
    }
    long slope = scene.section("canal").get(CanalSection.OHM_PER_MM);
    double place = microns / PERIODS;
    double nominal = scene.section("canal").get(CanalSection.BODY) + slope * place / 1e3;
    return new Ladder(place, ohms / PERIODS, nominal, slope);
  }
}
