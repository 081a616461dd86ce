package org.stopwell.harness.breaking;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.BooleanSupplier;
import java.util.stream.IntStream;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.explore.BrokenPolicyException;
import org.stopwell.harness.explore.Workers;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlanPoint;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.trial.Outcome;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.PolicyFailure;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.random.RandomStream;

/** The trials of one condition of a plan on the virtual bench. */
final class TrialField implements Ground {
  /** Clearance of a disturbance whose values contradict each other, µm: farther than any canal. */
  private static final int IMPOSSIBLE = 100_000;

  private final Plan plan;
  private final PlanPoint points;
  private final Limits limits;
  private final Set<Ingredient.Group> groups;
  private final List<FaultKind> kinds;
  private final long seed;
  private final long periodNs;
  private final BooleanSupplier abandon;
  private final Runnable counter;
  private final Map<Integer, DrawnTrial> canals = new ConcurrentHashMap<>();

  TrialField(
      Plan plan,
      PlannedCondition condition,
      Scope scope,
      long seed,
      long periodNs,
      BooleanSupplier abandon,
      Runnable counter) {
    this.plan = plan;
    this.points = PlanPoint.of(plan, condition);
    this.limits = scope.limits();
    this.groups = scope.groups();
    this.kinds = scope.kinds();
    this.seed = seed;
    this.periodNs = periodNs;
    this.abandon = abandon;
    this.counter = counter;
  }

  @Override
  public Arena arena(int canal, int fault) {
    return new Trial(
        canal(canal), fault == 0 ? Optional.empty() : Optional.of(kinds.get(fault - 1)));
  }

  @Override
  public int faults() {
    return kinds.size();
  }

  @Override
  public boolean hasMore() {
    return !canal(0).knobs().isEmpty();
  }

  DrawnTrial canal(int number) {
    return canals.computeIfAbsent(number, this::drawn);
  }

  private DrawnTrial drawn(int number) {
    long own = seedOf(number);
    try {
      PlanPoint.Point point = points.at(new long[0], own);
      long millis = Outcome.millis(run(point));
      return new DrawnTrial(own, point, millis, knobs(point));
    } catch (SettingsException e) {
      throw new IllegalStateException("a drawn scene is impossible: " + e.getMessage(), e);
    }
  }

  private long seedOf(int number) {
    return RandomStream.trialSeed(RandomStream.trialSeed(seed, -1), number) >>> 1;
  }

  private List<Knob> knobs(PlanPoint.Point point) {
    List<Knob> knobs = new ArrayList<>();
    ParameterValues hand = point.spec().scene().section(Limits.HAND);
    ParameterValues frontEnd = point.spec().scene().section(Limits.FRONT_END);
    if (groups.contains(Ingredient.Group.HAND)) {
      for (Parameter p : Limits.ofHand()) {
        long from = p.equals(HandSection.PECK_STROKE) ? stroke(hand) : hand.get(p);
        if (moves(p, hand) && limits.hand(p) > from) {
          knobs.add(Knob.of(Ingredient.Group.HAND, Limits.HAND, p, from, limits.hand(p)));
        }
      }
    }
    if (groups.contains(Ingredient.Group.NOISE)) {
      for (Parameter p : Limits.ofFrontEnd()) {
        long to = limits.frontEnd(p, point.controller(), frontEnd);
        if (Limits.acts(p, point.controller()) && to > frontEnd.get(p)) {
          knobs.add(Knob.of(Ingredient.Group.NOISE, Limits.FRONT_END, p, frontEnd.get(p), to));
        }
      }
    }
    return knobs;
  }

  /** A stage neither trembles nor reacts nor pecks; a hand that pauses does not peck. */
  private static boolean moves(Parameter p, ParameterValues hand) {
    HandMotion motion = HandSection.motion(hand);
    if (p.equals(HandSection.PECK_STROKE)) {
      return motion == HandMotion.STEADY || motion == HandMotion.PECKING;
    }
    return motion != HandMotion.STAGE || p.equals(HandSection.FEED);
  }

  private static long stroke(ParameterValues hand) {
    return HandSection.motion(hand) == HandMotion.PECKING ? hand.get(HandSection.PECK_STROKE) : 0;
  }

  /** The keys of a disturbance. */
  Disturbed disturbed(int canal, int fault, double[] shares) {
    return ((Trial) arena(canal, fault)).disturbed(shares);
  }

