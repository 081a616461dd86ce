package org.stopwell.harness.learn;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.stopwell.core.weights.DepthWeights;
import org.stopwell.harness.stats.Interval;
import org.stopwell.harness.stats.Proportion;

/** Taught weights, and what the teeth left out say of them: numbers, text and JSON. */
public final class LearnResult {
  /** A gain of less than this, in points of stops within 0.5 mm, is not worth more teeth. */
  private static final double WORTH_POINTS = 1;

  private static final int WORST = 8;
  static final double CONFIDENCE = 0.95;

  private final LearnChoice choice;
  private final TaughtTeeth taught;
  private final DepthWeights weights;
  private final int[] marks;
  private final double[] losses;
  private final int chosen;
  private final List<Double> moved;
  private final OptionalDouble factor;
  private final List<DecidingReading> held;
  private final List<DecidingReading> before;
  private final List<CoveredDecision> covered;
  private final List<LearnPoint> curve;
  private final List<LearnReading> readings;

  LearnResult(
      LearnChoice choice,
      TaughtTeeth taught,
      DepthWeights weights,
      int[] marks,
      double[] losses,
      int chosen,
      List<Double> moved,
      OptionalDouble factor,
      List<DecidingReading> held,
      List<DecidingReading> before,
      List<CoveredDecision> covered,
      List<LearnPoint> curve,
      List<LearnReading> readings) {
    this.choice = choice;
    this.taught = taught;
    this.weights = weights;
    this.marks = marks;
    this.losses = losses;
    this.chosen = chosen;
    this.moved = List.copyOf(moved);
    this.factor = factor;
    this.held = List.copyOf(held);
    this.before = List.copyOf(before);
    this.covered = List.copyOf(covered);
    this.readings = List.copyOf(readings);
    List<LearnPoint> all = new ArrayList<>(curve);
    int left = taught.count() < 40 ? 10 : 5;
    all.add(LearnPoint.of(taught.count() - taught.count() / left, held));
    this.curve = all;
  }

  /**
   * The taught weights.
   *
   * @return weights with a bound for new teeth
   */
  public DepthWeights weights() {
    return weights;
  }

  /**
   * Decisions in the teeth left out.
   *
   * @return in a fixed order
   */
  public List<LearnStop> stops() {
    return held.stream().map(LearnStop::of).toList();
  }

  /**
   * The stops furthest off.
   *
   * @return worst first
   */
  public List<LearnStop> worst() {
    return stops().stream()
        .filter(LearnStop::stopped)
        .sorted(
            Comparator.comparingDouble((LearnStop s) -> -Math.abs(s.offMm()))
                .thenComparing(LearnStop::file))
        .limit(WORST)
        .toList();
  }

  /**
   * The curve over the number of teeth.
   *
   * @return fewest first; the last is of the cross-validation
   */
  public List<LearnPoint> curve() {
    return List.copyOf(curve);
  }

  /**
   * Results by fluid.
   *
   * @return one row per fluid, and one for all where there are several
   */
  public List<LearnFluid> fluids() {
    List<LearnFluid> rows = new ArrayList<>();
    List<String> fluids = taught.fluids();
    fluids.forEach(f -> rows.add(fluid(f, f)));
    if (fluids.size() > 1) {
      rows.add(fluid("all", ""));
    }
    return rows;
  }

  private LearnFluid fluid(String name, String only) {
    List<DecidingReading> own = of(held, only);
    LearnPoint p = LearnPoint.of(0, own);
    LearnPoint start = LearnPoint.of(0, of(before, only));
    List<List<DecidingReading>> teeth = Promise.byTooth(own);
    int good =
        (int) teeth.stream().filter(t -> t.stream().allMatch(DecidingReading::within)).count();
    return new LearnFluid(
        name, own.size(), p.stopped(), p.within(), p.past(), teeth.size(), good, start.share());
  }

  private static List<DecidingReading> of(List<DecidingReading> all, String fluid) {
    return all.stream().filter(d -> fluid.isEmpty() || d.approach().fluid.equals(fluid)).toList();
  }

