package org.stopwell.harness.explore;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.apache.commons.math3.stat.correlation.PearsonsCorrelation;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.stopwell.core.policy.Policies;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.TestPlans;

/** Sensitivity, screening, surface and front against functions whose answer is known. */
class SensitivityTest {
  private static ExploreSummary all(ExploreWork work) {
    return work.shard(0, work.units(), RowSink.NOWHERE);
  }

  private static List<SobolIndices.Index> ishigami(long seed, long trials) throws Exception {
    Space space = KnownFunctions.space(Space.Design.SOBOL, 3, -Math.PI, Math.PI, seed, trials);
    return SobolIndices.of(
        all(new ExploreWork(space, KnownFunctions::ishigami, "")).sensitivity, 4);
  }

  /** Closed form: Ishigami and Homma 1990; a = 7, b = 0.1. */
  private static double[][] ishigamiTruth() {
    double pi4 = Math.pow(Math.PI, 4);
    double v1 = Math.pow(1 + 0.1 * pi4 / 5, 2) / 2;
    double v2 = 49 / 8.0;
    double v13 = 0.01 * pi4 * pi4 * (1 / 18.0 - 1 / 50.0);
    double v = v1 + v2 + v13;
    return new double[][] {{v1 / v, (v1 + v13) / v}, {v2 / v, v2 / v}, {0, v13 / v}, {0, 0}};
  }

  @Test
  void theClosedFormIsThePublishedOne() {
    double[][] truth = ishigamiTruth();
    assertEquals(0.3139, truth[0][0], 5e-5);
    assertEquals(0.5576, truth[0][1], 5e-5);
    assertEquals(0.4424, truth[1][0], 5e-5);
    assertEquals(0.2437, truth[2][1], 5e-5);
  }

  @Test
  void ishigami() throws Exception {
    List<SobolIndices.Index> found = ishigami(1, 6L * 16 * 1024);
    double[][] truth = ishigamiTruth();
    for (int i = 0; i < 4; i++) {
      assertEquals(truth[i][0], found.get(i).first(), 0.01, "first " + i);
      assertEquals(truth[i][1], found.get(i).total(), 0.01, "total " + i);
    }
    // The function has no part that is not a factor.
    assertEquals(0, found.get(3).total(), 0);
  }

  /** An interval of 95 % must hold the truth in about 95 of 100 independent studies. */
  @Test
  void theIntervalsCover() throws Exception {
    double[][] truth = ishigamiTruth();
    int studies = 150;
    int[] held = new int[6];
    for (int s = 0; s < studies; s++) {
      List<SobolIndices.Index> found = ishigami(100 + s, 6L * 16 * 32);
      for (int i = 0; i < 3; i++) {
        SobolIndices.Index index = found.get(i);
        held[2 * i] += holds(index.firstInterval(), truth[i][0]);
        held[2 * i + 1] += holds(index.totalInterval(), truth[i][1]);
      }
    }
    for (int i = 0; i < 6; i++) {
      // 0.95 − 4 standard errors of 150 studies
      assertTrue(held[i] >= 0.88 * studies, "index " + i + ": " + held[i] + " of " + studies);
    }
  }

  private static int holds(org.stopwell.harness.stats.Interval interval, double truth) {
    return interval.low() <= truth && truth <= interval.high() ? 1 : 0;
  }

  /** Closed form: V_i = 1 / (3 (1 + a_i)²), V = Π (1 + V_i) − 1 (Saltelli and Sobol 1995). */
  @Test
  void sobolsG() throws Exception {
    double[] a = {0, 1, 4.5, 9, 99, 99, 99, 99};
    Space space = KnownFunctions.space(Space.Design.SOBOL, 8, 0, 1, 1, 11L * 16 * 1024);
    ExploreSummary kept = all(new ExploreWork(space, (v, rest) -> KnownFunctions.g(v, a), ""));
    List<SobolIndices.Index> found = SobolIndices.of(kept.sensitivity, 9);
    double product = 1;
    for (double one : a) {
      product *= 1 + part(one);
    }
    for (int i = 0; i < 8; i++) {
      double first = part(a[i]) / (product - 1);
      double total = part(a[i]) * product / (1 + part(a[i])) / (product - 1);
      assertEquals(first, found.get(i).first(), 0.01, "first " + i);
      assertEquals(total, found.get(i).total(), 0.01, "total " + i);
    }
    // The published values: Saltelli et al. 2008, Global Sensitivity Analysis, for these a.
    assertEquals(0.716, part(a[0]) / (product - 1), 5e-4);
    assertEquals(0.179, part(a[1]) / (product - 1), 5e-4);
  }

