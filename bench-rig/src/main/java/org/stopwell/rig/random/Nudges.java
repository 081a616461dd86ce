package org.stopwell.rig.random;

import java.util.ArrayList;
import java.util.List;

/**
 * Shifts of the random numbers of a trial, for whoever searches a neighbour of it.
 *
 * <p>A shift adds one number to some 64-bit words of one named stream, modulo 2⁶⁴. Words that are
 * uniform and independent stay so, whatever is added. A walk over shifts that proposes a shift and
 * its opposite equally often is therefore a Metropolis walk over the trials of a campaign.
 */
public final class Nudges {
  /** No shift: every stream as its seed gives it. */
  public static final Nudges NONE = new Nudges(List.of());

  private final List<Shift> shifts;

  private Nudges(List<Shift> shifts) {
    this.shifts = List.copyOf(shifts);
  }

  /**
   * One shift.
   *
   * @param stream name of the stream
   * @param from first word, counted from 0
   * @param to the word after the last
   * @param by what is added, modulo 2⁶⁴
   */
  public record Shift(String stream, long from, long to, long by) {
    /** Refuses an empty or negative range. */
    public Shift {
      if (!(from >= 0 && to > from)) {
        throw new IllegalArgumentException(stream + ": words " + from + " to " + to);
      }
    }
  }

  /**
   * Given shifts.
   *
   * @param shifts in any order; shifts of one word add up
   * @return the nudges
   */
  public static Nudges of(List<Shift> shifts) {
    return shifts.isEmpty() ? NONE : new Nudges(shifts);
  }

  /**
   * These and one more. A second shift of the same words is added to the first.
   *
   * @param more the shift to add
   * @return the changed nudges
   */
  public Nudges with(Shift more) {
    List<Shift> changed = new ArrayList<>(shifts.size() + 1);
    long by = more.by();
    for (Shift s : shifts) {
      if (s.from() == more.from() && s.to() == more.to() && s.stream().equals(more.stream())) {
        by += s.by();
      } else {
        changed.add(s);
      }
    }
    changed.add(new Shift(more.stream(), more.from(), more.to(), by));
    return new Nudges(changed);
  }

  /**
   * The shifts.
   *
   * @return in the order in which they were added
   */
  public List<Shift> shifts() {
    return shifts;
  }

  /** The shifts of one stream. */
  List<Shift> of(String stream) {
    return shifts.stream().filter(s -> s.stream().equals(stream)).toList();
  }
}
