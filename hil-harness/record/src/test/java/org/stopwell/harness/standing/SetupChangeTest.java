package org.stopwell.harness.standing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What changed between two stations, key by key. */
class SetupChangeTest {
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "a=1 b=2   | a=1 b=2   | ''",
        "a=1 b=2   | a=1 b=3   | b was 2, now 3",
        "b=2 a=1   | a=4 b=3   | a was 1, now 4; b was 2, now 3",
        "a=1       | a=1 c=x=y | c was not there, now x=y",
        "a=1 c=5   | a=1       | c was 5, now not there",
        "''        | a=1       | no record at the start",
        "a=1       | ''        | no record now",
        "''        | ''        | no record at the start",
      })
  void theWordsNameEachKeyThatDiffers(String then, String now, String words) {
    assertEquals(words, SetupChange.words(then, now));
  }
}
