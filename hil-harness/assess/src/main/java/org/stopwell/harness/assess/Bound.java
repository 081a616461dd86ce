package org.stopwell.harness.assess;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.assess.CanalSight.Feed;
import org.stopwell.harness.assess.CanalSight.Pass;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.population.Population;
import org.stopwell.rig.population.Population.Fill;
import org.stopwell.rig.random.RandomStream;

/**
 * How often the distance can be named within 0.5 mm at most, by any estimator that knows the
 * network of the bench, or the build of a network drawn by chance, and all spreads: the bound from
 * above beside the shares that were found ({@link Ceiling}). See {@link TruthChain} for why it
 * holds.
 */
public final class Bound {
  /** Seed of the canals: none of them was looked at when the bound was made. */
  public static final long SEED = 890_005;

  /** The last reading lies anywhere between the foramen and here, mm. */
  private static final double HIGH_MM = 3;

  private static final double WITHIN_MM = 0.5;

  /**
   * Where the shipped estimate tells this, stops are decided, mm: eight of ten, half-wet and on the
   * network of the training (991 stops of seed 66001).
   */
  private static final double DECIDED_FROM_MM = 0.55;

  private static final double DECIDED_TO_MM = 0.8;

  /** Greatest standard error of a distance that may be called sure, mm. */
  private static final double SURE_MM = SenseParameters.SURE_ERROR.defaultValue() * 1e-3;

  /** Share of the trials that may be refused: of the canals that are told worst. */
  private static final double REFUSED = 0.02;

  /** A smoothed reading of the core is worth so many samples. */
  private static final double SMOOTHED = 16;

  private static final int READINGS = 16;
  private static final double APART_MM = 0.2;

  /** The shipped estimate looks back further than {@value #READINGS} readings reach. */
  private static final int DECIDED_READINGS = 24;

  /** Samples on that way of the slowest hands, about. */
  private static final double ON_THE_WAY = 64;

  /** Moves of a chain unless told otherwise. */
  public static final int MOVES = 300;

  /** What there is to go by. */
  enum Sight {
    ONE_HALF_WET("one reading, half-wet", Fill.HALF_WET),
    WAY_HALF_WET("approach, half-wet", Fill.HALF_WET),
    MEASURED_HALF_WET("approach, half-wet, feed measured", Fill.HALF_WET),
    WAY_BRIMFUL("approach, brimful", Fill.BRIMFUL),
    MEASURED_BRIMFUL("approach, brimful, feed measured", Fill.BRIMFUL),
    LEARNED_BRIMFUL("approach, brimful, canal learned", Fill.BRIMFUL),
    WAY_FLOODED("approach, flooded", Fill.FLOODED),
    UNEVEN_HALF_WET("approach, half-wet, feed uneven", WAY_HALF_WET),
    UNEVEN_BRIMFUL("approach, brimful, feed uneven", WAY_BRIMFUL),
    UNEVEN_LEARNED("approach, brimful, canal learned, feed uneven", LEARNED_BRIMFUL),
    CHANCE_HALF_WET("approach, half-wet, feed uneven, network by chance", WAY_HALF_WET),
    CHANCE_BRIMFUL("approach, brimful, feed uneven, network by chance", WAY_BRIMFUL),
    DECIDED_HALF_WET("approach, half-wet, feed uneven, where stops are decided", Fill.HALF_WET),
    DECIDED_BRIMFUL("approach, brimful, feed uneven, where stops are decided", Fill.BRIMFUL);

    private final String words;
    private final Fill fill;

    /** Names the stream of chance, so that a row with more unknowns has the same canals. */
    private final String canals;

    Sight(String words, Fill fill) {
      this.words = words;
      this.fill = fill;
      canals = words;
    }

    Sight(String words, Sight like) {
      this.words = words;
      fill = like.fill;
      canals = like.canals;
    }

