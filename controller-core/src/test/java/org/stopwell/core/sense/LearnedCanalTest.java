package org.stopwell.core.sense;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import org.junit.jupiter.api.Test;

/** A learned canal keeps its numbers, and nothing that is none. */
class LearnedCanalTest {

  @Test
  void itKeepsWhatItWasGivenAndNobodyCanChangeIt() {
    double[] numbers = new double[LearnedCanal.NUMBERS];
    numbers[0] = 1e6;
    LearnedCanal canal = new LearnedCanal(7, numbers);
    numbers[0] = 0;
    canal.numbers()[0] = 0;
    double[] kept = new double[LearnedCanal.NUMBERS];
    kept[0] = 1e6;
    assertArrayEquals(kept, canal.numbers());
    assertEquals(7, canal.weights());
  }

  @Test
  void tooFewNumbersAndWildOnesAreRefused() {
    assertThrows(IllegalArgumentException.class, () -> new LearnedCanal(7, new double[1]));
    for (double wild : new double[] {Double.NaN, 1_000_001, -1_000_001}) {
      double[] numbers = new double[LearnedCanal.NUMBERS];
      numbers[LearnedCanal.NUMBERS - 1] = wild;
      assertThrows(IllegalArgumentException.class, () -> new LearnedCanal(7, numbers));
    }
  }
}