  private static double part(double a) {
    return 1 / (3 * (1 + a) * (1 + a));
  }

  /**
   * An independent program: OpenTURNS 1.20 (Debian), mean of 8 studies of 100,000 rows (Martinez),
   * standard errors at most 0.0021. A normal, a logarithmic and an even factor.
   */
  @Test
  void anotherProgramFindsTheSameIndices() throws Exception {
    Space space =
        KnownFunctions.space(
            Space.Design.SOBOL,
            List.of(
                KnownFunctions.factor(1, Factor.Shape.BELL, 0.2, 0.8),
                KnownFunctions.factor(2, Factor.Shape.LOG, 1, 5),
                KnownFunctions.factor(3, Factor.Shape.EVEN, -1, 1)),
            2,
            6L * 16 * 1024);
    Evaluation.Model model =
        (v, rest) ->
            Evaluation.of(
                Math.round(v[0] * (20 * Math.exp(0.5e-6 * v[1]) + 30 * Math.sin(3e-6 * v[2]))));
    List<SobolIndices.Index> found =
        SobolIndices.of(all(new ExploreWork(space, model, "")).sensitivity, 4);
    double[][] theirs = {{0.0727, 0.1074}, {0.7627, 0.7919}, {0.1292, 0.1355}};
    for (int i = 0; i < 3; i++) {
      assertEquals(theirs[i][0], found.get(i).first(), 0.008, "first " + i);
      assertEquals(theirs[i][1], found.get(i).total(), 0.008, "total " + i);
    }
  }

  /**
   * Exact effects: on four levels and a step of two thirds, every effect of the g-function in x_i
   * is ± 4 / 3 · (3 / 2) / (1 + a_i) times the product of the others, each 2 or 2 / 3 in |4 x − 2|.
   */
  @Test
  void morrisAgainstEveryTrajectory() throws Exception {
    double[] a = {78, 12, 0.5, 2, 97, 33};
    Space space = KnownFunctions.space(Space.Design.MORRIS, 6, 0, 1, 3, 8L * 20_000);
    ExploreSummary kept = all(new ExploreWork(space, (v, rest) -> KnownFunctions.g(v, a), ""));
    List<MorrisEffects.Effect> found = MorrisEffects.of(kept.sensitivity, 7);
    for (int i = 0; i < 6; i++) {
      double mean = 1;
      double square = 1;
      for (int j = 0; j < 6; j++) {
        if (j != i) {
          double high = (2 + a[j]) / (1 + a[j]);
          double low = (2.0 / 3 + a[j]) / (1 + a[j]);
          mean *= (high + low) / 2;
          square *= (high * high + low * low) / 2;
        }
      }
      double size = 4.0 / 3 * 1.5 / (1 + a[i]);
      MorrisEffects.Effect effect = found.get(i);
      assertEquals(size * mean, effect.meanAbsolute() / KnownFunctions.UNIT, 0.01 * size * mean);
      // Up from a low level: |4 x − 2| falls from 2 to 2 / 3 or rises from 2 / 3 to 2, evenly.
      assertEquals(0, effect.mean() / KnownFunctions.UNIT, 0.03 * size);
      assertEquals(size * Math.sqrt(square), effect.spread() / KnownFunctions.UNIT, 0.01 * size);
      assertTrue(holds(effect.interval(), effect.meanAbsolute()) == 1);
    }
    assertEquals(0, found.get(6).meanAbsolute(), 0);
  }

