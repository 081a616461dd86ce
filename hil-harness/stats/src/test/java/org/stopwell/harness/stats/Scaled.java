package org.stopwell.harness.stats;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;

/** Published numbers with decimals as whole numbers of their last decimal. */
final class Scaled {
  private Scaled() {}

  static long whole(String number, int decimals) {
    return new BigDecimal(number).movePointRight(decimals).longValueExact();
  }

  static List<Long> row(String numbers, int decimals) {
    return Arrays.stream(numbers.trim().split("\\s+", -1)).map(n -> whole(n, decimals)).toList();
  }

  static Moments moments(List<Long> numbers) {
    return Moments.of(numbers.stream().mapToLong(Long::longValue));
  }
}
