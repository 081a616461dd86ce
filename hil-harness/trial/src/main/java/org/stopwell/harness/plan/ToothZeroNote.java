package org.stopwell.harness.plan;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The true zero of a tooth as two observers read it at the bench: one line of a run file, so that a
 * campaign that goes on does not ask again.
 *
 * @param tooth name of the tooth
 * @param zero the readings; empty where the person at the bench stated that nobody reads it
 */
public record ToothZeroNote(String tooth, Optional<ToothZero> zero) {
  /** Kind of the note in a run file. */
  public static final String KIND = "true_zero";

  private static final String NONE = "not read";
  private static final String SPREAD = "observer_sd_um ";

  /**
   * The line.
   *
   * @return such as {@code T01: observer_sd_um 10; o1 95 100 105; o2 105 110 115}
   */
  public String text() {
    return tooth
        + ": "
        + zero.map(
                z ->
                    SPREAD
                        + z.observerMicrons()
                        + z.readingsMicrons().entrySet().stream()
                            .map(
                                e ->
                                    "; "
                                        + e.getKey()
                                        + e.getValue().stream()
                                            .map(r -> " " + r)
                                            .collect(Collectors.joining()))
                            .collect(Collectors.joining()))
            .orElse(NONE);
  }

  /**
   * Reads a line.
   *
   * @param text a line
   * @return the note; empty where the line is none
   */
  public static Optional<ToothZeroNote> read(String text) {
    int colon = text.indexOf(": ");
    if (colon < 1) {
      return Optional.empty();
    }
    String tooth = text.substring(0, colon);
    String rest = text.substring(colon + 2);
    if (rest.equals(NONE)) {
      return Optional.of(new ToothZeroNote(tooth, Optional.empty()));
    }
    List<String> parts = List.of(rest.split("; ", -1));
    try {
      Map<String, List<Integer>> readings = new LinkedHashMap<>();
      for (String own : parts.subList(1, parts.size())) {
        List<String> words = List.of(own.split(" ", -1));
        List<Integer> values = new ArrayList<>();
        words.subList(1, words.size()).forEach(w -> values.add(Integer.valueOf(w)));
        readings.put(words.get(0), values);
      }
      boolean whole =
          parts.get(0).startsWith(SPREAD)
              && readings.size() == ToothZero.OBSERVERS
              && readings.values().stream().allMatch(r -> r.size() == ToothZero.READINGS);
      return whole
          ? Optional.of(
              new ToothZeroNote(
                  tooth,
                  Optional.of(
                      new ToothZero(
                          readings, Integer.parseInt(parts.get(0).substring(SPREAD.length()))))))
          : Optional.empty();
    } catch (NumberFormatException e) {
      return Optional.empty();
    }
  }
}
