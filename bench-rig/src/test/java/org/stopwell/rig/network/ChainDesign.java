package org.stopwell.rig.network;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.function.ToDoubleFunction;

/** The parts of a chain: values of the page, by the rule of {@link LadderDesign}. */
final class ChainDesign {
  static final double TOLERANCE = 0.01;
  static final double FARAD_TOLERANCE = 0.05;
  static final SwitchSpec SWITCHES = SwitchSpec.RELAY;

  /** Fine part of the staircase, Ω: every 1 Ω. */
  static final List<Double> FINE = List.of(1.0, 1.82, 3.48, 6.65, 13.0, 25.5, 49.9, 97.6, 191.0);

  /** Equal steps of the staircase, Ω. */
  static final List<Double> STEPS = Collections.nCopies(20, 221.0);

  /** Ranges of the staircase, Ω. */
  static final List<Double> RANGES = List.of(4640.0, 9090.0, 15000.0);

  /** Widest gap of each segment with a capacitor, Ω. */
  static final List<Double> GAPS = List.of(1.5, 1.5, 1.5, 0.8);

  private ChainDesign() {}

  /** Fourteen relays for each segment with a capacitor; beyond its base. */
  static List<LadderDesign> ladders() {
    List<LadderDesign> all = new ArrayList<>();
    for (int k = 1; k < ChainParts.NOMINAL.mostOhms().size(); k++) {
      all.add(
          LadderDesign.choose(
              GAPS.get(k - 1),
              ChainParts.NOMINAL.mostOhms().get(k) - ChainParts.NOMINAL.leastOhms().get(k),
              ESeries.E96,
              TOLERANCE,
              SWITCHES));
    }
    return all;
  }

  /** A chain as it may come out: all parts drawn within their tolerances, then measured. */
  static BuiltChain built(ToDoubleFunction<Double> uniform, double strayFarads) {
    double base = drawn(ChainParts.NOMINAL.leastOhms().get(0), uniform);
    Staircase first =
        new Staircase(base, rungs(FINE, uniform), rungs(STEPS, uniform), rungs(RANGES, uniform));
    List<BuiltChain.Segment> segments = new ArrayList<>();
    for (int k = 1; k < ChainParts.NOMINAL.mostOhms().size(); k++) {
      segments.add(
          new BuiltChain.Segment(
              drawn(ChainParts.NOMINAL.leastOhms().get(k), uniform),
              ladders().get(k - 1).built(uniform)));
    }
    List<List<Double>> farads =
        ChainParts.NOMINAL.farads().stream()
            .map(
                each ->
                    each.stream()
                        .map(f -> f * (1 + FARAD_TOLERANCE * uniform.applyAsDouble(f)))
                        .toList())
            .toList();
    return BuiltChain.of(first, segments, farads, strayFarads);
  }

  private static double drawn(double ohms, ToDoubleFunction<Double> uniform) {
    return ohms * (1 + TOLERANCE * uniform.applyAsDouble(ohms));
  }

  private static List<Rung> rungs(List<Double> nominal, ToDoubleFunction<Double> uniform) {
    return nominal.stream()
        .map(
            ohms ->
                new Rung(
                    drawn(ohms, uniform),
                    (SWITCHES.leastOnOhms() + SWITCHES.mostOnOhms()) / 2
                        + (SWITCHES.mostOnOhms() - SWITCHES.leastOnOhms())
                            / 2
                            * uniform.applyAsDouble(ohms),
                    SWITCHES.leastOffOhms()))
        .toList();
  }
}
