package org.stopwell.harness.assess;

import java.util.List;
import java.util.Locale;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.rig.bench.CanalSection;
import org.stopwell.rig.bench.FileSection;
import org.stopwell.rig.bench.FluidSection;
import org.stopwell.rig.bench.FrontEndSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * How often the distance can be named within 0.5 mm at most, by any estimator, on the network of
 * the training: the bound from above beside the shares that were found ({@link Ceiling}). See
 * {@link HiddenCurve} for why it holds.
 */
public final class GenieBound {
  /** Seed of the canals: none of them was looked at when the bound was made. */
  public static final long SEED = 890_003;

  /** The last reading lies anywhere between the foramen and here, mm. */
  private static final double HIGH_MM = 3;

  private static final double WITHIN_MM = 0.5;
  private static final double CONFIDENCE = 0.95;

  /** A smoothed reading of the core is worth so many samples. */
  private static final double SMOOTHED = 16;

  private static final int READINGS = 16;
  private static final double APART_MM = 0.2;

  /** Samples on that way of the slowest hands, about. */
  private static final double ON_THE_WAY = 64;

  /**
   * What is hidden besides the place: what makes the bound low, tried on canals of seed 890002. To
   * hide less is to tell more, so the choice cannot make the bound wrong.
   */
  private static final List<Parameter> HIDDEN =
      List.of(
          CanalSection.LENGTH,
          CanalSection.CONSTRICTION,
          CanalSection.FORAMEN_DIAMETER,
          CanalSection.WALL_RESISTIVITY,
          CanalSection.TISSUE_RESISTIVITY,
          CanalSection.BODY,
          CanalSection.BODY_CORNER,
          CanalSection.BODY_EXPONENT,
          FluidSection.CONDUCTIVITY,
          FluidSection.LEAK,
          FileSection.INTERFACE,
          FileSection.INTERFACE_EXPONENT,
          FrontEndSection.GAIN_ERROR);

  /** What there is to go by. */
  enum Sight {
    ONE_HALF_WET("one reading, half-wet", Fill.HALF_WET, false, false),
    ONE_FLOODED("one reading, flooded", Fill.FLOODED, false, false),
    WAY_HALF_WET("approach, half-wet", Fill.HALF_WET, true, false),
    WAY_BRIMFUL("approach, brimful", Fill.BRIMFUL, true, false),
    WAY_FLOODED("approach, flooded", Fill.FLOODED, true, false),
    WAY_LEARNED("approach, brimful, canal learned", Fill.BRIMFUL, true, true);

    private final String words;
    private final Fill fill;
    private final boolean approach;
    private final boolean learned;

    Sight(String words, Fill fill, boolean approach, boolean learned) {
      this.words = words;
      this.fill = fill;
      this.approach = approach;
      this.learned = learned;
    }

    private List<CanalSight.Pass> passes() {
      CanalSight.Pass last = approach ? way(fill) : new CanalSight.Pass(fill, 1, 0, SMOOTHED);
      return learned ? List.of(last, way(Fill.HALF_WET)) : List.of(last);
    }

    private static CanalSight.Pass way(Fill fill) {
      return new CanalSight.Pass(fill, READINGS, APART_MM, ON_THE_WAY);
    }
  }

  /**
   * What came of some canals.
   *
   * @param sight what there was to go by
   * @param canals how many
   * @param share mean of the greatest share that one answer satisfies, 0 to 1
   * @param error standard error of that mean
   * @param right how often that answer was right
   * @param rmsMm root mean square of what is left open, mm
   */
  record Row(Sight sight, int canals, double share, double error, int right, double rmsMm) {
    /** With 95 % confidence no estimator is right more often than this. */
    double atMost() {
      return new Proportion(right, canals).upperBound(CONFIDENCE).orElseThrow();
    }

    String text() {
      return String.format(
          Locale.ROOT,
          "  %-33s %4d canals, at most %.1f %% (standard error %.1f %%); right in %d, so below %.1f"
              + " %%; left open %.3f mm%n",
          sight.words,
          canals,
          100 * share,
          100 * error,
          right,
          100 * atMost(),
          rmsMm);
    }
  }

  private final int canals;
  private final Consumer<String> progress;

  /**
   * A bound that has not been worked out.
   *
   * @param canals how many canals, per row
   * @param progress told what is being done
   */
  public GenieBound(int canals, Consumer<String> progress) {
    this.canals = canals;
    this.progress = progress;
  }

  /**
   * Works it out; seconds per canal.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder();
    out.append("Simulated. How often any estimator can name the distance within ")
        .append(WITHIN_MM)
        .append(" mm, in the last ")
        .append(HIGH_MM)
        .append(" mm of a canal of the network of the training, at most; seed ")
        .append(SEED)
        .append(".\n");
    for (Sight sight : Sight.values()) {
      Row row = row(sight);
      progress.accept(row.text().strip());
      out.append(row.text());
    }
    return out.toString();
  }

  Row row(Sight sight) {
    List<HiddenCurve.Answer> answers =
        IntStream.range(0, canals).parallel().mapToObj(i -> answer(sight, i)).toList();
    double share = 0;
    double shares = 0;
    double squares = 0;
    int right = 0;
    for (HiddenCurve.Answer answer : answers) {
      share += answer.share() / canals;
      shares += answer.share() * answer.share() / canals;
      squares += answer.deviationMm() * answer.deviationMm() / canals;
      right += answer.right() ? 1 : 0;
    }
    double error = StrictMath.sqrt(Math.max(0, shares - share * share) / (canals - 1));
    return new Row(sight, canals, share, error, right, StrictMath.sqrt(squares));
  }

  private static HiddenCurve.Answer answer(Sight sight, int index) {
    RandomStream random =
        RandomStream.of(RandomStream.trialSeed(SEED, index), "genie " + sight.words);
    CanalSight canal = new CanalSight(scene(index), sight.passes(), HIDDEN, 0, HIGH_MM, random);
    double[] truth = canal.truth();
    double[] seen = canal.see(truth);
    for (int i = 0; i < seen.length; i++) {
      seen[i] += random.nextGaussian();
    }
    return new HiddenCurve(canal, seen, 0, HIGH_MM).best(truth, WITHIN_MM);
  }

  private static Scene scene(int index) {
    try {
      return new Population(SEED).member(index, Fill.BRIMFUL, Training.FREQUENCIES);
    } catch (SettingsException e) {
      throw new IllegalStateException("canal " + index + ": " + e.getMessage(), e);
    }
  }
}
