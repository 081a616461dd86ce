package org.stopwell.harness.learn;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.stopwell.core.weights.DepthPass;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.harness.assess.ToothTraces;
import org.stopwell.harness.trace.TraceDirectory;
import org.stopwell.harness.trace.TraceException;
import org.stopwell.rig.weights.ShippedWeights;

/** What teaching promises, on a few simulated teeth by a model that the training did not use. */
class LearningTest {
  /** Few steps: the tests look at what is promised, not at the last of the accuracy. */
  private static final int STEPS_PER_TOOTH = 4;

  private static final String KIND = "lumped";

  @TempDir static Path traces;
  private static LearnResult result;

  @BeforeAll
  static void learn() throws Exception {
    ToothTraces.write(traces, KIND, 0, 20);
    result = learned(traces, 2);
  }

  private static LearnChoice choice(Path directory, int jobs) throws TraceException {
    return new LearnChoice(
        TraceDirectory.read(directory),
        ShippedWeights.get(),
        Optional.empty(),
        false,
        "test",
        jobs);
  }

  private static LearnResult learned(Path directory, int jobs) throws TraceException {
    return new Learning(choice(directory, jobs), line -> {}, STEPS_PER_TOOTH).run(() -> {});
  }

  @Test
  void theSameTeethGiveTheSameBytesAtAnyNumberOfJobs() throws Exception {
    assertEquals(
        DepthWeightsText.encode(result.weights()),
        DepthWeightsText.encode(learned(traces, 1).weights()));
  }

  @Test
  void theFileNamesItsTeethAndWhereItComesFrom() throws Exception {
    DepthWeights read =
        DepthWeightsText.decode("taught", DepthWeightsText.encode(result.weights()));
    assertEquals(20, read.origin().teeth().size());
    assertTrue(read.origin().teeth().contains("t7"));
    assertTrue(read.origin().recipe().contains(ShippedWeights.get().fingerprintText()));
    assertEquals(List.of("brimful", "half-wet"), read.validity().fluids());
    assertTrue(read.recorded().isEmpty());
    assertTrue(read.bound().factors()[0] < 100, "20 teeth state a bound");
    assertTrue(read.bound().limit() >= 1 && read.bound().limit() < 1e6);
  }

  @Test
  void otherTeethOfTheSameKindAreReadBetterThanUntaught(@TempDir Path others) throws Exception {
    ToothTraces.write(others, KIND, 100, 24);
    StartWeights start = new StartWeights(ShippedWeights.get(), true);
    TaughtTeeth unseen =
        TaughtTeeth.read(TraceDirectory.read(others), start, new double[2], new Work(2), () -> {});
    DecidingReading.Estimate taught =
        DecidingReading.by(new DepthPass(result.weights().alone()), start);
    double before = DecidingReading.meanLoss(unseen.teeth(), DecidingReading.untaught());
    double after = DecidingReading.meanLoss(unseen.teeth(), taught);
    System.out.println("loss in other teeth " + before + " untaught, " + after + " taught");
    assertTrue(after < before, after + " taught, " + before + " untaught");
  }

  @Test
  void theCurveOfTheRatioRisesAndStatesItsSpread() {
    List<RatioCurve.Point> points = result.ratioCurve().points();
    assertTrue(points.size() > 10, "points " + points.size());
    int stated = 0;
    for (int i = 0; i < points.size(); i++) {
      // a point that too few teeth have passed states none
      stated += points.get(i).boundMm().isPresent() ? 1 : 0;
      assertTrue(points.get(i).boundMm().orElse(1) > 0);
      assertTrue(i == 0 || points.get(i).ratio() > points.get(i - 1).ratio());
    }
    assertTrue(stated > 10, "stated " + stated);
    assertTrue(
        result
            .ratioCurve()
            .yaml(List.of(300, 1500, 7000, 20_000))
            .contains("remaining_mm: 0.5, bound_mm: "));
  }

  @Test
  void nineTeethAreRefused(@TempDir Path few) throws Exception {
    ToothTraces.write(few, KIND, 0, 9);
    TraceException refused = assertThrows(TraceException.class, () -> learned(few, 1));
    assertTrue(
        String.valueOf(refused.getMessage())
            .contains("traces of 9 teeth; learning needs at least 10"));
  }

  @Test
  void twelveTeethAreNeverSure(@TempDir Path few) throws Exception {
    ToothTraces.write(few, KIND, 0, 12);
    LearnResult twelve = learned(few, 2);
    assertEquals(Double.POSITIVE_INFINITY, twelve.weights().bound().factors()[0]);
    assertTrue(twelve.sure().isEmpty());
    DepthWeights read =
        DepthWeightsText.decode("taught", DepthWeightsText.encode(twelve.weights()));
    assertEquals(twelve.weights().fingerprint(), read.fingerprint());
  }

  @Test
  void anApproachThatStopsHighIsNamed(@TempDir Path few) throws Exception {
    ToothTraces.write(few, KIND, 0, 10);
    Path high = few.resolve("t3_1.csv");
    List<String> rows = Files.readAllLines(high);
    Files.write(high, rows.stream().filter(r -> r.startsWith("t") || far(r)).toList());
    TraceException refused = assertThrows(TraceException.class, () -> learned(few, 1));
    assertEquals(1, refused.mistakes().size());
    assertTrue(refused.mistakes().get(0).contains("t3_1.csv: the file comes no nearer"));
  }

  private static boolean far(String row) {
    return Double.parseDouble(row.substring(row.lastIndexOf(',') + 1)) > 1.2;
  }
}
