package org.stopwell.harness.budget;

import org.stopwell.rig.random.RandomStream;

/**
 * One line of an uncertainty budget. The best estimate of every input is 0: what is known of it was
 * corrected for, or is bounded by its limits.
 *
 * @param name what it is
 * @param source where the number comes from: an instrument, readings, or the word "assumed"
 * @param distribution how it is spread
 * @param uncertainty standard uncertainty, in the input's own unit, 0 or more
 * @param unit the input's own unit
 * @param freedom degrees of freedom; infinite when the uncertainty itself is well known
 * @param sensitivity by how much the measurand changes per unit of the input
 */
public record Input(
    String name,
    String source,
    Distribution distribution,
    double uncertainty,
    String unit,
    double freedom,
    double sensitivity) {

  /**
   * Checks the numbers.
   *
   * @throws IllegalArgumentException unless the uncertainty is 0 or more and finite, the freedom
   *     above 0 and the sensitivity finite
   */
  public Input {
    if (!(uncertainty >= 0 && Double.isFinite(uncertainty) && freedom > 0)
        || !Double.isFinite(sensitivity)) {
      throw new IllegalArgumentException(
          name
              + ": uncertainty "
              + uncertainty
              + " "
              + unit
              + ", freedom "
              + freedom
              + ", sensitivity "
              + sensitivity
              + ": must be 0 or more, above 0, finite");
    }
  }

  /**
   * An uncertainty that somebody else states, such as a certificate.
   *
   * @param name what it is
   * @param source who states it
   * @param uncertainty standard uncertainty
   * @param unit its unit
   * @param sensitivity measurand per unit
   * @return a normal input
   */
  public static Input stated(
      String name, String source, double uncertainty, String unit, double sensitivity) {
    return new Input(
        name,
        source,
        Distribution.NORMAL,
        uncertainty,
        unit,
        Double.POSITIVE_INFINITY,
        sensitivity);
  }

  /**
   * An uncertainty from own readings.
   *
   * @param name what it is
   * @param source which readings
   * @param uncertainty standard uncertainty
   * @param unit its unit
   * @param freedom degrees of freedom of the readings
   * @param sensitivity measurand per unit
   * @return an input of Student's t
   */
  public static Input read(
      String name,
      String source,
      double uncertainty,
      String unit,
      double freedom,
      double sensitivity) {
    return new Input(name, source, Distribution.STUDENT, uncertainty, unit, freedom, sensitivity);
  }

  /**
   * Something of which only limits are known: a/√3 (JCGM 100:2008, 4.3.7).
   *
   * @param name what it is
   * @param source where the limits come from
   * @param halfWidth half of the distance between the limits
   * @param unit its unit
   * @param sensitivity measurand per unit
   * @return a rectangular input
   */
  public static Input within(
      String name, String source, double halfWidth, String unit, double sensitivity) {
    return new Input(
        name,
        source,
        Distribution.RECTANGULAR,
        halfWidth / Math.sqrt(3),
        unit,
        Double.POSITIVE_INFINITY,
        sensitivity);
  }

  /**
   * What it adds to the measurand.
   *
   * @return |c| u, in the unit of the measurand
   */
  public double contribution() {
    return Math.abs(sensitivity) * uncertainty;
  }

  /**
   * One draw.
   *
   * @param stream where the chance comes from
   * @return in the input's own unit
   */
  public double draw(RandomStream stream) {
    return switch (distribution) {
      case NORMAL -> uncertainty * stream.nextGaussian();
      case RECTANGULAR -> uncertainty * Math.sqrt(3) * (2 * stream.nextDouble() - 1);
      case STUDENT ->
          Double.isInfinite(freedom)
              ? uncertainty * stream.nextGaussian()
              : uncertainty * student(stream, (int) Math.max(1, Math.floor(freedom)));
    };
  }

  /** Student's t: a normal number over the root of a mean of squares of others. */
  private static double student(RandomStream stream, int freedom) {
    double normal = stream.nextGaussian();
    double squares = 0;
    for (int i = 0; i < freedom; i++) {
      double g = stream.nextGaussian();
      squares += g * g;
    }
    return normal / Math.sqrt(squares / freedom);
  }
}
