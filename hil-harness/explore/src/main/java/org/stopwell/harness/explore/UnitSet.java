package org.stopwell.harness.explore;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A set of units as ranges, the lowest first, none touching the next.
 *
 * @param ranges the ranges
 */
public record UnitSet(List<Range> ranges) {
  /** No unit. */
  public static final UnitSet NONE = new UnitSet(List.of());

  /**
   * Units without a gap.
   *
   * @param from the first
   * @param to the unit after the last
   */
  public record Range(long from, long to) {
    /**
     * Checks the ends.
     *
     * @throws IllegalArgumentException when the range holds no unit
     */
    public Range {
      if (!(from >= 0 && to > from)) {
        throw new IllegalArgumentException("units from " + from + " to " + to);
      }
    }

    /**
     * How many units it holds.
     *
     * @return at least 1
     */
    public long size() {
      return to - from;
    }
  }

  /** Takes a copy. */
  public UnitSet {
    ranges = List.copyOf(ranges);
  }

  /**
   * How many units it holds.
   *
   * @return 0 or more
   */
  public long size() {
    return ranges.stream().mapToLong(Range::size).sum();
  }

  /**
   * This set with more units.
   *
   * @param from the first of them
   * @param to the unit after the last
   * @return the larger set
   * @throws IllegalArgumentException when a unit is in the set already
   */
  public UnitSet with(long from, long to) {
    Range added = new Range(from, to);
    List<Range> all = new ArrayList<>();
    for (Range range : ranges) {
      if (range.from < to && from < range.to) {
        throw new IllegalArgumentException("units " + from + " to " + to + " would count twice");
      }
      if (range.to == added.from) {
        added = new Range(range.from, added.to);
      } else if (range.from == added.to) {
        added = new Range(added.from, range.to);
      } else {
        all.add(range);
      }
    }
    int at = 0;
    while (at < all.size() && all.get(at).from < added.from) {
      at++;
    }
    all.add(at, added);
    return new UnitSet(all);
  }

  /**
   * The next units that are not in the set.
   *
   * @param from where to begin
   * @param units how many units there are in all
   * @param most how many are wanted at most
   * @return a range without a gap; empty when there are none from there on
   */
  public Optional<Range> gap(long from, long units, long most) {
    long begin = from;
    long end = units;
    for (Range range : ranges) {
      if (range.from <= begin && begin < range.to) {
        begin = range.to;
      } else if (range.from > begin) {
        end = range.from;
        break;
      }
    }
    return begin >= end
        ? Optional.empty()
        : Optional.of(new Range(begin, Math.min(end, begin + most)));
  }
}