  /** The same keys in another canal. */
  boolean isPast(int canal, Disturbed disturbed) {
    return clearance(seedOf(canal), disturbed).orElse(IMPOSSIBLE) < 0;
  }

  /** A plan of one trial with the disturbance. */
  String text(int canal, Disturbed disturbed, Map<String, String> settings) {
    return points
        .with(disturbed.factors())
        .text(disturbed.array(), canal(canal).seed(), settings, disturbed.after(List.of()));
  }

  TrialResult result(int canal, Disturbed disturbed) throws SettingsException {
    return run(point(canal(canal).seed(), disturbed));
  }

  /** Empty where the values contradict each other, so that there is no trial. */
  private OptionalInt clearance(long own, Disturbed disturbed) {
    try {
      PlanPoint.Point point = point(own, disturbed);
      return OptionalInt.of(run(point).deepestMicrons() - point.spec().overTravelBelowMicrons());
    } catch (SettingsException e) {
      return OptionalInt.empty();
    }
  }

  private PlanPoint.Point point(long own, Disturbed disturbed) throws SettingsException {
    PlanPoint.Point point = points.with(disturbed.factors()).at(disturbed.array(), own);
    TrialSpec s = point.spec();
    return new PlanPoint.Point(
        new TrialSpec(
            s.index(),
            s.condition(),
            s.expectation(),
            s.stage(),
            s.standoffMicrons(),
            s.toleranceMicrons(),
            s.depthLimitMicrons(),
            s.torqueLimitMicroNewtonMetres(),
            s.timeLimitNs(),
            s.scene(),
            disturbed.after(s.faults())),
        point.controller());
  }

  private TrialResult run(PlanPoint.Point point) {
    TrialResult result =
        Trials.simulate(periodNs, point.controller(), plan.policies(), point.spec(), null, abandon)
            .orElseThrow(Workers.Abandoned::new);
    counter.run();
    if (PolicyFailure.isIn(result)) {
      throw new BrokenPolicyException(result.message());
    }
    return result;
  }

  /** One canal with at most one kind of fault. */
  private final class Trial implements Arena {
    private final DrawnTrial canal;
    private final Optional<FaultKind> kind;
    private final List<Ingredient> ingredients = new ArrayList<>();
    private long trials;

    Trial(DrawnTrial canal, Optional<FaultKind> kind) {
      this.canal = canal;
      this.kind = kind;
      canal.knobs().forEach(k -> ingredients.add(k.ingredient()));
      kind.ifPresent(k -> ingredients.addAll(FaultParts.of(k)));
    }

    @Override
    public List<Ingredient> ingredients() {
      return ingredients;
    }

    @Override
    public int clearance(double[] shares) {
      OptionalInt clearance = TrialField.this.clearance(canal.seed(), disturbed(shares));
      if (clearance.isPresent()) {
        trials++;
      }
      return clearance.orElse(IMPOSSIBLE);
    }

    @Override
    public long trials() {
      return trials;
    }

    Disturbed disturbed(double[] shares) {
      List<Factor> factors = new ArrayList<>();
      List<Long> values = new ArrayList<>();
      for (int i = 0; i < canal.knobs().size(); i++) {
        Knob knob = canal.knobs().get(i);
        long value = knob.value(shares[i]);
        if (value != knob.from()) {
          factors.add(knob.factor());
          values.add(value);
          if (knob.parameter().equals(HandSection.PECK_STROKE)) {
            factors.add(pecking());
            values.add(0L);
          }
        }
      }
      double[] ofFault =
          IntStream.range(canal.knobs().size(), shares.length)
              .mapToDouble(i -> shares[i])
              .toArray();
      return new Disturbed(factors, values, kind.flatMap(k -> fault(k, ofFault)));
    }

    private Optional<PlannedFault> fault(FaultKind k, double[] shares) {
      return FaultParts.read(k, shares, limits, canal.millis())
          .map(injection -> new PlannedFault(injection, -1, null, "", 0));
    }
  }

  private static Factor pecking() {
    return new Factor(
        "scene." + Limits.HAND + "." + HandSection.MOTION.key(),
        HandSection.MOTION,
        Factor.Shape.CHOICE,
        0,
        1,
        List.of("pecking"),
        0);
  }
}