  /**
   * How many decisions a bound that was made without their tooth covers.
   *
   * @return empty where too few teeth are left for a bound
   */
  public Optional<Proportion> coverage() {
    return covered.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Proportion(
                covered.stream().filter(CoveredDecision::within).count(), covered.size()));
  }

  /**
   * Decisions with a bound of at most 0.5 mm, which a controller with this tolerance takes as
   * certain.
   *
   * @return of those with a bound; empty without any
   */
  public Optional<Proportion> sure() {
    return covered.isEmpty()
        ? Optional.empty()
        : Optional.of(
            new Proportion(
                covered.stream().filter(c -> c.boundMm() <= DecidingReading.WITHIN_MM).count(),
                covered.size()));
  }

  /**
   * The bound in the middle of the decisions.
   *
   * @return mm; empty without a bound
   */
  public OptionalDouble medianBoundMm() {
    double[] bounds = covered.stream().mapToDouble(CoveredDecision::boundMm).sorted().toArray();
    return bounds.length == 0
        ? OptionalDouble.empty()
        : OptionalDouble.of(bounds[bounds.length / 2]);
  }

  /**
   * What twice as many teeth would gain, as far as the curve can say: misses are taken as a
   * constant and a part that halves when the number of teeth doubles.
   *
   * @return points of the share within 0.5 mm, 0 or more
   */
  public double gainPoints() {
    double n = 0;
    double x = 0;
    double y = 0;
    double xx = 0;
    double xy = 0;
    for (LearnPoint p : curve) {
      double w = p.stopped();
      double inverse = 1.0 / p.teeth();
      n += w;
      x += w * inverse;
      y += w * (1 - p.share());
      xx += w * inverse * inverse;
      xy += w * inverse * (1 - p.share());
    }
    double spread = n * xx - x * x;
    double slope = spread > 0 ? (n * xy - x * y) / spread : 0;
    return 100 * Math.max(0, slope) / (2 * taught.count());
  }

  /**
   * How many more teeth would be worth it.
   *
   * @return one sentence
   */
  public String moreTeeth() {
    double gain = gainPoints();
    return gain >= WORTH_POINTS
        ? String.format(
            Locale.ROOT,
            "%d more teeth would raise the share within 0.5 mm by about %.0f points: worth it.",
            taught.count(),
            gain)
        : String.format(
            Locale.ROOT,
            "Twice as many teeth would raise the share within 0.5 mm by less than 1 point: not worth"
                + " it by this measure.");
  }

  /**
   * What was learned from, how far the weights moved and what the bound promises.
   *
   * @return one sentence per line
   */
  public List<String> head() {
    List<String> lines = new ArrayList<>();
    lines.add(
        taught.count()
            + " teeth, "
            + taught.approaches().size()
            + " approaches, fluids: "
            + String.join("; ", taught.fluids())
            + ". The traces are taken as given.");
    lines.add(
        "Every number below is of teeth that the estimate was not taught with ("
            + (taught.count() < 40 ? 10 : 5)
            + " folds over teeth).");
    lines.add(
        "A stop is decided at the first reading below 0.55 mm; the motor and its coast are not in"
            + " these numbers.");
    lines.add(
        marks[chosen] == 0
            ? "The weights of the start read these teeth best: they are not moved."
            : "The weights moved by "
                + marks[chosen]
                + " steps of at most "
                + marks[marks.length - 1]
                + ", chosen by the error in the teeth left out. Change of the layers: "
                + String.join(", ", moved.stream().map(m -> percent(m) + " %").toList())
                + ".");
    lines.add("Bound: " + weights.origin().promise() + ".");
    float u = taught.lengthErrorMm();
    lines.add(
        u > 0
            ? String.format(
                Locale.ROOT,
                "The bound includes the standard uncertainty of the measured length, up to %.2f mm.",
                u)
            : "The manifest states no uncertainty of the measured length (length_u_mm): the bound"
                + " takes the length as exact.");
    return lines;
  }

  /**
   * The result for a screen.
   *
   * @return lines
   */
  public String text() {
    StringBuilder out = new StringBuilder();
    head().forEach(line -> out.append(line).append('\n'));
    out.append('\n');
    String row = "%-16s %10s %8s %32s %8s %12s%n";
    out.append(
        String.format(
            row, "fluid", "approaches", "stopped", "within 0.5 mm, %", "past, %", "untaught, %"));
    for (LearnFluid f : fluids()) {
      out.append(String.format(row, f.cells().toArray()));
    }
    out.append("Brackets: exact 95 % interval of teeth with every stop within 0.5 mm.\n\n");
    boundLines().forEach(line -> out.append(line).append('\n'));
    out.append(String.format("%n%8s %18s %10s%n", "teeth", "within 0.5 mm, %", "rms, mm"));
    for (LearnPoint p : curve) {
      out.append(
          String.format(
              Locale.ROOT, "%8d %18s %10.2f%n", p.teeth(), percent(p.share()), p.rmsMm()));
    }
    out.append(moreTeeth()).append("\n\nFurthest off:\n");
    for (LearnStop s : worst()) {
      out.append(
          String.format(
              Locale.ROOT,
              "  %-12s %-14s %+6.2f mm  %s%n",
              s.tooth(),
              s.fluid(),
              s.offMm(),
              s.file()));
    }
    return out.toString();
  }

  /**
   * Stated against found coverage of the bound at the decision.
   *
   * @return sentences
   */
  public List<String> boundLines() {
    Optional<Proportion> found = coverage();
    if (found.isEmpty()) {
      return List.of("No bound is stated, so no reading is sure.");
    }
    Proportion within = found.get();
    Interval interval = within.clopperPearson(CONFIDENCE).orElseThrow();
    return List.of(
        String.format(
            Locale.ROOT,
            "The bound is stated for 95 %%. It covers %s %% of %d decisions in teeth that neither"
                + " the weights nor the bound have seen [%s to %s].",
            percent(within.estimate().orElse(0)),
            within.trials(),
            percent(interval.low()),
            percent(interval.high())),
        String.format(
            Locale.ROOT,
            "The median bound is %.2f mm. It is at most 0.5 mm in %s %% of the decisions.",
            medianBoundMm().orElse(0),
            percent(sure().orElseThrow().estimate().orElse(0))));
  }

  /**
   * Candidates for how far to move.
   *
   * @return steps, loss and whether chosen, as text
   */
  public List<List<String>> steps() {
    List<List<String>> rows = new ArrayList<>();
    for (int i = 0; i < marks.length; i++) {
      rows.add(
          List.of(
              Integer.toString(marks[i]),
              String.format(Locale.ROOT, "%.3f", losses[i]),
              i == chosen ? "yes" : ""));
    }
    return rows;
  }

  /**
   * Curve and spread of policy {@code ratio} from the same traces.
   *
   * @return without points where the traces have too few readings
   */
  public RatioCurve ratioCurve() {
    return RatioCurve.of(taught.teeth());
  }

  /**
   * Some readings in teeth left out.
   *
   * @return evenly chosen
   */
  public List<LearnReading> readings() {
    return readings;
  }

  static String percent(double share) {
    return String.format(Locale.ROOT, "%.1f", 100 * share);
  }

  /**
   * The result for a machine.
   *
   * @return values of a JSON object
   */
  public Map<String, Object> values() {
    Map<String, Object> all = new LinkedHashMap<>();
    all.put("teeth", taught.count());
    all.put("approaches", taught.approaches().size());
    all.put("fluids", taught.fluids());
    all.put("start_weights", choice.start().fingerprintText());
    all.put("weights", weights.fingerprintText());
    all.put("recipe", weights.origin().recipe());
    all.put("promise", weights.origin().promise());
    factor.ifPresent(f -> all.put("bound_factor", f));
    all.put("novelty_limit", weights.bound().limit());
    List<Map<String, Object>> steps = new ArrayList<>();
    for (int i = 0; i < marks.length; i++) {
      steps.add(row("steps", marks[i], "loss", losses[i], "chosen", i == chosen));
    }
    all.put("steps", steps);
    all.put("moved", moved);
    all.put(
        "by_fluid",
        fluids().stream()
            .map(
                f ->
                    row(
                        "fluid", f.fluid(),
                        "approaches", f.approaches(),
                        "stopped", f.stopped(),
                        "within_0_5_mm", f.within(),
                        "past_foramen", f.past(),
                        "teeth", f.teeth(),
                        "teeth_all_within", f.good(),
                        "untaught_share", f.untaught()))
            .toList());
    coverage()
        .ifPresent(
            c -> {
              all.put("covered", c.count());
              all.put("covered_of", c.trials());
            });
    sure().ifPresent(s -> all.put("bound_at_most_0_5_mm", s.count()));
    medianBoundMm().ifPresent(m -> all.put("median_bound_mm", m));
    all.put(
        "by_teeth",
        curve.stream()
            .map(
                p ->
                    row(
                        "teeth", p.teeth(),
                        "stopped", p.stopped(),
                        "within_0_5_mm", p.within(),
                        "past_foramen", p.past(),
                        "rms_mm", p.rmsMm()))
            .toList());
    all.put("gain_of_twice_the_teeth_points", gainPoints());
    all.put(
        "worst",
        worst().stream()
            .map(
                s ->
                    row(
                        "tooth", s.tooth(),
                        "fluid", s.fluid(),
                        "file", s.file(),
                        "off_mm", s.offMm()))
            .toList());
    return all;
  }

  private static Map<String, Object> row(Object... pairs) {
    Map<String, Object> row = new LinkedHashMap<>();
    for (int i = 0; i < pairs.length; i += 2) {
      row.put((String) pairs[i], pairs[i + 1]);
    }
    return row;
  }
}