  /**
   * The published grouping of Morris (Technometrics 1991;33:161, section 4): arguments 1 to 10
   * matter; 8, 9 and 10 act by themselves, 1 to 7 together with others or not straight; 11 to 20 do
   * not matter.
   */
  @Test
  void morrisFindsTheGroupsOfHisExample() throws Exception {
    Space space = KnownFunctions.space(Space.Design.MORRIS, 20, 0, 1, 1, 22L * 50);
    ExploreSummary kept = all(new ExploreWork(space, (v, rest) -> KnownFunctions.morris(v), ""));
    List<MorrisEffects.Effect> found = MorrisEffects.of(kept.sensitivity, 21);
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < 10; i++) {
      least = Math.min(least, found.get(i).meanAbsolute());
    }
    for (int i = 10; i < 20; i++) {
      assertTrue(found.get(i).meanAbsolute() < 0.5 * least, "argument " + (i + 1));
    }
    for (int i = 7; i < 10; i++) {
      MorrisEffects.Effect alone = found.get(i);
      assertTrue(alone.spread() < 0.5 * alone.meanAbsolute(), "argument " + (i + 1));
      assertEquals(40, alone.mean() / KnownFunctions.UNIT, 5); // 2 × 20, and the small terms
    }
    for (int i = 0; i < 6; i++) {
      assertTrue(found.get(i).spread() > found.get(8).spread() * 2, "argument " + (i + 1));
    }
  }

  /** A polynomial of second degree is found again, and its error is none. */
  @Test
  void aQuadraticSurfaceIsFoundAgain() throws Exception {
    Space space = KnownFunctions.space(Space.Design.LATIN_HYPERCUBE, 3, -1, 1, 1, 2000);
    Evaluation.Model model =
        (v, rest) -> {
          double x = v[0] / 1e6;
          double y = v[1] / 1e6;
          double z = v[2] / 1e6;
          return Evaluation.of(
              Math.round(1e6 * (3 + 2 * x - y + 0.5 * x * x + 1.5 * x * z - 0.25 * y * y)));
        };
    Surface surface =
        java.util.Objects.requireNonNull(
            Surface.of(all(new ExploreWork(space, model, "")).surface, 3));
    assertEquals(1, surface.explained(), 1e-6);
    assertTrue(surface.error() < 100, "error " + surface.error());
    double[] at = {0.3, -0.7, 0.9};
    assertEquals(
        1e6 * (3 + 0.6 + 0.7 + 0.5 * 0.09 + 1.5 * 0.27 - 0.25 * 0.49), surface.at(at), 100);
  }

  /** Noise that no factor explains is the error of the surface, not less. */
  @Test
  void theErrorOfASurfaceIsThatOfTrialsLeftOut() throws Exception {
    Space space = KnownFunctions.space(Space.Design.RANDOM, 3, -1, 1, 1, 60);
    Evaluation.Model noise =
        (v, rest) ->
            Evaluation.of(
                Math.round(
                    1000 * org.stopwell.rig.random.RandomStream.of(rest, "noise").nextGaussian()));
    Surface surface =
        java.util.Objects.requireNonNull(
            Surface.of(all(new ExploreWork(space, noise, "")).surface, 3));
    assertTrue(surface.explained() < 0.05, "explained " + surface.explained());
    assertTrue(surface.error() > 900, "error " + surface.error());
  }

  @ParameterizedTest
  @EnumSource(names = {"SOBOL", "MORRIS", "LATIN_HYPERCUBE", "RANDOM", "GRID"})
  void everyDesignGivesTheSameBytesHoweverItIsSplit(Space.Design design) throws Exception {
    Space space = KnownFunctions.space(design, 3, -3, 3, 9, 3000);
    ExploreWork work = new ExploreWork(space, KnownFunctions::ishigami, "");
    byte[] alone = all(work).toBytes();
    assertArrayEquals(alone, work.read(alone).toBytes());
    for (int workers : new int[] {1, 2, 4}) {
      for (int size : new int[] {1, 7, 64}) {
        assertArrayEquals(
            alone,
            new Pool(workers, size)
                .run(
                    work,
                    Finished.none(work),
                    RowSink.NOWHERE,
                    f -> {},
                    Engine.Watcher.NOBODY,
                    () -> false)
                .summary()
                .toBytes(),
            workers + " workers, " + size);
      }
    }
  }

  @Test
  void aLatinHypercubeFillsEveryStratumOnce() throws Exception {
    Space space = KnownFunctions.space(Space.Design.LATIN_HYPERCUBE, 2, 0, 1, 4, 1000);
    SpaceDesign design = SpaceDesign.of(space);
    for (int factor = 0; factor < 2; factor++) {
      Set<Long> strata = new HashSet<>();
      long[] values = new long[2];
      for (long unit = 0; unit < 1000; unit++) {
        design.point(unit, 0, values);
        strata.add(Math.min(999, values[factor] / 1000));
      }
      // Base units are rounded, so a stratum can lose a point to its neighbour.
      assertTrue(strata.size() >= 995, factor + ": " + strata.size());
    }
  }

  /** Correlations hold between the factors that repeats draw, and between the settings. */
  @Test
  void repeatsKeepTheCorrelations() throws Exception {
    Space space =
        Space.read(
            new Source(
                TestPlans.root().resolve("docs/spaces/correlated.yaml").toString(),
                """
                space: 1
                name: correlated
                plan: ../plans/reference-canal.yaml
                condition: half-wet/quick
                outcome: stop_error
                design: latin-hypercube
                trials: 1000000
                repeats: 1000
                factors:
                  scene.canal.foramen_diameter_mm: {from: 0.4, to: 0.6}
                  settings.stages.length.standoff_mm: {from: 0.2, to: 1}
                  scene.canal.tissue_ohm_m: {from: 1.5, to: 6.2}
                  settings.stages.length.reaction_ms: {from: 0, to: 400}
                correlations:
                  - {of: [scene.canal.foramen_diameter_mm, scene.canal.tissue_ohm_m], is: 0.9}
                  - of: [settings.stages.length.standoff_mm, settings.stages.length.reaction_ms]
                    is: -0.9
                """),
            Policies.BUILT_IN);
    SpaceDesign design = SpaceDesign.of(space);
    long[] values = new long[4];
    double[][] drawn = new double[4][1000];
    for (int i = 0; i < 1000; i++) {
      design.point(1000L * i + i, 0, values); // place i, canal i
      for (int factor = 0; factor < 4; factor++) {
        drawn[factor][i] = values[factor];
      }
    }
    // Ranks of normal scores with correlation r have 6/pi asin(r/2): 0.891 for 0.9. Standard error
    // below 0.03; independent factors are within 0.13 of 0 in all but one of 20,000 seeds.
    PearsonsCorrelation pearson = new PearsonsCorrelation();
    assertEquals(0.891, pearson.correlation(drawn[0], drawn[2]), 0.04);
    assertEquals(-0.891, pearson.correlation(drawn[1], drawn[3]), 0.04);
    assertEquals(0, pearson.correlation(drawn[0], drawn[1]), 0.13);
    assertEquals(0, pearson.correlation(drawn[2], drawn[3]), 0.13);
  }

  @Test
  void anOrderHoldsEveryNumberOnce() {
    for (long length : new long[] {1, 2, 3, 17, 1000, 4096}) {
      Set<Long> seen = new HashSet<>();
      for (long place = 0; place < length; place++) {
        seen.add(Shuffle.at(place, length, 5, 2));
      }
      assertEquals(length, seen.size());
      assertTrue(seen.stream().allMatch(x -> x >= 0 && x < length));
    }
  }

  @Test
  void aPointIsOnTheFrontUnlessAnotherBeatsIt() {
    List<double[]> points =
        List.of(
            new double[] {1, 5, 9},
            new double[] {2, 4, 9},
            new double[] {2, 5, 9},
            new double[] {1, 5, 9},
            new double[] {3, 3, 1});
    assertArrayEquals(new boolean[] {true, true, false, true, true}, ParetoFront.front(points));
  }

  @Test
  void tooFewTrialsAreRefusedWithTheNumberNeeded() throws Exception {
    Space space = KnownFunctions.space(Space.Design.SOBOL, 3, 0, 1, 1, 100);
    SpaceException e = assertThrows(SpaceException.class, () -> SpaceDesign.of(space));
    assertTrue(String.valueOf(e.getMessage()).contains("at least 384"), e.getMessage());
  }
}
