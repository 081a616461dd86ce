package org.stopwell.harness.assess;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.random.RandomStream;

/**
 * A family of simulated teeth: one way to model the electricity of canal, dentine and what lies
 * around. The estimate learns from all of them. How it does on a family that it has not seen is
 * found by leaving one out.
 */
public enum Family {
  /** A ladder of fluid, metal and dentine: the model of the bench. */
  TOOTH(true, 1, 1),
  /** A network that is drawn at random for each tooth; for training only. */
  VARIED(false, 1, 1),
  /** Three lumps with capacitive dentine and a leak of other form. */
  LUMPED(true, 1, 1),
  /** Two lanes of fluid, an oxide film, ligament and bone in place of ideal ground. */
  MESHED(true, 1, 1),
  /**
   * The axisymmetric field. It is the nearest to a tooth and alone in how the current spreads
   * around the foramen, so it counts as much as two others. It costs more to solve: fewer canals,
   * more readings of each.
   */
  FIELD(true, 3, 2);

  /** The families that the bench can make, for assessments in closed loop. */
  static final List<Family> ON_THE_BENCH =
      java.util.Arrays.stream(values()).filter(f -> f.onTheBench).toList();

  private static final double TIGHT_LEAST = 200;
  private static final double TIGHT_MOST = 6000;

  private final boolean onTheBench;
  private final int cost;
  private final int counts;

  Family(boolean onTheBench, int cost, int counts) {
    this.onTheBench = onTheBench;
    this.cost = cost;
    this.counts = counts;
  }

  /** How many canals stand for this many of a family that costs little. */
  int canals(int cheap) {
    return Math.max(1, cheap / cost);
  }

  /** How many readings a canal gives, against one of a family that costs little. */
  int readings() {
    return cost * counts;
  }

  /** The family of a member of an assessment: each in turn. */
  static Family of(long member) {
    return ON_THE_BENCH.get((int) (member % ON_THE_BENCH.size()));
  }

  /** The outcomes of the members of this family, from those of all members in order. */
  List<VisitOutcome> of(List<VisitOutcome> all) {
    return IntStream.range(0, all.size()).filter(i -> of(i) == this).mapToObj(all::get).toList();
  }

  /** Scene values that make a canal of this family; the frequencies are those of the weights. */
  Map<String, Map<String, String>> scene() {
    Map<String, Map<String, String>> all = new HashMap<>(Training.FREQUENCIES);
    if (onTheBench) {
      all.put("canal", Map.of("kind", word()));
    }
    return all;
  }

  /**
   * The same for a training canal. The dentine of every second one conducts little, so that the
   * estimate also knows teeth tighter than the population draws; the spread is assumed.
   */
  Map<String, Map<String, String>> trainingScene(long canal) {
    Map<String, Map<String, String>> all = scene();
    if (canal / 4 % 2 == 0) {
      double share = RandomStream.of(canal, "tight dentine").nextDouble();
      double ohmMetres = TIGHT_LEAST * StrictMath.pow(TIGHT_MOST / TIGHT_LEAST, share);
      Map<String, String> own = new HashMap<>(all.getOrDefault("canal", Map.of()));
      own.put("wall_ohm_m", Long.toString(Math.round(ohmMetres)));
      all.put("canal", own);
    }
    return all;
  }

  /** The tooth of a scene. */
  Tooth tooth(Scene scene) {
    return onTheBench
        ? Tooth.of(scene)
        : VariedTooth.of(scene, RandomStream.of(scene.seed(), "network"));
  }

  /**
   * The word for it in tables, on the command line and for {@code canal.kind}.
   *
   * @return one word
   */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
