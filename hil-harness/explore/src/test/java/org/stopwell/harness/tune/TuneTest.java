package org.stopwell.harness.tune;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.BooleanSupplier;
import org.apache.commons.statistics.distribution.BinomialDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.harness.explore.Engine;
import org.stopwell.harness.explore.Pool;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;
import org.stopwell.harness.trial.Verdict;
import org.stopwell.rig.random.RandomStream;

/** Tuning against closed forms: the optimum is found, and what is not shown is not claimed. */
class TuneTest {
  @TempDir Path dir;

  private TuneResult run(Tuning tuning, String place, int workers, BooleanSupplier stop)
      throws Exception {
    Path at = Files.createDirectories(dir.resolve(place));
    return new TuneRun(
            tuning,
            new TuneState(at, tuning),
            new Pool(workers),
            Engine.Watcher.NOBODY,
            news -> {},
            stop)
        .run();
  }

  private TuneResult run(Tuning tuning) throws Exception {
    return run(tuning, "one", 2, () -> false);
  }

  private static double setting(TuneResult result, int i) {
    return result.chosen().settings().get(i) / 1e6;
  }

  /**
   * The least caution that keeps the limit at the gain of the least spread. Over 2,000 canals the
   * share of over-travel has a standard error, which is one of the caution; three of them and a
   * hundredth of the range are the tolerance.
   */
  @Test
  void theConstrainedOptimumOfAClosedFormIsFound() throws Exception {
    int fresh = 4_000;
    TuneResult result = run(ToyCanals.tuning(2_000, 150, ToyCanals.target(0.05, fresh)));
    double aim = Aim.share(0.05, fresh);
    double slope = (ToyCanals.caution(aim - 1e-4) - ToyCanals.caution(aim + 1e-4)) / 2e-4;
    double tolerance = 3 * slope * Math.sqrt(aim * (1 - aim) / 2_000) + 0.01;
    assertEquals(ToyCanals.caution(aim), setting(result, 0), tolerance);
    assertEquals(ToyCanals.BEST_GAIN, setting(result, 1), 0.1);
    assertEquals(Verdict.PASS, result.verdict(), result.findings().toString());
    // What the fresh canals give is what the closed form says of the chosen settings.
    Measured judged = result.tuned().orElseThrow().measured();
    double over = ToyCanals.overTravel(setting(result, 0), setting(result, 1));
    double early = ToyCanals.early(setting(result, 0), setting(result, 1));
    assertEquals(over, judged.value(TuneTarget.Measure.OVER_TRAVEL), 4 * error(over, fresh));
    assertEquals(early, judged.value(TuneTarget.Measure.EARLY_STOP), 4 * error(early, fresh));
    assertTrue(
        result.findings().stream().anyMatch(f -> f.startsWith("Gain: over-travel −")),
        result.findings().toString());
    // Neighbours on either side of both factors, and the old settings.
    assertEquals(6, result.judged().size());
  }

  private static double error(double share, int of) {
    return Math.sqrt(share * (1 - share) / of);
  }

  /** Over-travel of 0.5 % needs a caution of 0.52 mm; the range ends before. */
  @Test
  void aTargetOutOfReachIsSaid() throws Exception {
    TuneTarget hard =
        new TuneTarget(
            List.of(
                new TuneTarget.Limit(TuneTarget.Measure.OVER_TRAVEL, 0.005, 7),
                new TuneTarget.Limit(TuneTarget.Measure.TIME, 10.2, 8)),
            TuneTarget.Measure.EARLY_STOP,
            3_000);
    TuneResult result = run(ToyCanals.tuning(500, 60, hard));
    assertFalse(result.chosen().meets());
    assertEquals(Verdict.FAIL, result.verdict());
    assertTrue(
        result.findings().stream().anyMatch(f -> f.startsWith("Target not reached: ")),
        result.findings().toString());
    assertTrue(
        result.findings().stream().anyMatch(f -> f.contains("No point tried keeps every limit")),
        result.findings().toString());
  }

