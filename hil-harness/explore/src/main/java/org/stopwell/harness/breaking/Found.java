package org.stopwell.harness.breaking;

import java.util.Comparator;
import java.util.List;

/**
 * A disturbance that over-travels.
 *
 * @param canal number of the canal
 * @param fault number of the kind of fault; 0: none
 * @param shares of the ingredients of that arena
 * @param size the sum of the shares that count
 */
record Found(int canal, int fault, List<Double> shares, double size) {
  static final Comparator<Found> SMALLEST = Comparator.comparingDouble(Found::size);

  Found {
    shares = List.copyOf(shares);
  }

  static Found of(int canal, int fault, Arena arena, double[] shares) {
    return new Found(
        canal, fault, java.util.Arrays.stream(shares).boxed().toList(), arena.size(shares));
  }

  double[] array() {
    return shares.stream().mapToDouble(Double::doubleValue).toArray();
  }
}
