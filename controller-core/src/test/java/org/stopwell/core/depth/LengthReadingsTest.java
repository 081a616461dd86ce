package org.stopwell.core.depth;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.stopwell.core.depth.LengthRecord.Radiograph;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.core.frame.Reason;
import org.stopwell.core.frame.State;
import org.stopwell.core.frame.Trust;

class LengthReadingsTest {

  @Test
  void threeThatAgreeMakeALengthAndTheMedianIsIt() {
    LengthReadings readings = of(0, 19_540, 19_500);
    assertTrue(readings.record().isEmpty());
    readings.add(new LengthReading(3, 19_520, 0, 500, 20));
    LengthRecord record = readings.record().orElseThrow();
    assertEquals(19_520, record.lengthMicrons());
    assertEquals(40, record.spreadMicrons());
    assertEquals(20, record.fileSize());
    // s = 20 µm, n = 3: 2 · sqrt(400 / 3) = 23.09, rounded up.
    assertEquals(24, record.uncertaintyMicrons());
  }

  @Test
  void anEvenNumberTakesTheMiddleOfTheMiddleTwo() {
    assertEquals(
        19_515, of(0, 19_500, 19_510, 19_520, 19_590).record().orElseThrow().lengthMicrons());
  }

  @Test
  void threeThatDoNotAgreeMakeNoLength() {
    assertTrue(of(0, 19_500, 19_601, 19_702).record().isEmpty());
    assertTrue(of(0, 19_500, 19_550, 19_600).record().isPresent(), "the range counts as agreeing");
    assertTrue(of(0, 19_500, 19_550, 19_601).record().isEmpty());
  }

  @Test
  void oneOutsiderIsCountedButNotUsed() {
    LengthRecord record = of(0, 18_000, 19_500, 19_520, 19_540).record().orElseThrow();
    assertEquals(19_520, record.lengthMicrons());
    assertEquals(3, record.agreeing());
    assertEquals(4, record.taken());
  }

  @Test
  void theReadingErrorOfTheReferencePointEntersTheUncertainty() {
    // 2 · sqrt(0 + 250² / 3) = 288.7 µm.
    assertEquals(289, of(250, 19_500, 19_500, 19_500).record().orElseThrow().uncertaintyMicrons());
  }

  @Test
  void aRecheckWithALargerFileFlagsAChangedLength() {
    LengthRecord before = of(100, 19_500, 19_500, 19_500).record().orElseThrow();
    assertFalse(before.hasChanged(of(100, 19_600, 19_600, 19_600).record().orElseThrow()));
    assertTrue(before.hasChanged(of(100, 19_800, 19_800, 19_800).record().orElseThrow()));
    assertTrue(before.hasChanged(of(100, 19_200, 19_200, 19_200).record().orElseThrow()));
  }

  @Test
  void aRecheckIsJudgedByTheUncertaintiesOfBoth() {
    // 2 · sqrt(260² / 3) = 300.2, rounded up 301, and 0: a change of 301 µm is within, 302 is not.
    LengthRecord rough = of(260, 19_500, 19_500, 19_500).record().orElseThrow();
    LengthRecord within = of(0, 19_801, 19_801, 19_801).record().orElseThrow();
    LengthRecord beyond = of(0, 19_802, 19_802, 19_802).record().orElseThrow();
    assertEquals(301, rough.uncertaintyMicrons());
    assertEquals(0, within.uncertaintyMicrons());
    assertFalse(rough.hasChanged(within));
    assertFalse(within.hasChanged(rough));
    assertTrue(rough.hasChanged(beyond));
    assertTrue(beyond.hasChanged(rough));
  }

  @Test
  void theRecordIsDataForTheChart() {
    LengthRecord record =
        of(250, 19_500, 19_500, 19_500).record().orElseThrow().with(Radiograph.CONFIRMS);
    assertEquals(
        "{\"length_record\": 2, \"length_mm\": 19.500, \"uncertainty_mm\": 0.289, \"coverage_factor\": 2,"
            + " \"standoff_mm\": 0.500, \"readings_agreeing\": 3, \"readings_taken\": 3,"
            + " \"spread_mm\": 0.000, \"reference\": \"incisal \\\"edge\\\"\\u000a\","
            + " \"reference_error_mm\": 0.250, \"file_size\": 15, \"radiograph\": \"confirms\"}",
        record.toJson());
  }

  @Test
  void readingsOfAnotherStandoffAreNotMixedIn() {
    LengthReadings readings = of(0, 19_500);
    assertThrows(
        IllegalArgumentException.class,
        () -> readings.add(new LengthReading(9, 19_500, 0, 1_000, 15)));
    assertThrows(IllegalArgumentException.class, () -> new LengthReadings(-1, "", 0));
  }

