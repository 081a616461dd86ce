package org.stopwell.rig.proof;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;

/**
 * The readings of a gauge study of a bench: at several places, mounted anew several times, each
 * read several times, by how much its two scales disagree, ladder against stage. That disagreement
 * is what makes a stop error wrong.
 */
public final class GaugeRun {
  /** Places along the canal: the parts of the study, µm short of the foramen. */
  public static final List<Integer> PLACES_MICRONS = List.of(500, 1_000, 2_000, 4_000, 6_000);

  /** How often everything is mounted anew: the appraisers of the study. */
  public static final int REMOUNTS = 3;

  /** Readings of each. */
  public static final int REPEATS = 3;

  /** The kind of bench whose stage goes there by itself at each mount. */
  private static final String DRIVEN = "boards";

  private GaugeRun() {}

  /**
   * Takes the readings and leaves the bench safe.
   *
   * @param bench an open bench
   * @param operator who moves the stage of a bench of matter that does not drive it itself
   * @return disagreement by place, by mount, by repeat, nm; empty when nobody moved the stage
   * @throws BenchException when the bench fails
   */
  public static List<List<List<Long>>> of(Bench bench, Operator operator) throws BenchException {
    boolean alone = bench.describe().simulated() || bench.describe().kind().equals(DRIVEN);
    List<List<List<Long>>> table = new ArrayList<>();
    try {
      for (int place : PLACES_MICRONS) {
        List<List<Long>> mounts = new ArrayList<>();
        for (int mount = 0; mount < REMOUNTS; mount++) {
          if (!alone && !operator.asked(request(place, mount))) {
            return List.of();
          }
          List<Long> repeats = new ArrayList<>();
          for (int repeat = 0; repeat < REPEATS; repeat++) {
            long seed = (place * 10L + mount) * 10L + repeat;
            double microns = RestingScene.read(bench, place, seed).disagreementMicrons();
            repeats.add(Math.round(microns * 1e3));
          }
          mounts.add(repeats);
        }
        table.add(mounts);
      }
      return table;
    } finally {
      bench.safeStop();
    }
  }

  private static String request(int place, int mount) {
    return String.format(
        Locale.ROOT,
        "Mount %d of %d: move the stage out, and to about %.1f mm short of the foramen.",
        mount + 1,
        REMOUNTS,
        place / 1e3);
  }
}
