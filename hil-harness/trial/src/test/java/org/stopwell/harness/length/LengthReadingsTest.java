package org.stopwell.harness.length;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

class LengthReadingsTest {
  private static final int RANGE = 100;

  @Test
  void threeThatAgreeMakeALengthAndTheirMeanIsIt() {
    LengthReadings readings = of(0, 19_540, 19_500);
    assertTrue(readings.record().isEmpty());
    readings.add(new LengthReading(3, 19_520, 410, 500, 20));
    LengthRecord record = readings.record().orElseThrow();
    assertEquals(19_520, record.lengthMicrons());
    assertEquals(40, record.spreadMicrons());
    assertEquals(20, record.fileSize());
    assertEquals(410, record.boundMicrons());
  }

  @Test
  void theUncertaintyOfThreeReadingsHasTheFactorOfTwoDegreesOfFreedom() {
    // s = 20 µm is below 100 / 3.3 = 30.3: 4.303 · 30.3 / √3 = 75.3, rounded up
    LengthRecord close = of(0, 19_500, 19_520, 19_540).record().orElseThrow();
    assertEquals(2, close.uncertainty().freedom());
    assertEquals(76, close.uncertaintyMicrons());
    // s = 50 µm: 4.303 · 50 / √3 = 124.2
    assertEquals(125, of(0, 19_450, 19_500, 19_550).record().orElseThrow().uncertaintyMicrons());
  }

  @Test
  void threeThatDoNotAgreeMakeNoLength() {
    assertTrue(of(0, 19_500, 19_601, 19_702).record().isEmpty());
    assertTrue(of(0, 19_500, 19_550, 19_600).record().isPresent(), "the range counts as agreeing");
    assertTrue(of(0, 19_500, 19_550, 19_601).record().isEmpty());
  }

  @Test
  void aReadingFarFromTheOthersIsCountedAndLeftOut() {
    LengthRecord record = of(0, 18_000, 19_500, 19_520, 19_540).record().orElseThrow();
    assertEquals(19_520, record.lengthMicrons());
    assertEquals(List.of(3, 3, 4), List.of(record.agreeing(), record.used(), record.taken()));
    assertTrue(of(0, 18_000, 18_010, 18_020, 19_500, 21_000, 21_500, 22_000).record().isEmpty());
  }

  @Test
  void aReadingBesideTheOthersWidensTheUncertaintyInsteadOfVanishing() {
    LengthRecord alike = of(0, 19_500, 19_510, 19_520, 19_530).record().orElseThrow();
    LengthRecord beside = of(0, 19_500, 19_510, 19_520, 19_800).record().orElseThrow();
    assertEquals(3, beside.agreeing());
    assertEquals(4, beside.used());
    assertTrue(beside.uncertaintyMicrons() > 4 * alike.uncertaintyMicrons());
  }

  @Test
  void theReferencePointAndTheRubberStopEnterTheUncertainty() {
    // 250/√3 = 144.3; with 30.3/√3 = 17.5: √ = 145.4, known: 1.962 · 145.4 = 285.2
    assertEquals(286, of(250, 19_500, 19_500, 19_500).record().orElseThrow().uncertaintyMicrons());
    LengthReadings stop =
        new LengthReadings(
            new LengthMethod(
                "MB",
                new ReferencePoint("cusp", 5_000, 100),
                DepthBy.RUBBER_STOP,
                DepthBy.RUBBER_STOP.errorMicrons(),
                DepthBy.RUBBER_STOP.rangeMicrons(),
                MovedBy.HAND_FILE));
    for (int length : new int[] {19_400, 19_500, 19_600}) {
      stop.add(new LengthReading(0, length, 0, 500, 15));
    }
    // 250/√3 = 144.3, 100/√3 = 57.7, 500/3.3/√3 = 87.5 with 2: √ = 178.4, ν = 34, 2.032 · 178.4
    LengthRecord record = stop.record().orElseThrow();
    assertEquals(34, record.uncertainty().freedom());
    assertEquals(363, record.uncertaintyMicrons(), 1);
  }

  /** Also where three agree by chance: choosing must not make a length look better than it is. */
  @Test
  void theStatedIntervalCoversTheTruthNinetyFiveTimesInAHundred() {
    Random random = new Random(11);
    int trials = 1_500;
    for (int n : new int[] {3, 5, 10}) {
      for (int deviation : new int[] {10, 30, 50, 70}) {
        int made = 0;
        int covered = 0;
        while (made < trials) {
          int[] lengths = new int[n];
          for (int i = 0; i < n; i++) {
            lengths[i] = 19_500 + (int) Math.round(deviation * random.nextGaussian());
          }
          LengthRecord record = of(0, lengths).record().orElse(null);
          if (record != null) {
            made++;
            covered +=
                Math.abs(record.lengthMicrons() - 19_500) <= record.uncertaintyMicrons() ? 1 : 0;
          }
        }
        assertTrue(
            covered >= 0.93 * trials,
            covered + " of " + trials + " with " + n + " readings, deviation " + deviation);
      }
    }
  }

  @Test
  void readingsOfAnotherStandoffAreNotMixedIn() {
    LengthReadings readings = of(0, 19_500);
    assertThrows(
        IllegalArgumentException.class,
        () -> readings.add(new LengthReading(9, 19_500, 0, 1_000, 15)));
  }

  @Test
  void readingsAreKeptInTheOrderInWhichTheyWereTaken() {
    assertEquals(
        List.of(19_540, 19_500),
        of(0, 19_540, 19_500).taken().stream().map(LengthReading::lengthMicrons).toList());
  }

  @Test
  void noRangeAndNoErrorAreAllowedAndNegativeOnesAreNot() {
    ReferencePoint cusp = new ReferencePoint("cusp", 0, 0);
    new LengthMethod("", cusp, DepthBy.AXIS, 0, 0, MovedBy.MOTOR);
    assertThrows(
        IllegalArgumentException.class,
        () -> new LengthMethod("", cusp, DepthBy.AXIS, 0, -1, MovedBy.MOTOR));
    assertThrows(IllegalArgumentException.class, () -> new ReferencePoint("cusp", 0, -1));
    assertThrows(IllegalArgumentException.class, () -> new ReferencePoint("cusp", -1, 0));
  }

  /** The record of these lengths, with a reference point that may be off by so much. */
  static LengthReadings of(int referenceError, int... lengths) {
    LengthReadings readings =
        new LengthReadings(
            new LengthMethod(
                "",
                new ReferencePoint("incisal \"edge\"\n", 0, referenceError),
                DepthBy.AXIS,
                0,
                RANGE,
                MovedBy.MOTOR));
    for (int i = 0; i < lengths.length; i++) {
      readings.add(new LengthReading(i, lengths[i], 0, 500, 15));
    }
    return readings;
  }
}
