package org.stopwell.harness.explore;

import java.io.IOException;
import java.io.InvalidObjectException;
import java.io.NotSerializableException;
import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import org.stopwell.harness.plan.Canonical;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Space;
import org.stopwell.harness.trial.OwnPolicies;

/** The trials of a space as work that an engine splits. */
public final class ExploreWork implements ShardWork<ExploreSummary> {
  private static final long serialVersionUID = 1L;

  private final transient Space space;
  private final transient SpaceDesign design;
  private final transient Evaluation.Model model;

  /** The build that runs the trials. */
  private final String build;

  /** The policies from outside that the settings may name. */
  private final OwnPolicies own;

  private final transient ExploreSummary.Shape shape;

  /**
   * The work as texts.
   *
   * @param packed the space
   */
  private record Packed(PackedSpace packed) implements Serializable {
    private Object readResolve() throws InvalidObjectException {
      try {
        return ExploreWork.of(packed.space(), packed.build(), packed.periodNs(), packed.own());
      } catch (SpaceException e) {
        throw PackedSpace.invalid(e);
      }
    }
  }

  /**
   * For an engine on other machines.
   *
   * @return the texts of the work
   * @throws NotSerializableException for a function, which stays in this process
   */
  private Object writeReplace() throws NotSerializableException {
    return new Packed(PackedSpace.of(space, model, build, own));
  }

  /**
   * The trials of a space on the virtual bench.
   *
   * @param space the space
   * @param build the build that runs them
   * @param periodNs control period, ns
   * @return the work
   * @throws SpaceException when there are too few trials for the design
   */
  public static ExploreWork of(Space space, String build, long periodNs) throws SpaceException {
    return of(space, build, periodNs, OwnPolicies.NONE);
  }

  /**
   * The trials of a space on the virtual bench, with policies from outside.
   *
   * @param space the space
   * @param build the build that runs them
   * @param periodNs control period, ns
   * @param own the policies from outside that the settings may name
   * @return the work
   * @throws SpaceException when there are too few trials for the design
   */
  public static ExploreWork of(Space space, String build, long periodNs, OwnPolicies own)
      throws SpaceException {
    return new ExploreWork(space, new TrialModel(space, periodNs), build, own);
  }

  ExploreWork(Space space, Evaluation.Model model, String build) throws SpaceException {
    this(space, model, build, OwnPolicies.NONE);
  }

  private ExploreWork(Space space, Evaluation.Model model, String build, OwnPolicies own)
      throws SpaceException {
    this.own = own;
    this.space = space;
    this.design = SpaceDesign.of(space);
    this.model = model;
    this.build = build;
    int factors = space.factors().size();
    this.shape =
        new ExploreSummary.Shape(
            bins(space),
            switch (space.head().design()) {
              case SOBOL -> SobolIndices.sums(factors + 1);
              case MORRIS -> MorrisEffects.sums(factors + 1);
              default -> 0;
            },
            space.head().design() == Space.Design.MORRIS ? 0 : Surface.sums(factors),
            design.places());
  }

  private static Histogram.Bins bins(Space space) {
    return switch (space.head().outcome()) {
      case STOP_ERROR -> new Histogram.Bins(-5_000, 50, 400);
      case TIME ->
          new Histogram.Bins(0, Math.max(1, space.plan().head().timeLimitNs() / 400_000_000), 401);
      default -> new Histogram.Bins(0, 1, 2);
    };
  }

  Space space() {
    return space;
  }

  String build() {
    return build;
  }

  /** The factors of a trial, base units. */
  long[] values(long trial) {
    long[] values = new long[space.factors().size()];
    design.point(trial / unitTrials(), (int) (trial % unitTrials()), values);
    return values;
  }

  /** The draw of everything else of a trial. */
  long rest(long trial) {
    return design.rest(trial / unitTrials(), (int) (trial % unitTrials()));
  }

  SpaceDesign design() {
    return design;
  }

  Evaluation.Model model() {
    return model;
  }

  /**
   * How many trials the design holds; at most as many as the space asks for.
   *
   * @return trials of all units
   */
  public long trials() {
    return units() * unitTrials();
  }

  @Override
  public String fingerprint() {
    StringBuilder all = new StringBuilder();
    all.append(build).append('\n').append(space.source().text()).append('\n');
    own.offers().forEach(o -> all.append(o.type()).append(' ').append(o.sha256()).append('\n'));
    all.append(space.head().seed()).append(' ').append(space.head().trials()).append('\n');
    Canonical.of(space.plan(), null)
        .forEach((key, value) -> all.append(key).append('=').append(value).append('\n'));
    return WorkFingerprint.of(all);
  }

  @Override
  public long units() {
    return design.units();
  }

  @Override
  public int unitTrials() {
    return design.unitTrials();
  }

  @Override
  public ExploreSummary empty() {
    return new ExploreSummary(shape);
  }

  @Override
  public ExploreSummary read(byte[] bytes) throws IOException {
    return ExploreSummary.read(bytes, shape);
  }

  @Override
  public List<RowColumn> columns() {
    List<RowColumn> columns = new ArrayList<>();
    space.factors().forEach(f -> columns.add(column(f)));
    List.of(
            "draw",
            "possible",
            "has_outcome",
            "outcome",
            "stopped",
            "over_travel",
            "early_stop",
            "refused",
            "stop_error_um",
            "deepest_um",
            "duration_ms")
        .forEach(name -> columns.add(RowColumn.whole(name)));
    return columns;
  }

