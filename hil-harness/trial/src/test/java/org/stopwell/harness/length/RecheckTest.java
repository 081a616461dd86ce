package org.stopwell.harness.length;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.OptionalInt;
import java.util.Random;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.stopwell.harness.length.Radiograph.Finding;
import org.stopwell.harness.stats.ExpandedUncertainty;

class RecheckTest {
  private static final ReferencePoint CUSP = new ReferencePoint("MB cusp", 5_500, 100);

  @Test
  void anotherStandoffPointOrCanalIsNotCompared() {
    LengthRecord before = record("MB", CUSP, 21_000);
    assertEquals(List.of(), obstacles(before, "MB", CUSP, 500));
    assertEquals(
        List.of("standoff: 0.500 mm before, 1.000 mm now"), obstacles(before, "MB", CUSP, 1_000));
    assertEquals(
        List.of(
            "canal: MB before, ML now",
            "standoff: 0.500 mm before, 0.000 mm now",
            "reference point: MB cusp before, DB cusp now",
            "distance from the reference point to the orifice: 5.500 mm before, 6.000 mm now"),
        obstacles(before, "ML", new ReferencePoint("DB cusp", 6_000, 100), 0));
    assertEquals(List.of("canal: MB before, not stated now"), obstacles(before, "", CUSP, 500));
  }

  @Test
  void aContradictedLengthIsNotComparedAndAConfirmedOneIs() {
    LengthRecord before = record("MB", CUSP, 21_000);
    assertEquals(
        List.of(), obstacles(before.with(Radiograph.of(Finding.CONFIRMS)), "MB", CUSP, 500));
    assertEquals(
        List.of(
            "radiograph: contradicts before, not taken now; a length that a radiograph contradicts"
                + " is not compared"),
        obstacles(before.with(Radiograph.of(Finding.CONTRADICTS)), "MB", CUSP, 500));
  }

  @Test
  void aChangeIsBeyondTheExpandedUncertaintyOfTheDifference() {
    LengthRecord before = LengthReadingsTest.of(260, 19_500, 19_500, 19_500).record().orElseThrow();
    int limit = new Recheck(before, before).limitMicrons();
    // √2 · 1.962 · √(260²/3 + 17.5²) = 419.4, rounded up
    assertEquals(420, limit);
    for (int sign : new int[] {1, -1}) {
      assertFalse(new Recheck(before, moved(before, sign * limit)).changed());
      assertTrue(new Recheck(before, moved(before, sign * (limit + 1))).changed());
    }
  }

  @Test
  void theStatedChangeIsFoundNineTimesInTen() {
    Random random = new Random(5);
    int detectable = recheck(random, 0).detectableMicrons();
    int found = 0;
    int alarms = 0;
    int trials = 2_000;
    for (int i = 0; i < trials; i++) {
      found += recheck(random, detectable).changed() ? 1 : 0;
      alarms += recheck(random, 0).changed() ? 1 : 0;
    }
    assertTrue(found >= 0.87 * trials, found + " of " + trials + " at " + detectable + " µm");
    assertTrue(alarms <= 0.06 * trials, alarms + " of " + trials + " without a change");
  }

  @Test
  void theFilmContradictsFarFromTheApexAndPastIt() {
    assertFalse(Radiograph.measured(3_000, 3_000, 500).contradicts());
    assertTrue(Radiograph.measured(3_001, 3_000, 500).contradicts());
    assertFalse(Radiograph.measured(0, 3_000, 500).contradicts(), "foramen before the apex");
    assertTrue(Radiograph.measured(-1, 3_000, 500).contradicts(), "past the apex");
    assertFalse(Radiograph.measured(-300, 3_000, -500).contradicts(), "past it on purpose");
  }

  /** Five readings each, deviation 40 µm, and a point read anew within 0.1 mm. */
  private static Recheck recheck(Random random, int change) {
    return new Recheck(drawn(random, 0), drawn(random, change));
  }

  private static LengthRecord drawn(Random random, int change) {
    double point = 19_500 + change + 100 * (2 * random.nextDouble() - 1);
    while (true) {
      int[] lengths =
          IntStream.range(0, 5)
              .map(i -> (int) Math.round(point + 40 * random.nextGaussian()))
              .toArray();
      var record = LengthReadingsTest.of(100, lengths).record();
      if (record.isPresent()) {
        return record.get();
      }
    }
  }

  private static LengthRecord moved(LengthRecord record, int microns) {
    return new LengthRecord(
        record.method(),
        record.lengthMicrons() + microns,
        record.standoffMicrons(),
        record.agreeing(),
        record.used(),
        record.taken(),
        record.spreadMicrons(),
        record.boundMicrons(),
        record.uncertainty(),
        record.fileSize(),
        record.radiograph(),
        record.patencyMicrons());
  }

  private static List<String> obstacles(
      LengthRecord before, String canal, ReferencePoint reference, int standoff) {
    return Recheck.obstacles(
        before, LengthMethod.byAxis(canal, reference), standoff, Radiograph.NOT_TAKEN);
  }

  private static LengthRecord record(String canal, ReferencePoint reference, int length) {
    return new LengthRecord(
        LengthMethod.byAxis(canal, reference),
        length,
        500,
        3,
        3,
        3,
        0,
        0,
        new ExpandedUncertainty(60, 40),
        15,
        Radiograph.NOT_TAKEN,
        OptionalInt.empty());
  }
}