    /** The word for the row on the command line. */
    private String key() {
      return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private boolean byChance() {
      return this == CHANCE_HALF_WET || this == CHANCE_BRIMFUL;
    }

    /** Whether the canals are those of which the shipped estimate tells where stops are decided. */
    private boolean decided() {
      return this == DECIDED_HALF_WET || this == DECIDED_BRIMFUL;
    }

    private List<Pass> passes() {
      return switch (this) {
        case ONE_HALF_WET -> List.of(new Pass(fill, 1, 0, SMOOTHED, Feed.MEASURED));
        case MEASURED_HALF_WET, MEASURED_BRIMFUL -> List.of(way(fill, Feed.MEASURED));
        case LEARNED_BRIMFUL -> List.of(way(fill, Feed.EVEN), way(Fill.HALF_WET, Feed.EVEN));
        case WAY_HALF_WET, WAY_BRIMFUL, WAY_FLOODED -> List.of(way(fill, Feed.EVEN));
        case UNEVEN_LEARNED -> List.of(way(fill, Feed.UNEVEN), way(Fill.HALF_WET, Feed.UNEVEN));
        case UNEVEN_HALF_WET, UNEVEN_BRIMFUL, CHANCE_HALF_WET, CHANCE_BRIMFUL ->
            List.of(way(fill, Feed.UNEVEN));
        case DECIDED_HALF_WET, DECIDED_BRIMFUL ->
            List.of(new Pass(fill, DECIDED_READINGS, APART_MM, ON_THE_WAY, Feed.UNEVEN));
      };
    }

    private static Pass way(Fill fill, Feed feed) {
      return new Pass(fill, READINGS, APART_MM, ON_THE_WAY, feed);
    }
  }

  /**
   * What one canal leaves open.
   *
   * @param share greatest share of the states that one answer is right for, 0 to 1
   * @param early the same for the first half of the chain: much more means that the chain was short
   * @param deviationMm standard deviation of the places, mm
   * @param placeMm where the last reading really was, mm
   * @param toldMm where the shipped estimate told it to be, mm; NaN where it was not asked
   * @param obeyed share of the moves that were obeyed
   */
  record Canal(
      double share,
      double early,
      double deviationMm,
      double placeMm,
      double toldMm,
      double obeyed) {}

  /**
   * What came of some canals.
   *
   * @param sight what there was to go by
   * @param canals one by one
   */
  record Row(Sight sight, List<Canal> canals) {
    double share() {
      return canals.stream().mapToDouble(Canal::share).average().orElseThrow();
    }

    double early() {
      return canals.stream().mapToDouble(Canal::early).average().orElseThrow();
    }

    /** Standard error of the mean share. */
    double error() {
      double mean = share();
      double squares = canals.stream().mapToDouble(c -> (c.share - mean) * (c.share - mean)).sum();
      return StrictMath.sqrt(squares / (canals.size() - 1) / canals.size());
    }

    /** Mean share of the canals that are not refused, when the worst ones are. */
    double withRefusals() {
      double[] sorted = canals.stream().mapToDouble(Canal::share).sorted().toArray();
      int from = (int) Math.ceil(REFUSED * sorted.length);
      return Arrays.stream(sorted, from, sorted.length).average().orElseThrow();
    }

    double rmsMm() {
      return StrictMath.sqrt(
          canals.stream().mapToDouble(c -> c.deviationMm * c.deviationMm).average().orElseThrow());
    }

    /** How many canals leave so little open, as far as was found, that sure may be said. */
    static long sure(List<Canal> canals) {
      return canals.stream().filter(c -> c.deviationMm <= SURE_MM).count();
    }

    /** What the shipped estimate makes of the same readings, where it was asked. */
    private String toldText() {
      if (!sight.decided()) {
        return "";
      }
      double[] off = canals.stream().mapToDouble(c -> c.toldMm - c.placeMm).toArray();
      return String.format(
          Locale.ROOT,
          "; the shipped estimate was within in %.1f %%, off by %.3f mm (root mean square)",
          100.0
              * Arrays.stream(off).filter(miss -> Math.abs(miss) <= WITHIN_MM).count()
              / off.length,
          StrictMath.sqrt(Arrays.stream(off).map(miss -> miss * miss).average().orElseThrow()));
    }

    double obeyed() {
      return canals.stream().mapToDouble(Canal::obeyed).average().orElseThrow();
    }

    String text() {
      return String.format(
          Locale.ROOT,
          "  %-58s %4d canals, at most %.1f %% (standard error %.1f %%), %.1f %% where the worst"
              + " %.0f %% are refused; left open %.3f mm, so far found no more than %.2f mm in %d"
              + " canals%s; half the chain %.1f %%, moves obeyed %.0f %%%n",
          sight.words,
          canals.size(),
          100 * share(),
          100 * error(),
          100 * withRefusals(),
          100 * REFUSED,
          rmsMm(),
          SURE_MM,
          sure(canals),
          toldText(),
          100 * early(),
          100 * obeyed());
    }
  }