  /**
   * The key in words that are a name in Python too; the unit at its end is that of one base unit.
   */
  private static RowColumn column(Factor factor) {
    RowColumn.Kind kind =
        factor.shape() == Factor.Shape.CHOICE ? RowColumn.Kind.WORD : RowColumn.Kind.NUMBER;
    return new RowColumn(factor.key().replace('.', '_'), kind, factor::text);
  }

  @Override
  public ExploreSummary shard(long from, long to, RowSink rows) {
    ExploreSummary kept = empty();
    int factors = space.factors().size();
    int members = unitTrials();
    long[][] values = new long[members][factors];
    Evaluation[] results = new Evaluation[members];
    for (long unit = from; unit < to; unit++) {
      for (int m = 0; m < members; m++) {
        design.point(unit, m, values[m]);
        long rest = design.rest(unit, m);
        Evaluation result = model.at(values[m], rest);
        results[m] = result;
        count(kept, unit * members + m, result);
        rows.put(unit * members + m, row(values[m], rest, result));
      }
      switch (space.head().design()) {
        case SOBOL -> sobol(kept, unit, values, results);
        case MORRIS -> morris(kept, unit, results);
        default -> placed(kept, unit, values[0], results[0]);
      }
    }
    return kept;
  }

  private static long[] row(long[] values, long rest, Evaluation r) {
    long[] row = java.util.Arrays.copyOf(values, values.length + 11);
    long[] found = {
      rest,
      flag(r.possible()),
      flag(r.value().isPresent()),
      r.value().orElse(0),
      flag(r.stopped()),
      flag(r.overTravel()),
      flag(r.early()),
      flag(r.refused()),
      r.stopErrorMicrons(),
      r.deepestMicrons(),
      r.millis()
    };
    System.arraycopy(found, 0, row, values.length, found.length);
    return row;
  }

  private static long flag(boolean is) {
    return is ? 1 : 0;
  }

  private static void count(ExploreSummary kept, long trial, Evaluation result) {
    kept.count(ExploreSummary.Count.TRIALS);
    if (!result.possible()) {
      kept.count(ExploreSummary.Count.IMPOSSIBLE);
      return;
    }
    if (result.stopped()) {
      kept.count(ExploreSummary.Count.STOPPED);
    }
    if (result.overTravel()) {
      kept.count(ExploreSummary.Count.OVER_TRAVEL);
    }
    if (result.early()) {
      kept.count(ExploreSummary.Count.EARLY);
    }
    if (result.refused()) {
      kept.count(ExploreSummary.Count.REFUSED);
    }
    if (result.badness() > 0) {
      kept.worst.add(trial, result.badness());
    }
    result
        .value()
        .ifPresent(
            value -> {
              kept.count(ExploreSummary.Count.WITH_OUTCOME);
              kept.moments.add(0, value);
              kept.moments.add(1, value * value);
              kept.histogram.add(value);
            });
  }

  private void sobol(ExploreSummary kept, long unit, long[][] values, Evaluation[] results) {
    for (int m = 0; m < 2; m++) {
      surface(kept, unit, values[m], results[m]);
    }
    long[] row = new long[results.length];
    for (int m = 0; m < row.length; m++) {
      if (results[m].value().isEmpty()) {
        kept.count(ExploreSummary.Count.INCOMPLETE);
        return;
      }
      row[m] = results[m].value().getAsLong();
    }
    SobolIndices.add(kept.sensitivity, unit, row);
  }

  private void morris(ExploreSummary kept, long unit, Evaluation[] results) {
    MorrisDesign steps = (MorrisDesign) design;
    boolean complete = results[0].value().isPresent();
    for (int m = 1; m < results.length; m++) {
      complete &= results[m].value().isPresent();
      if (results[m].value().isPresent() && results[m - 1].value().isPresent()) {
        int moved = steps.moved(unit, m);
        long change = results[m].value().getAsLong() - results[m - 1].value().getAsLong();
        MorrisEffects.add(kept.sensitivity, moved, steps.isUp(unit, moved) ? change : -change);
      }
    }
    if (!complete) {
      kept.count(ExploreSummary.Count.INCOMPLETE);
    }
  }

  private void placed(ExploreSummary kept, long unit, long[] values, Evaluation result) {
    surface(kept, design.places() > 0 ? design.place(unit) : unit, values, result);
    if (design.places() > 0 && result.possible()) {
      int at = design.place(unit) * ExploreSummary.PlaceSum.values().length;
      kept.places.add(at + ExploreSummary.PlaceSum.TRIALS.ordinal(), 1);
      kept.places.add(
          at + ExploreSummary.PlaceSum.OVER_TRAVEL.ordinal(), flag(result.overTravel()));
      kept.places.add(at + ExploreSummary.PlaceSum.EARLY.ordinal(), flag(result.early()));
      kept.places.add(at + ExploreSummary.PlaceSum.REFUSED.ordinal(), flag(result.refused()));
      kept.places.add(at + ExploreSummary.PlaceSum.MILLIS.ordinal(), result.millis());
    }
  }

  private void surface(ExploreSummary kept, long group, long[] values, Evaluation result) {
    if (result.value().isPresent()) {
      int factors = values.length;
      int[] places = new int[factors];
      for (int i = 0; i < factors; i++) {
        places[i] = space.factors().get(i).position(values[i]);
      }
      Surface.add(
          kept.surface, factors, (int) (group % Surface.FOLDS), places, result.value().getAsLong());
    }
  }
}
