package org.stopwell.harness.trace;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CsvNumberTest {
  /** The short way gives what exact decimal arithmetic gives. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "0",
        "-0",
        "1",
        "-1",
        "12.5",
        "-12.345",
        "12.3455",
        "12.3465",
        "007",
        ".5",
        "5.",
        "-.25",
        "1e3",
        "+4",
        "-0.0005",
        "123456789012",
        "0.0000000000000000001",
        "999999999999.999"
      })
  void theShortWayIsExact(String text) {
    for (int decimals : new int[] {0, 3, 6}) {
      BigDecimal exact = new BigDecimal(text).movePointRight(decimals);
      assertEquals(
          exact.setScale(0, RoundingMode.HALF_EVEN).longValueExact(),
          CsvNumber.scaledLong(text, decimals));
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"-", ".", "-.", "1.2.3", "1-2", "NaN", "1 2", "--1"})
  void whatIsNoNumberIsRefused(String text) {
    assertThrows(NumberFormatException.class, () -> CsvNumber.scaledLong(text, 3));
  }

  @Test
  void whatDoesNotFitIsRefused() {
    assertThrows(ArithmeticException.class, () -> CsvNumber.scaledLong("1e99", 3));
    assertThrows(ArithmeticException.class, () -> CsvNumber.scaledLong("99999999999999999999", 3));
    assertThrows(ArithmeticException.class, () -> CsvNumber.scaled("2147484", 3));
  }
}