  /** Time grows with caution: on 10 canals the search goes down to the worst of these 10. */
  @Test
  void aWinnerOnFewCanalsIsCalledOverfitted() throws Exception {
    TuneTarget quick =
        new TuneTarget(
            List.of(new TuneTarget.Limit(TuneTarget.Measure.OVER_TRAVEL, 0.02, 7)),
            TuneTarget.Measure.TIME,
            4_000);
    TuneResult result = run(ToyCanals.tuning(10, 150, quick));
    assertTrue(result.chosen().meets());
    assertEquals(0, result.chosen().measured().overTravel());
    Measured fresh = result.tuned().orElseThrow().measured();
    double over = ToyCanals.overTravel(setting(result, 0), setting(result, 1));
    assertTrue(over > 0.025, over + " at " + result.chosen().texts());
    assertEquals(over, fresh.value(TuneTarget.Measure.OVER_TRAVEL), 4 * error(over, 4_000));
    assertEquals(Verdict.FAIL, result.verdict());
    assertTrue(
        result.findings().stream()
            .anyMatch(f -> f.startsWith("Overfitted: over-travel 0.00 % on the 10 tuning canals")),
        result.findings().toString());
    // Enough canals: the same search keeps the limit.
    TuneResult more = run(ToyCanals.tuning(2_000, 80, quick), "more", 2, () -> false);
    assertEquals(Verdict.PASS, more.verdict(), more.findings().toString());
  }

  @Test
  void theAnswerDoesNotDependOnWorkersOrInterruptions() throws Exception {
    Tuning tuning = ToyCanals.tuning(300, 40, ToyCanals.target(0.05, 600));
    TuneResult one = run(tuning, "one", 1, () -> false);
    String bytes = one.values().toString() + one.tried();
    for (int workers : new int[] {2, 3, 8}) {
      TuneResult more = run(tuning, "w" + workers, workers, () -> false);
      assertEquals(bytes, more.values().toString() + more.tried());
    }
    AtomicLong asked = new AtomicLong();
    TuneResult part = run(tuning, "cut", 2, () -> asked.incrementAndGet() > 150);
    assertFalse(part.complete());
    assertEquals(Verdict.UNDECIDED, part.verdict());
    assertTrue(part.tried().size() > 1 && part.tried().size() < 40, part.tried().size() + "");
    assertTrue(part.findings().get(0).contains("interrupted"), part.findings().toString());
    long before = new TuneState(dir.resolve("cut"), tuning).trials();
    assertTrue(before > 0);
    TuneResult whole = run(tuning, "cut", 2, () -> false);
    assertEquals(bytes, whole.values().toString() + whole.tried());
    // Nothing twice: the file holds each piece once.
    assertArrayEquals(
        Files.readAllLines(dir.resolve("one").resolve(TuneState.NAME)).stream().sorted().toArray(),
        Files.readAllLines(dir.resolve("cut").resolve(TuneState.NAME)).stream().sorted().toArray());
  }

  @Test
  void anInterruptedJudgementKeepsItsPieces() throws Exception {
    Tuning tuning = ToyCanals.tuning(100, 20, ToyCanals.target(0.05, 2_000));
    AtomicLong asked = new AtomicLong();
    TuneResult part = run(tuning, "cut", 1, () -> asked.incrementAndGet() > 180);
    assertEquals(20, part.tried().size());
    assertFalse(part.complete());
    assertTrue(part.findings().get(0).contains("in the judgement"), part.findings().toString());
    assertTrue(new TuneState(dir.resolve("cut"), tuning).trials() > 20 * 100);
    assertEquals(
        run(tuning, "one", 1, () -> false).values().toString(),
        run(tuning, "cut", 1, () -> false).values().toString());
  }

  @Test
  void aLedgerOfOtherWorkAndADamagedOneAreRefused() throws Exception {
    Tuning tuning = ToyCanals.tuning(100, 20, ToyCanals.target(0.05, 600));
    run(tuning);
    Path at = dir.resolve("one");
    Tuning other = ToyCanals.tuning(100, 21, ToyCanals.target(0.05, 600));
    assertTrue(message(at, other).contains("another space"), message(at, other));
    Path file = at.resolve(TuneState.NAME);
    String text = Files.readString(file);
    // Cut in the last line: that piece is done again.
    Files.writeString(file, text.substring(0, text.length() - 20));
    assertEquals(tuningTrials(text) - 1, lines(new TuneState(at, tuning), file));
    Files.writeString(file, text.replaceFirst("\t0", "\t1"));
    assertTrue(message(at, tuning).contains(NAME_OF_DAMAGE), message(at, tuning));
  }

  private static final String NAME_OF_DAMAGE = "tune.state:2: the file is damaged";

  private static long tuningTrials(String text) {
    return text.lines().count();
  }

  private static long lines(TuneState opened, Path file) throws IOException {
    assertTrue(opened.trials() > 0);
    return Files.readString(file).lines().count();
  }

  private static String message(Path at, Tuning tuning) {
    return String.valueOf(
        assertThrows(IOException.class, () -> new TuneState(at, tuning)).getMessage());
  }

