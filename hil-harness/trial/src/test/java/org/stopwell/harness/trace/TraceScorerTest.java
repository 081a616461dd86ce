package org.stopwell.harness.trace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.function.DoubleFunction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.plan.Settings;
import org.stopwell.harness.plan.Source;
import org.stopwell.harness.trace.TraceScore.Outcome;

/** A file goes down at 1 mm/s; an exact locator, or one that errs, says where it is. */
class TraceScorerTest {
  private static final double FROM_MM = 14;
  private static final double TO_MM = -2;

  @TempDir Path dir;

  @Test
  void theFileRestsWhereItIsAfterTheReactionTime() throws Exception {
    TraceScore score = score(5, mm -> number(mm));
    assertEquals(Outcome.STOPPED, score.outcome());
    assertEquals(score.truthMicrons() - 30, score.restMicrons(), 1);
    assertEquals(500, score.restMicrons(), 30);
    assertTrue(score.within(1));
    assertFalse(score.past());
    assertEquals(5_000_000, score.sampleNs());
    assertEquals(5, score.travelMicrons());
    assertEquals(FROM_MM - score.truthMicrons() / 1000.0, score.endNs() / 1e9, 1e-3);
  }

  @Test
  void anotherCoastCanBeStated() throws Exception {
    Path file = trace(5, mm -> number(mm));
    TraceScore score = new TraceScorer(locator(), Stage.LENGTH, 200).score(approach(file));
    assertEquals(score.truthMicrons() - 200, score.restMicrons());
  }

  @Test
  void aReadingThatErrsIsScoredByTheTruth() throws Exception {
    TraceScore early = score(5, mm -> number(mm - 0.7));
    assertEquals(700, early.errorMicrons(), 40);
    assertFalse(early.within(1));
    assertTrue(early.within(2));
    assertEquals(-700, early.readingErrorMicrons(), 40);
    TraceScore deep = score(5, mm -> number(mm + 0.7));
    assertEquals(Outcome.STOPPED, deep.outcome());
    assertEquals(-700, deep.errorMicrons(), 40);
    assertTrue(deep.past());
  }

  @Test
  void aFileThatRestsPastTheForamenOnlyByItsCoastIsPast() throws Exception {
    Path file = trace(5, mm -> number(mm));
    TraceScorer scorer = new TraceScorer(locator(), Stage.LENGTH, 700);
    assertTrue(scorer.score(approach(file)).past());
  }

  @Test
  void aLostSignalIsARefusalThereAndThen() throws Exception {
    TraceScore score = score(5, mm -> mm > 3 ? number(mm) : CsvColumns.NO_CONTACT);
    assertEquals(Outcome.REFUSED, score.outcome());
    assertTrue(score.driven());
    assertEquals(Cause.OPEN, score.cause());
    assertEquals(3_000, score.truthMicrons(), 100);
    assertFalse(score.past(), "the trace goes on past the foramen, the motor does not");
  }

  @Test
  void aFileThatIsLiftedOutOfTheFluidAndComesBackIsScoredWhereItStops() throws Exception {
    StringBuilder rows = new StringBuilder("t_ms,distance_mm,demand,true_remaining_mm\n");
    for (int ms = 0; ms < 17_000; ms += 5) {
      double mm = ms < 3_000 ? 11_000 - ms : ms < 6_000 ? 5_000 + ms : 17_000 - ms;
      String shown = mm > 9_500 ? CsvColumns.NO_CONTACT : number(mm / 1000);
      String pressed = ms > 5_000 && ms < 7_800 ? "0" : "1";
      rows.append(String.join(",", Integer.toString(ms), shown, pressed, number(mm / 1000)));
      rows.append('\n');
    }
    Path file = Files.writeString(dir.resolve("T_1.csv"), rows);
    TraceScore score =
        new TraceScorer(locator(), Stage.LENGTH, TraceScorer.COAST_OF_SETTINGS)
            .score(approach(file));
    assertEquals(Outcome.STOPPED, score.outcome());
    assertTrue(score.within(1));
  }

  @Test
  void aControllerThatLosesTheSignalPastTheForamenHasDrivenPast() throws Exception {
    TraceScore score = score(5, mm -> mm > -1 ? number(mm + 2) : CsvColumns.NO_CONTACT);
    assertEquals(Outcome.REFUSED, score.outcome());
    assertTrue(score.past());
  }

  @Test
  void withoutASignalTheMotorNeverStarts() throws Exception {
    TraceScore score = score(5, mm -> CsvColumns.NO_CONTACT);
    assertEquals(Outcome.REFUSED, score.outcome());
    assertFalse(score.driven());
    assertFalse(score.past());
  }

  @Test
  void aTraceThatEndsBeforeTheStandoffHasNoDecision() throws Exception {
    TraceScore score = score(5, mm -> number(mm + 4));
    assertEquals(Outcome.NO_STOP, score.outcome());
    assertTrue(score.past());
    assertEquals(-2_000, score.truthMicrons(), 10);
  }

  /** Time passes in milliseconds between two rows: slow sampling is not a stale signal. */
  @ParameterizedTest
  @ValueSource(ints = {5, 20, 50, 100, 200})
  void aSlowTraceIsNotStale(int everyMs) throws Exception {
    TraceScorer scorer = new TraceScorer(resistance(), Stage.LENGTH, -1);
    TraceScore score = scorer.score(approach(ohms(everyMs)));
    assertEquals(Outcome.STOPPED, score.outcome(), score.toString());
    assertEquals(500, score.restMicrons(), 60, score.toString());
    assertEquals(2 * everyMs > 60, scorer.slow(score));
  }

