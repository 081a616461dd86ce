package org.stopwell.core;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import java.util.function.ToLongFunction;
import org.stopwell.core.settings.Calibration;

/**
 * The simulated half-wet canal of {@code length-canal.csv}, from 1 mm past the foramen to the
 * surface of the fluid, in straight lines between its rows.
 */
final class LengthCanal {
  private static final int FARTHEST_MICRONS = 6_000;

  /** Bound of the curve, which is that of the canal itself, µm; assumed. */
  private static final int BOUND_MICRONS = 100;

  private static final double[][] ROWS = rows();

  private LengthCanal() {}

  /**
   * What is measured at a place.
   *
   * @param remainingMicrons distance to the foramen, µm; held at both ends
   * @param column 0 and 1 for the real and imaginary part at the first frequency, and so on
   * @return ohm
   */
  static double ohms(double remainingMicrons, int column) {
    int row = 0;
    while (row < ROWS.length - 2 && ROWS[row + 1][0] < remainingMicrons) {
      row++;
    }
    double share = (remainingMicrons - ROWS[row][0]) / (ROWS[row + 1][0] - ROWS[row][0]);
    double held = Math.max(0, Math.min(1, share));
    return ROWS[row][1 + column] + held * (ROWS[row + 1][1 + column] - ROWS[row][1 + column]);
  }

  /** The curve of the ratio: that of docs/settings/length.yaml. */
  static Calibration ratio() {
    return curve(row -> Math.round(1e6 * magnitude(row, 3) / magnitude(row, 1)));
  }

  /** The curve of the magnitude. */
  static Calibration resistance() {
    return curve(row -> Math.round(1e3 * magnitude(row, 1)));
  }

  private static Calibration curve(ToLongFunction<double[]> feature) {
    List<Calibration.Point> points =
        Arrays.stream(ROWS)
            .filter(row -> row[0] <= FARTHEST_MICRONS)
            .map(
                row ->
                    new Calibration.Point(
                        feature.applyAsLong(row),
                        (int) row[0],
                        Math.round(1e3 * magnitude(row, 1)),
                        BOUND_MICRONS))
            .toList();
    return new Calibration(points);
  }

  private static double magnitude(double[] row, int column) {
    return StrictMath.hypot(row[column], row[column + 1]);
  }

  private static double[][] rows() {
    try (InputStream table = LengthCanal.class.getResourceAsStream("length-canal.csv")) {
      return new String(Objects.requireNonNull(table).readAllBytes(), StandardCharsets.UTF_8)
          .lines()
          .filter(line -> !line.startsWith("#"))
          .map(
              line -> Arrays.stream(line.split(",", -1)).mapToDouble(Double::parseDouble).toArray())
          .toArray(double[][]::new);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