  /** A setting that nobody would write is not tried; the ends of a range are. */
  @Test
  void tunedValuesHaveFewDigits() throws Exception {
    Tuning tuning = ToyCanals.tuning(10, 20, ToyCanals.target(0.05, 600));
    assertArrayEquals(
        new long[] {123_000, 988_000}, tuning.settings(new double[] {0.12345, 0.9876}));
    assertArrayEquals(new long[] {0, 1_000_000}, tuning.settings(new double[] {-1, 1}));
    assertArrayEquals(
        new long[] {123_000, 988_000},
        tuning.settings(tuning.place(new long[] {123_000, 988_000})));
  }

  @Test
  void whatCannotBeTunedIsNamedAtOnce() throws Exception {
    Space space = ToyCanals.space(5, 3, ToyCanals.target(0.005, 500));
    PlanException e =
        assertThrows(
            PlanException.class, () -> new Tuning(space, ToyCanals::trial, "", new long[] {0, 0}));
    String all = String.valueOf(e.getMessage());
    assertTrue(all.contains("toy.yaml: repeats: 5 canals at each point"), all);
    assertTrue(all.contains("toy.yaml: trials: 15 trials are 3 points"), all);
    assertTrue(all.contains("at least 15 points, 75 trials, are needed for 2 factors"), all);
    assertTrue(
        all.contains(
            "toy.yaml:7: target.over_travel: fresh_canals 500 cannot confirm at_most 0.005, not"
                + " even with 0 events; at least 598 canals are needed"),
        all);
    Space bare =
        new Space(
            space.source(),
            space.plan(),
            space.condition(),
            space.head(),
            List.of(),
            List.of(),
            List.of());
    String missing =
        String.valueOf(
            assertThrows(
                    PlanException.class, () -> new Tuning(bare, ToyCanals::trial, "", new long[0]))
                .getMessage());
    assertTrue(missing.contains("target: missing"), missing);
    assertTrue(missing.contains("factors: none is of the settings"), missing);
  }

  /** Settings at the aim are confirmed with the stated power, by the binomial distribution. */
  @Test
  void theAimHasTheStatedPower() {
    for (double limit : new double[] {0.005, 0.05, 0.3}) {
      int n = 3_000;
      double aim = Aim.share(limit, n);
      BinomialDistribution counts = BinomialDistribution.of(n, aim);
      double confirmed = 0;
      for (int k = 0; k <= n; k++) {
        if (new Proportion(k, n).upperBound(0.95).orElse(1) > limit) {
          break;
        }
        confirmed += counts.probability(k);
      }
      assertEquals(0.8, confirmed, 1e-6);
    }
    assertEquals(598, Aim.fewestCanals(0.005));
    assertEquals(0, Aim.mostCount(0.005, 598));
    assertEquals(-1, Aim.mostCount(0.005, 597));
  }

  /** Intervals of paired shares and of the spread hold the truth as often as they say. */
  @Test
  void theIntervalsHoldTheTruth() {
    int studies = 400;
    int held = 0;
    int spread = 0;
    for (int study = 0; study < studies; study++) {
      RandomStream random = RandomStream.of(study, "coverage");
      long onlyOld = 0;
      long onlyHere = 0;
      CanalSums sums = new CanalSums(1);
      for (int canal = 0; canal < 300; canal++) {
        double u = random.nextDouble();
        onlyOld += u < 0.10 ? 1 : 0;
        onlyHere += u > 0.94 ? 1 : 0;
        // An exponential stop error with a standard deviation of 0.3 mm: far from normal.
        long microns = Math.round(-300 * Math.log1p(-random.nextDouble()));
        sums.add(
            new org.stopwell.harness.explore.Evaluation[] {
              new org.stopwell.harness.explore.Evaluation(
                  true,
                  java.util.OptionalLong.of(microns),
                  0,
                  true,
                  false,
                  false,
                  false,
                  microns,
                  0,
                  1)
            });
      }
      Interval difference =
          Paired.share(TuneTarget.Measure.EARLY_STOP, onlyOld, onlyHere, 300)
              .interval()
              .orElseThrow();
      held += difference.low() <= -0.04 && -0.04 <= difference.high() ? 1 : 0;
      Optional<Interval> sd =
          Measured.of(sums, 0).interval(TuneTarget.Measure.STOP_ERROR_SPREAD, 0.95);
      spread += sd.orElseThrow().low() <= 0.3 && 0.3 <= sd.orElseThrow().high() ? 1 : 0;
    }
    assertTrue(held >= 0.95 * studies, held + " of " + studies);
    // A large-sample interval of a skewed distribution: some points short at 300 canals.
    assertTrue(spread >= 0.88 * studies, spread + " of " + studies);
  }
}
