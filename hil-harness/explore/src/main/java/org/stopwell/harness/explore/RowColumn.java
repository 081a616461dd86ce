package org.stopwell.harness.explore;

import java.util.function.LongFunction;

/**
 * A column of the table of trials.
 *
 * @param name its name
 * @param kind what its values are
 * @param text how a value of a row is written for people
 */
public record RowColumn(String name, Kind kind, LongFunction<String> text) {
  /** What the values of a column are when they are written for people. */
  public enum Kind {
    /** Whole numbers. */
    WHOLE,
    /** Numbers with decimals. */
    NUMBER,
    /** Words. */
    WORD
  }

  /**
   * A column of whole numbers, which stand as they are in a row.
   *
   * @param name its name
   * @return the column
   */
  public static RowColumn whole(String name) {
    return new RowColumn(name, Kind.WHOLE, Long::toString);
  }
}
