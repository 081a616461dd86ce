package org.stopwell.harness.tune;

import java.io.NotSerializableException;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.stopwell.harness.explore.Evaluation;
import org.stopwell.harness.explore.OtherFactors;
import org.stopwell.harness.explore.PackedSpace;
import org.stopwell.harness.explore.TrialModel;
import org.stopwell.harness.explore.WorkFingerprint;
import org.stopwell.harness.plan.Canonical;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Mistake;
import org.stopwell.harness.plan.PlanException;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.plan.TuneTarget;
import org.stopwell.harness.plan.TunedSettings;
import org.stopwell.harness.trial.OwnPolicies;

/**
 * What is tuned: a space with a target, the factors of its settings, and the present settings. A
 * place is a point of the unit cube of the tuned factors; its settings are their values there.
 */
public final class Tuning {
  /** Fewest canals of a point; assumed: fewer say nothing about a share. */
  private static final int FEWEST_CANALS = 10;

  /**
   * Points for each tuned factor and one more below which no search is begun; assumed: one
   * generation of the evolution and as many spread points.
   */
  private static final int FEWEST_POINTS = 5;

  /** Number of the first canal of the judgement: no search has that many. */
  static final long FRESH = 1L << 40;

  /** Steps of a range at least. */
  private static final long FINENESS = 1_000;

  /** Steps of a bisection that end at one value. */
  private static final int HALVINGS = 60;

  private final Space space;
  private final TuneTarget target;
  private final Evaluation.Model model;
  private final String build;
  private final OwnPolicies own;
  private final String fingerprint;
  private final List<Factor> tuned = new ArrayList<>();
  private final List<Integer> columns = new ArrayList<>();
  private final long[] start;

  /**
   * The tuning of a space on the virtual bench.
   *
   * @param space a space with a target
   * @param build the build that runs the trials
   * @param periodNs control period, ns
   * @param own the policies from outside that the settings may name
   * @return the tuning
   * @throws PlanException with every reason why this space cannot be tuned
   */
  public static Tuning of(Space space, String build, long periodNs, OwnPolicies own)
      throws PlanException {
    return new Tuning(space, new TrialModel(space, periodNs), build, own, null);
  }

  /** With given present settings, for a function in place of the bench. */
  Tuning(Space space, Evaluation.Model model, String build, long[] present) throws PlanException {
    this(space, model, build, OwnPolicies.NONE, present);
  }

  private Tuning(
      Space space, Evaluation.Model model, String build, OwnPolicies own, long @Nullable [] present)
      throws PlanException {
    this.space = space;
    this.model = model;
    this.build = build;
    this.own = own;
    for (int i = 0; i < space.factors().size(); i++) {
      if (space.factors().get(i).isOfSettings()) {
        tuned.add(space.factors().get(i));
        columns.add(i);
      }
    }
    List<Mistake> mistakes = new ArrayList<>();
    start = new long[tuned.size()];
    for (int i = 0; i < start.length; i++) {
      start[i] = present == null ? present(tuned.get(i), mistakes) : present[i];
    }
    check(mistakes);
    if (!mistakes.isEmpty()) {
      throw new PlanException(mistakes);
    }
    target = space.target().orElseThrow();
    fingerprint = hash();
  }

  private long present(Factor factor, List<Mistake> mistakes) {
    String text = TunedSettings.present(space.condition().settings(), factor).orElse("");
    if (text.isEmpty()) {
      wrong(
          mistakes,
          factor.line(),
          "factors." + factor.key(),
          "the settings do not have this section, so there is no old value to compare with; add it"
              + " to "
              + space.condition().settings().source().name());
      return 0;
    }
    if (factor.shape() == Factor.Shape.CHOICE) {
      int place = factor.choices().indexOf(text);
      if (place < 0) {
        wrong(
            mistakes,
            factor.line(),
            "factors." + factor.key(),
            "choice lacks "
                + text
                + ", the value in the settings; add it, so that old and tuned settings can be"
                + " compared");
      }
      return place;
    }
    return new BigDecimal(text).movePointRight(factor.parameter().decimals()).longValueExact();
  }

  private void check(List<Mistake> mistakes) {
    if (space.target().isEmpty()) {
      wrong(
          mistakes,
          0,
          "target",
          "missing; write target: {over_travel: {at_most: 0.005}, minimise: early_stop}");
    }
    if (tuned.isEmpty()) {
      wrong(
          mistakes,
          0,
          "factors",
          "none is of the settings, so nothing can be tuned; add one such as"
              + " settings.stages.length.speed_rpm: {from: 150, to: 400}");
    }
    if (!space.correlations().isEmpty()) {
      wrong(mistakes, 0, "correlations", "tune draws independent factors; remove this key");
    }
    int canals = space.head().repeats();
    if (!(canals >= FEWEST_CANALS)) {
      wrong(
          mistakes,
          0,
          "repeats",
          canals
              + (canals == 1 ? " canal" : " canals")
              + " at each point of the settings; tune needs at least "
              + FEWEST_CANALS);
    }
    long fewest = fewestPoints();
    if (!tuned.isEmpty() && points() < fewest) {
      wrong(
          mistakes,
          0,
          "trials",
          space.head().trials()
              + " trials are "
              + points()
              + " points of the settings on "
              + canals
              + " canals each; at least "
              + fewest
              + " points, "
              + fewest * canals
              + " trials, are needed for "
              + tuned.size()
              + (tuned.size() == 1 ? " factor" : " factors"));
    }
    space.target().ifPresent(t -> confirmable(t, mistakes));
  }