  @Test
  void aStopAtTheStandoffGivesOneReadingWithItsStopErrorPutRight() {
    LengthWatch watch = new LengthWatch(500, 15);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    in.insertionPresent = true;
    in.insertionMicrons = 19_420;
    out.state = State.HOLDING;
    out.reason = Reason.STANDOFF_REACHED;
    out.trust = Trust.SURE;
    out.readingPresent = true;
    out.remainingMicrons = 580;
    out.boundMicrons = 400;
    assertTrue(watch.look(0, in, out).isEmpty(), "not yet at rest");
    assertTrue(watch.look(299_999_999, in, out).isEmpty());
    assertEquals(
        new LengthReading(300_000_000, 19_500, 400, 500, 15),
        watch.look(300_000_000, in, out).orElseThrow());
    assertTrue(watch.look(400_000_000, in, out).isEmpty(), "once per stop");
    out.state = State.TURNING;
    watch.look(500_000_000, in, out);
    out.state = State.HOLDING;
    out.reason = Reason.TRUST_LOST;
    watch.look(600_000_000, in, out);
    assertTrue(watch.look(1_000_000_000, in, out).isEmpty(), "not a stop at the standoff");
  }

  @Test
  void aWideBoundIsStatedWithTheReadingAndALeakGivesNone() {
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    in.insertionPresent = true;
    in.insertionMicrons = 19_500;
    out.state = State.HOLDING;
    out.reason = Reason.STANDOFF_REACHED;
    out.trust = Trust.DOUBTFUL;
    out.readingPresent = true;
    out.remainingMicrons = 500;
    for (Cause cause : Cause.values()) {
      LengthWatch watch = new LengthWatch(500, 15);
      out.cause = cause;
      watch.look(0, in, out);
      assertEquals(cause == Cause.WIDE, watch.look(300_000_000, in, out).isPresent(), cause.name());
    }
    out.trust = Trust.NONE;
    out.cause = Cause.WIDE;
    LengthWatch watch = new LengthWatch(500, 15);
    watch.look(0, in, out);
    assertTrue(watch.look(300_000_000, in, out).isEmpty(), "no distance");
  }

  @Test
  void everyStopSettlesForItself() {
    LengthWatch watch = new LengthWatch(500, 15);
    ControllerInput in = new ControllerInput();
    ControllerOutput out = new ControllerOutput();
    in.insertionPresent = true;
    out.readingPresent = true;
    out.trust = Trust.SURE;
    out.reason = Reason.STANDOFF_REACHED;
    out.state = State.HOLDING;
    assertTrue(watch.look(0, in, out).isEmpty());
    out.state = State.TURNING;
    assertTrue(watch.look(100_000_000, in, out).isEmpty());
    out.state = State.HOLDING;
    assertTrue(watch.look(200_000_000, in, out).isEmpty());
    assertTrue(watch.look(499_999_999, in, out).isEmpty(), "300 ms after the second stop");
    assertTrue(watch.look(500_000_000, in, out).isPresent());
    out.state = State.TURNING;
    assertTrue(watch.look(600_000_000, in, out).isEmpty());
    out.state = State.HOLDING;
    assertTrue(watch.look(700_000_000, in, out).isEmpty());
    assertTrue(watch.look(1_000_000_000, in, out).isPresent(), "a reading for each");
  }

  private static LengthReadings of(int referenceError, int... lengths) {
    LengthReadings readings =
        new LengthReadings(
            LengthReadings.DEFAULT_RANGE_MICRONS, "incisal \"edge\"\n", referenceError);
    for (int i = 0; i < lengths.length; i++) {
      readings.add(new LengthReading(i, lengths[i], 0, 500, 15));
    }
    return readings;
  }

  @Test
  void readingsAreKeptInTheOrderInWhichTheyWereTaken() {
    assertEquals(
        List.of(19_540, 19_500),
        of(0, 19_540, 19_500).taken().stream().map(LengthReading::lengthMicrons).toList());
  }

  @Test
  void theSpreadAboutTheMeanEntersAlsoWhenTheMeanIsNotTheMedian() {
    // 0, 0 and 90 µm above: s = 51.96 µm; 2 · 51.96 / sqrt(3) = 60.0
    assertEquals(60, of(0, 19_500, 19_500, 19_590).record().orElseThrow().uncertaintyMicrons(), 1);
  }

  @Test
  void noRangeAndNoErrorAreAllowedAndNegativeOnesAreNot() {
    new LengthReadings(0, "cusp", 0);
    assertThrows(IllegalArgumentException.class, () -> new LengthReadings(-1, "cusp", 0));
    assertThrows(IllegalArgumentException.class, () -> new LengthReadings(0, "cusp", -1));
  }
}
