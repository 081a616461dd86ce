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

  /** Fine part of the staircase, Ω: every 10 Ω. */
  static final List<Double> FINE = List.of(10.0, 20.0, 40.2, 80.6, 162.0);

  /** Steps of the staircase, the one nearest to the foramen first, Ω. */
  static final List<Double> STEPS = steps();

  /** Ranges of the staircase, Ω. */
  static final List<Double> RANGES = List.of(1780.0, 1780.0);

  /** Widest gap of each segment with a capacitor, Ω. */
  static final List<Double> GAPS = List.of(27.0, 27.0, 13.5, 5.6);

  private ChainDesign() {}

  private static List<Double> steps() {
    List<Double> steps = new ArrayList<>(Collections.nCopies(4, 133.0));
    steps.addAll(Collections.nCopies(4, 200.0));
    steps.addAll(Collections.nCopies(9, 316.0));
    return List.copyOf(steps);
  }

  /** Eight relays for each segment with a capacitor; beyond its base. */
  static List<LadderDesign> ladders() {
    List<LadderDesign> all = new ArrayList<>();
    for (int k = 1; k < Chain.NOMINAL.segments(); k++) {
      all.add(
          LadderDesign.choose(
              GAPS.get(k - 1),
              Chain.NOMINAL.mostOhms().get(k) - Chain.NOMINAL.leastOhms().get(k),
              ESeries.E96,
              TOLERANCE,
              SWITCHES));
    }
    return all;
  }

  /** A chain as it may come out: all parts drawn within their tolerances, then measured. */
  static BuiltChain built(ToDoubleFunction<Double> uniform, double strayFarads) {
    double base = drawn(Chain.NOMINAL.leastOhms().get(0), uniform);
    Staircase first =
        new Staircase(base, rungs(FINE, uniform), rungs(STEPS, uniform), rungs(RANGES, uniform));
    List<BuiltChain.Segment> segments = new ArrayList<>();
    for (int k = 1; k < Chain.NOMINAL.segments(); k++) {
      segments.add(
          new BuiltChain.Segment(
              drawn(Chain.NOMINAL.leastOhms().get(k), uniform),
              ladders().get(k - 1).built(uniform)));
    }
    List<Double> farads =
        Chain.NOMINAL.farads().stream()
            .map(f -> f * (1 + FARAD_TOLERANCE * uniform.applyAsDouble(f)))
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
