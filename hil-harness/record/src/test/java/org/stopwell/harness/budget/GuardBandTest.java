package org.stopwell.harness.budget;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.stopwell.harness.budget.GuardBand.Zone;

class GuardBandTest {
  @ParameterizedTest
  @CsvSource({
    "0, CONFORMS",
    "400, CONFORMS",
    "-400, CONFORMS",
    "401, UNDECIDED",
    "-500, UNDECIDED",
    "600, UNDECIDED",
    "601, DOES_NOT_CONFORM",
    "-601, DOES_NOT_CONFORM",
    "-2147483648, DOES_NOT_CONFORM",
  })
  void anErrorConformsOnlyWithinTheToleranceLessTheUncertainty(int error, Zone zone) {
    assertEquals(zone, new GuardBand(500, 100).of(error));
  }

  @Test
  void withoutUncertaintyThereIsNothingInBetween() {
    assertEquals(Zone.CONFORMS, new GuardBand(500, 0).of(500));
    assertEquals(Zone.DOES_NOT_CONFORM, new GuardBand(500, 0).of(501));
  }

  @Test
  void anUncertaintyBeyondTheToleranceAcceptsNothing() {
    assertEquals(Zone.UNDECIDED, new GuardBand(500, 501).of(0));
  }

  @Test
  void aToleranceOfNothingIsRefused() {
    assertThrows(IllegalArgumentException.class, () -> new GuardBand(0, 1));
    assertThrows(IllegalArgumentException.class, () -> new GuardBand(500, -1));
  }
}