  /** A share that is certain to be undecided is said before the search. */
  private void confirmable(TuneTarget asked, List<Mistake> mistakes) {
    for (TuneTarget.Limit limit : asked.limits()) {
      if (limit.measure().isShare() && Aim.mostCount(limit.atMost(), asked.freshCanals()) < 0) {
        wrong(
            mistakes,
            limit.line(),
            "target." + limit.measure().key(),
            "fresh_canals "
                + asked.freshCanals()
                + " cannot confirm at_most "
                + limit.atMost()
                + ", not even with 0 events; at least "
                + Aim.fewestCanals(limit.atMost())
                + " canals are needed");
      }
    }
  }

  private void wrong(List<Mistake> mistakes, int line, String key, String message) {
    mistakes.add(new Mistake(space.source().name(), line, key, message));
  }

  private long fewestPoints() {
    return FEWEST_POINTS * (tuned.size() + 1L);
  }

  /**
   * The space.
   *
   * @return the space with its target
   */
  public Space space() {
    return space;
  }

  /**
   * The target.
   *
   * @return limits, and what is made small
   */
  public TuneTarget target() {
    return target;
  }

  /**
   * The factors that are tuned.
   *
   * @return in the order of the space
   */
  public List<Factor> tuned() {
    return List.copyOf(tuned);
  }

  /**
   * Trials at most: those of the search, and those of the judgement.
   *
   * @return trials
   */
  public long trials() {
    int judged = 2 + (hasNeighbours() ? 2 * tuned.size() : 0);
    return points() * space.head().repeats() + (long) judged * target.freshCanals();
  }

  String build() {
    return build;
  }

  /** Canals of each point of the search. */
  int canals() {
    return space.head().repeats();
  }

  /** Points of the settings that the search can try. */
  long points() {
    return space.head().trials() / space.head().repeats();
  }

  /** Neighbours double the work with every factor; assumed: with more than four there are none. */
  boolean hasNeighbours() {
    return tuned.size() <= 4;
  }

  /** The present settings, base units. */
  long[] start() {
    return start.clone();
  }

  /** The settings at a place of the unit cube, with few digits. */
  long[] settings(double[] place) {
    long[] settings = new long[place.length];
    for (int i = 0; i < place.length; i++) {
      settings[i] = rounded(tuned.get(i), tuned.get(i).at(Math.max(0, Math.min(1, place[i]))));
    }
    return settings;
  }

  /**
   * A value as a person would write it: to a power of ten that is at most a thousandth of the
   * range, or of the value where the factor is even in the logarithm.
   */
  private static long rounded(Factor factor, long value) {
    long whole = factor.shape() == Factor.Shape.LOG ? value : factor.high() - factor.low();
    long step = 1;
    while (step <= whole / (10 * FINENESS)) {
      step *= 10;
    }
    long near = Math.floorDiv(value + step / 2, step) * step;
    return Math.max(factor.low(), Math.min(factor.high(), near));
  }

  /** A place of these settings; at the nearest end where they are outside. */
  double[] place(long[] settings) {
    double[] place = new double[settings.length];
    for (int i = 0; i < place.length; i++) {
      Factor factor = tuned.get(i);
      double low = 0;
      double high = 1;
      for (int n = 0; n < HALVINGS; n++) {
        double middle = (low + high) / 2;
        if (factor.at(middle) >= settings[i]) {
          high = middle;
        } else {
          low = middle;
        }
      }
      place[i] = high;
    }
    return place;
  }

  /** Settings as people write them. */
  List<String> texts(long[] settings) {
    List<String> texts = new ArrayList<>();
    for (int i = 0; i < settings.length; i++) {
      texts.add(tuned.get(i).text(settings[i]));
    }
    return texts;
  }

  /** One trial: these settings in that canal. */
  Evaluation trial(long[] settings, long canal) {
    long[] values = new long[space.factors().size()];
    OtherFactors.draw(space.factors(), space.head().seed(), canal, values);
    for (int i = 0; i < settings.length; i++) {
      values[columns.get(i)] = settings[i];
    }
    return model.at(values, canal);
  }

  /** The space for another machine. */
  PackedSpace packed() throws NotSerializableException {
    return PackedSpace.of(space, model, build, own);
  }

  /** A hash of everything that a result depends on. */
  String fingerprint() {
    return fingerprint;
  }

  private String hash() {
    StringBuilder all = new StringBuilder("tune\n");
    all.append(build).append('\n').append(space.source().text()).append('\n');
    own.offers().forEach(o -> all.append(o.type()).append(' ').append(o.sha256()).append('\n'));
    all.append(space.head().seed()).append(' ').append(space.head().trials()).append(' ');
    all.append(target.freshCanals()).append(' ').append(Arrays.toString(start)).append('\n');
    Canonical.of(space.plan(), null)
        .forEach((key, value) -> all.append(key).append('=').append(value).append('\n'));
    return WorkFingerprint.of(all);
  }
}
