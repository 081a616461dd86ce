package org.stopwell.harness.detect;

import java.util.List;

/** Kinds of wrong decisions of the controller, each with sizes from small to large. */
public enum DefectKind {
  /** The predicted rest position has the wrong sign. */
  DISTANCE_SIGN("sign of the distance is wrong", "", List.of(1), "any canal that can be read"),
  /** The lead for coasting is added, not subtracted; the core limits the result to no lead. */
  LEAD_SIGN(
      "sign of the lead for coasting is wrong",
      "",
      List.of(1),
      "hands so fast that the lead exceeds the tolerance"),
  /** The distance is taken in another unit. */
  UNIT(
      "distance is too small by the factor",
      "",
      List.of(2, 10, 1000),
      "any canal that can be read"),
  /** The signal is older than stated. */
  LATE(
      "signal is older than stated by",
      "ms",
      List.of(2, 5, 10, 20, 50, 100, 200, 500, 1000),
      "faster hands or a narrower tolerance"),
  /** The stop is decided too early. */
  EARLY(
      "stop is decided too early by",
      "ms",
      List.of(2, 5, 10, 20, 50, 100, 200, 500, 1000),
      "faster hands or a narrower tolerance"),
  /** The standoff is too far from the foramen. */
  STANDOFF_MORE(
      "standoff is too great by",
      "%",
      List.of(1, 2, 5, 10, 20, 50, 100, 150),
      "a narrower tolerance, or a claim on the bias"),
  /** The standoff is too near to the foramen. */
  STANDOFF_LESS(
      "standoff is too small by",
      "%",
      List.of(1, 2, 5, 10, 20, 50, 100, 150),
      "a narrower tolerance, or a claim on the bias"),
  /** The start and the return of trust are not debounced. */
  NO_DEBOUNCE(
      "start and return of trust are not debounced",
      "",
      List.of(1),
      "a contact that bounces, and the cause that the controller must name"),
  /** The signal is held but marked fresh. */
  STALE_HOLD(
      "signal is held once a second but marked fresh, for",
      "ms",
      List.of(20, 50, 100, 200, 500, 900),
      "faster hands or a narrower tolerance");

  private final String text;
  private final String unit;

  @SuppressWarnings("ImmutableEnumChecker") // List.of never changes.
  private final List<Integer> sizes;

  private final String needs;

  DefectKind(String text, String unit, List<Integer> sizes, String needs) {
    this.text = text;
    this.unit = unit;
    this.sizes = sizes;
    this.needs = needs;
  }

  /**
   * What is wrong, in plain words; the size follows.
   *
   * @return a few words
   */
  public String text() {
    return text;
  }

  /**
   * Sizes that are tried.
   *
   * @return ascending
   */
  public List<Integer> sizes() {
    return sizes;
  }

  /**
   * What a plan needs to detect such a defect.
   *
   * @return a few words
   */
  public String needs() {
    return needs;
  }

  /**
   * A size as it is written.
   *
   * @param size one of {@link #sizes}
   * @return with its unit; empty for a kind that has only one size
   */
  public String size(int size) {
    return sizes.size() == 1 ? "" : unit.isEmpty() ? Integer.toString(size) : size + " " + unit;
  }
}