  @Test
  void aTraceThatIsFarTooSlowIsRefused() throws Exception {
    Path file = ohms(600);
    TraceScorer scorer = new TraceScorer(resistance(), Stage.LENGTH, -1);
    List<String> said =
        assertThrows(TraceException.class, () -> scorer.score(approach(file))).mistakes();
    assertTrue(
        said.get(0).contains("a sample every 600 ms, must be at most 500 ms"), said.toString());
  }

  /** 6 kOhm at the foramen and 1 kOhm more for each mm before it. */
  private Path ohms(int everyMs) throws IOException {
    return Files.writeString(
        dir.resolve("T_1.csv"),
        "t_ms,z500hz_re_ohm,z500hz_im_ohm,true_remaining_mm\n"
            + rows(everyMs, mm -> number(6_000 + 1_000 * mm) + ",-0.1"));
  }

  private static Settings resistance() throws Exception {
    return Settings.read(
        new Source(
            "resistance.yaml",
            """
            settings: 1
            name: resistance
            file: {size: 25}
            sense: {policy: resistance, low_hz: 500}
            stages:
              length: {standoff_mm: 0.5, reaction_ms: 30, on_wide: ease}
            calibration:
              - {resistance_ohm: 4000, remaining_mm: -2}
              - {resistance_ohm: 22000, remaining_mm: 16}
            """));
  }

  @Test
  void aDemandThatIsNeverGivenStartsNothing() throws Exception {
    Path file =
        Files.writeString(
            dir.resolve("T_demand.csv"),
            "t_ms,distance_mm,demand,true_remaining_mm\n" + rows(5, mm -> number(mm) + ",0"));
    TraceScore score = new TraceScorer(locator(), Stage.LENGTH, -1).score(approach(file));
    assertEquals(Outcome.REFUSED, score.outcome());
    assertFalse(score.driven());
  }

  @Test
  void aDirectoryIsScoredInItsOrderWithAnyNumberOfJobs() throws Exception {
    for (int i = 0; i < 7; i++) {
      double bias = 0.1 * i;
      Files.move(trace(5, mm -> number(mm - bias)), dir.resolve("T" + i + "_1.csv"));
    }
    TraceDirectory traces = TraceDirectory.read(dir);
    TraceScorer scorer = new TraceScorer(locator(), Stage.LENGTH, -1);
    List<TraceScore> one = scorer.score(traces, 1, done -> {});
    assertEquals(one, scorer.score(traces, 3, done -> {}));
    assertEquals(7, one.size());
    for (int i = 0; i < 7; i++) {
      assertEquals(100 * i, one.get(i).errorMicrons(), 40);
    }
  }

  @Test
  void theMistakesOfAllTracesAreNamedTogether() throws Exception {
    trace(5, mm -> number(mm));
    Files.writeString(dir.resolve("A_1.csv"), "t_ms,distance_mm,true_remaining_mm\n0,1,x\n");
    Files.writeString(dir.resolve("B_1.csv"), "t_ms,distance_mm,true_remaining_mm\n0,1,\n");
    TraceScorer scorer = new TraceScorer(locator(), Stage.LENGTH, -1);
    TraceDirectory traces = TraceDirectory.read(dir);
    List<String> said =
        assertThrows(TraceException.class, () -> scorer.score(traces, 2, done -> {})).mistakes();
    assertEquals(2, said.size(), said.toString());
    assertTrue(said.get(0).contains("A_1.csv:2"), said.toString());
    assertTrue(said.get(1).contains("B_1.csv:2"), said.toString());
  }

  private TraceScore score(int everyMs, DoubleFunction<String> shown) throws Exception {
    return new TraceScorer(locator(), Stage.LENGTH, TraceScorer.COAST_OF_SETTINGS)
        .score(approach(trace(everyMs, shown)));
  }

  private static TracedApproach approach(Path file) {
    return new TracedApproach(file, "T", TraceDirectory.FLUID_NOT_STATED, 0);
  }

  private Path trace(int everyMs, DoubleFunction<String> shown) throws IOException {
    return Files.writeString(
        dir.resolve("T_1.csv"), "t_ms,distance_mm,true_remaining_mm\n" + rows(everyMs, shown));
  }

  private static String rows(int everyMs, DoubleFunction<String> shown) {
    StringBuilder rows = new StringBuilder();
    for (int ms = 0; FROM_MM - ms / 1000.0 > TO_MM; ms += everyMs) {
      double mm = FROM_MM - ms / 1000.0;
      rows.append(ms).append(',').append(shown.apply(mm)).append(',').append(number(mm));
      rows.append('\n');
    }
    return rows.toString();
  }

  private static String number(double mm) {
    return String.format(Locale.ROOT, "%.3f", mm);
  }

  private static Settings locator() throws Exception {
    return Settings.read(
        new Source(
            "locator.yaml",
            """
            settings: 1
            name: locator
            file: {size: 25}
            sense:
              policy: locator
              locator_step_mm: 0.001
              locator_rate_hz: 200
              distance_noise_mm: 0.001
            stages:
              length: {standoff_mm: 0.5, reaction_ms: 30, on_wide: ease}
            """));
  }
}