  private final int canals;
  private final int moves;
  private final Consumer<String> progress;

  /**
   * A bound that has not been worked out.
   *
   * @param canals how many canals, per row
   * @param moves moves of the chain of each; more make the bound tighter
   * @param progress told what is being done
   */
  public Bound(int canals, int moves, Consumer<String> progress) {
    this.canals = canals;
    this.moves = moves;
    this.progress = progress;
  }

  /**
   * The words for the rows.
   *
   * @return one for each
   */
  public static List<String> rows() {
    return Arrays.stream(Sight.values()).map(Sight::key).toList();
  }

  /**
   * Works it out; some ten to twenty milliseconds per move, canal and row on one core.
   *
   * @param rows which ones; all where none is named
   * @return lines
   */
  public String text(List<String> rows) {
    StringBuilder out = new StringBuilder();
    out.append("Simulated. How often any estimator can name the distance within ")
        .append(WITHIN_MM)
        .append(" mm, in the last ")
        .append(HIGH_MM)
        .append(
            " mm of a canal by the network of the bench or by one drawn by chance, at most; seed ")
        .append(SEED)
        .append(", ")
        .append(moves)
        .append(" moves")
        .append(".\n");
    for (Sight sight : Sight.values()) {
      if (rows.isEmpty() || rows.contains(sight.key())) {
        out.append(row(sight).text());
      }
    }
    return out.toString();
  }

  Row row(Sight sight) {
    AtomicInteger done = new AtomicInteger();
    Row row =
        new Row(
            sight,
            IntStream.range(0, canals)
                .parallel()
                .mapToObj(
                    i -> {
                      Canal canal = canal(sight, i);
                      progress.accept(
                          String.format(
                              Locale.ROOT,
                              "%s: canal %d, %d of %d: %.1f %%, left open %.3f mm at %.2f mm",
                              sight.words,
                              i,
                              done.incrementAndGet(),
                              canals,
                              100 * canal.share,
                              canal.deviationMm,
                              canal.placeMm));
                      return canal;
                    })
                .toList());
    progress.accept(row.text().strip());
    return row;
  }

  /** A canal, and what is seen of it. */
  private static final class Look {
    final CanalSight canal;
    final double[] truth;
    final double[] seen;
    final double toldMm;

    /** By the readings alone: so what is probable given them stays as it is. */
    final boolean chosen;

    Look(Sight sight, Scene scene, RandomStream random) {
      double low = sight.decided() ? TrainingApproach.BOTTOM_MM : 0;
      canal = new CanalSight(scene, sight.passes(), low, HIGH_MM, sight.byChance(), random);
      truth = canal.truth();
      seen = canal.see(truth);
      for (int i = 0; i < seen.length; i++) {
        seen[i] += random.nextGaussian();
      }
      toldMm = sight.decided() ? canal.told(seen) : Double.NaN;
      chosen = !sight.decided() || (toldMm >= DECIDED_FROM_MM && toldMm <= DECIDED_TO_MM);
    }
  }

  private Canal canal(Sight sight, int index) {
    RandomStream random =
        RandomStream.of(RandomStream.trialSeed(SEED, index), "bound " + sight.canals);
    Scene scene = scene(index);
    Look look = new Look(sight, scene, random);
    while (!look.chosen) {
      look = new Look(sight, scene, random);
    }
    TruthChain chain = new TruthChain(look.canal, look.truth, look.seen, random);
    double[] places = new double[moves + 1];
    places[0] = look.canal.placeMm(look.truth);
    double mean = places[0] / places.length;
    for (int k = 1; k < places.length; k++) {
      chain.move();
      places[k] = look.canal.placeMm(chain.scores());
      mean += places[k] / places.length;
    }
    double squares = 0;
    for (double place : places) {
      squares += (place - mean) * (place - mean) / places.length;
    }
    return new Canal(
        TruthChain.bestShare(places, WITHIN_MM),
        TruthChain.bestShare(Arrays.copyOf(places, places.length / 2 + 1), WITHIN_MM),
        StrictMath.sqrt(squares),
        places[0],
        look.toldMm,
        (double) chain.obeyed() / moves);
  }

  private static Scene scene(int index) {
    try {
      return new Population(SEED).member(index, Fill.BRIMFUL, Training.FREQUENCIES);
    } catch (SettingsException e) {
      throw new IllegalStateException("canal " + index + ": " + e.getMessage(), e);
    }
  }
}
