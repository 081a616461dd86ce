package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.List;

/**
 * The parts of a chain before a tooth is known: across each segment but the first lies a fixed
 * capacitor, and two more can be switched beside it. They are chosen for a tooth and stay as they
 * are while the file moves. A code has two bits for each of these segments, the first one lowest: 1
 * for its second capacitor, 2 for its third.
 *
 * @param farads three capacitors of each segment but the first, the fixed one first, F
 * @param leastOhms least resistance of each segment, the one without a capacitor first, Ω
 * @param mostOhms greatest resistance of each segment, Ω
 * @param strayFarads capacitance between the terminals, F
 */
public record ChainParts(
    List<List<Double>> farads, List<Double> leastOhms, List<Double> mostOhms, double strayFarads) {
  /** The capacitors of a segment: one fixed, two switched. */
  public static final int CAPACITORS = 3;

  /** The parts of the page docs/resistor-network.md with their nominal values. */
  public static final ChainParts NOMINAL =
      new ChainParts(
          List.of(
              List.of(330e-9, 390e-9, 1_200e-9),
              List.of(100e-9, 120e-9, 390e-9),
              List.of(15e-9, 18e-9, 56e-9),
              List.of(6.8e-9, 8.2e-9, 27e-9)),
          List.of(300.0, 0.0, 0.0, 0.0, 0.0),
          List.of(33_000.0, 17_800.0, 17_800.0, 17_800.0, 8_800.0),
          Chain.STRAY_FARADS);

  /**
   * The codes that are tried first for a tooth: those that serve most drawn canals (computed over
   * 80).
   */
  public static final List<Integer> TRIED = List.of(0x55, 0x66, 0x69, 0x50, 0x54, 0x41, 0xA9);

  /** Copies the lists and checks the values. */
  public ChainParts {
    farads = farads.stream().map(List::copyOf).toList();
    leastOhms = List.copyOf(leastOhms);
    mostOhms = List.copyOf(mostOhms);
    if (!farads.stream().allMatch(each -> each.size() == CAPACITORS)) {
      throw new IllegalArgumentException(
          farads + " F: " + CAPACITORS + " capacitors for each segment but the first");
    }
    at(farads, leastOhms, mostOhms, strayFarads, 0);
  }

  /**
   * The chain with some of the switched capacitors.
   *
   * @param code two bits for each segment with capacitors
   * @return the chain
   */
  public Chain at(int code) {
    return at(farads, leastOhms, mostOhms, strayFarads, code);
  }

  private static Chain at(
      List<List<Double>> farads, List<Double> least, List<Double> most, double stray, int code) {
    List<Double> sums = new ArrayList<>();
    for (int k = 0; k < farads.size(); k++) {
      int bits = (code >> (2 * k)) & 3;
      List<Double> of = farads.get(k);
      sums.add(of.get(0) + (bits & 1) * of.get(1) + (bits >> 1) * of.get(2));
    }
    return new Chain(sums, least, most, stray);
  }
}
