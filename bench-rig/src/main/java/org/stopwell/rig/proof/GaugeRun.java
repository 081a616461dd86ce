package org.stopwell.rig.proof;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;

/**
 * The readings of a gauge study of a bench: at several places, by several appraisers, several times
 * each, by how much its two scales disagree, ladder against stage. That disagreement is what makes
 * a stop error wrong.
 *
 * <p>The appraisers are people, who mount everything again for each reading; without names they are
 * the mounts, each read several times.
 *
 * @param appraisers names of the people, or of the mounts
 * @param nanometres disagreement by place, by appraiser, by repeat, nm; empty when it was not done
 */
public record GaugeRun(List<String> appraisers, List<List<List<Long>>> nanometres) {
  /** Places along the canal: the parts of the study, µm short of the foramen. */
  public static final List<Integer> PLACES_MICRONS = List.of(500, 1_000, 2_000, 4_000, 6_000);

  /** The appraisers of a study without people: number of mounts. */
  public static final List<String> MOUNTS = List.of("mount 1", "mount 2", "mount 3");

  /** Readings of each place by each appraiser. */
  public static final int REPEATS = 3;

  /**
   * How many readings a study is.
   *
   * @param people how many people take part; 0 for mounts as appraisers
   * @return readings
   */
  public static int readings(int people) {
    return PLACES_MICRONS.size() * (people == 0 ? MOUNTS.size() : people) * REPEATS;
  }

  /** Copies the names and the readings. */
  public GaugeRun {
    appraisers = List.copyOf(appraisers);
    nanometres = List.copyOf(nanometres);
  }

  /**
   * Takes the readings and leaves the bench safe. One appraiser after the other goes through all
   * places, so that no person has to wait at the bench for the next.
   *
   * @param bench an open bench
   * @param operator who mounts the file, and moves the stage of a bench that does not drive it
   * @param people names of the people that take part, two or more; none for mounts as appraisers
   * @param taken called after each reading
   * @return the readings; empty when the request was not carried out
   * @throws BenchException when the bench fails
   */
  public static GaugeRun of(Bench bench, Operator operator, List<String> people, Runnable taken)
      throws BenchException {
    List<String> appraisers = people.isEmpty() ? MOUNTS : people;
    List<List<List<Long>>> table = new ArrayList<>();
    PLACES_MICRONS.forEach(place -> table.add(new ArrayList<>()));
    try {
      for (String appraiser : appraisers) {
        for (int place = 0; place < PLACES_MICRONS.size(); place++) {
          List<Long> repeats = new ArrayList<>();
          for (int repeat = 0; repeat < REPEATS; repeat++) {
            String request = request(bench, appraiser, !people.isEmpty(), place, repeat);
            if (!request.isEmpty() && !operator.asked(request)) {
              return new GaugeRun(appraisers, List.of());
            }
            // Each reading of a model has noise of its own; a person adds none to it.
            long seed = (table.get(place).size() * 10L + place) * 10L + repeat;
            double microns =
                RestingScene.read(bench, PLACES_MICRONS.get(place), seed).disagreementMicrons();
            repeats.add(Math.round(microns * 1e3));
            taken.run();
          }
          table.get(place).add(repeats);
        }
      }
      return new GaugeRun(appraisers, table);
    } finally {
      bench.safeStop();
    }
  }

  /** What must be done by hand before a reading; empty when nothing must. */
  private static String request(
      Bench bench, String appraiser, boolean person, int place, int repeat) throws BenchException {
    if (bench.describe().simulated() || (!person && repeat > 0)) {
      return "";
    }
    boolean driven = bench.drivenStage().isPresent();
    String who = person ? appraiser + ", reading " + (repeat + 1) + " of " + REPEATS : appraiser;
    String where =
        String.format(
            Locale.ROOT, "about %.1f mm short of the foramen", PLACES_MICRONS.get(place) / 1e3);
    if (!driven) {
      String mount = person ? "take the file out of its clamp and clamp it anew, move" : "move";
      return who + ": " + mount + " the stage out, and to " + where + ".";
    }
    return person
        ? who
            + ": take the file out of its clamp and clamp it anew; then hands away, the stage goes to "
            + where
            + "."
        : "";
  }
}
