package org.stopwell.harness.trace;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.frame.ControllerInput;

/**
 * The columns of a trace as people write it. Their names carry the units.
 *
 * @param frequencies frequencies with both parts, ascending, Hz
 * @param distance whether the position is a distance from an outside locator
 * @param insertion whether a depth axis states how deep the file is
 * @param speed whether the measured speed is given
 * @param torque whether the measured torque is given
 * @param demand whether the operator's demand is given
 * @param truth whether the true remaining distance is given, for the reader's eyes only
 */
public record CsvColumns(
    List<Integer> frequencies,
    boolean distance,
    boolean insertion,
    boolean speed,
    boolean torque,
    boolean demand,
    boolean truth) {

  static final String TIME = "t_ms";
  static final String DISTANCE = "distance_mm";

  /** The text in that column while the locator has no contact. */
  static final String NO_CONTACT = "no_contact";

  static final String INSERTION = "insertion_mm";
  static final String SPEED = "speed_rpm";
  static final String TORQUE = "torque_ncm";
  static final String DEMAND = "demand";
  static final String TRUTH = "true_remaining_mm";

  /** Columns that a replay adds. They are ignored in an input. */
  public static final List<String> ADDED =
      List.of("state", "remaining_mm", "bound_mm", "trust", "cause", "drive", "reason");

  private static final Pattern IMPEDANCE = Pattern.compile("z([1-9][0-9]{0,5})hz_(re|im)_ohm");

  static String real(int hz) {
    return "z" + hz + "hz_re_ohm";
  }

  static String imaginary(int hz) {
    return "z" + hz + "hz_im_ohm";
  }

  /** What a trace holds or settings need, in words. */
  static String signal(boolean distance, List<Integer> hertz) {
    return distance
        ? DISTANCE
        : "impedance at " + String.join(", ", hertz.stream().map(String::valueOf).toList()) + " Hz";
  }

  /** Reads the head of a file; null when it is wrong, with every mistake noted. */
  static @Nullable CsvColumns of(Collection<String> head, List<String> mistakes) {
    int before = mistakes.size();
    TreeMap<Integer, Integer> parts = new TreeMap<>();
    for (String column : head) {
      Matcher impedance = IMPEDANCE.matcher(column);
      if (impedance.matches()) {
        parts.merge(
            Integer.parseInt(impedance.group(1)),
            impedance.group(2).equals("re") ? 1 : 2,
            (a, b) -> a | b);
      } else if (!List.of(TIME, DISTANCE, INSERTION, SPEED, TORQUE, DEMAND, TRUTH).contains(column)
          && !ADDED.contains(column)) {
        mistakes.add(
            "column "
                + column
                + ": unknown; known are t_ms, z<HZ>hz_re_ohm, z<HZ>hz_im_ohm,"
                + " distance_mm, insertion_mm, speed_rpm, torque_ncm, demand and true_remaining_mm");
      }
    }
    parts.forEach(
        (hz, both) -> {
          if (both != 3) {
            mistakes.add("column " + (both == 1 ? imaginary(hz) : real(hz)) + ": missing");
          }
        });
    if (!head.contains(TIME)) {
      mistakes.add("column " + TIME + ": missing");
    }
    if (parts.size() > ControllerInput.MAX_FREQUENCIES) {
      mistakes.add(
          parts.size() + " frequencies, at most " + ControllerInput.MAX_FREQUENCIES + " are read");
    }
    if (parts.isEmpty() != head.contains(DISTANCE)) {
      mistakes.add(
          parts.isEmpty()
              ? "no position: neither z<HZ>hz_re_ohm and z<HZ>hz_im_ohm nor distance_mm"
              : "two positions: both impedance and distance_mm");
    }
    if (mistakes.size() > before) {
      return null;
    }
    return new CsvColumns(
        List.copyOf(new ArrayList<>(parts.keySet())),
        head.contains(DISTANCE),
        head.contains(INSERTION),
        head.contains(SPEED),
        head.contains(TORQUE),
        head.contains(DEMAND),
        head.contains(TRUTH));
  }
}
