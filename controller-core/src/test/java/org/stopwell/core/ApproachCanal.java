package org.stopwell.core;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Objects;

/**
 * The simulated half-wet canal of {@code approach-canal.csv}, from 7.5 mm short of the foramen to
 * 0.4 mm past it, in straight lines between its rows.
 */
public final class ApproachCanal {
  private static final double[][] ROWS = rows();

  private ApproachCanal() {}

  /**
   * What is measured at a place.
   *
   * @param remainingMicrons distance to the foramen, µm; held at both ends
   * @param column 0 and 1 for the real and imaginary part at the first frequency, and so on
   * @return ohm
   */
  public static double ohms(double remainingMicrons, int column) {
    int row = 0;
    while (row < ROWS.length - 2 && ROWS[row + 1][0] > remainingMicrons) {
      row++;
    }
    double share = (remainingMicrons - ROWS[row][0]) / (ROWS[row + 1][0] - ROWS[row][0]);
    double held = Math.max(0, Math.min(1, share));
    return ROWS[row][1 + column] + held * (ROWS[row + 1][1 + column] - ROWS[row][1 + column]);
  }

  private static double[][] rows() {
    try (InputStream table = ApproachCanal.class.getResourceAsStream("approach-canal.csv")) {
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
