package org.stopwell.harness.breaking;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.BooleanSupplier;
import org.jspecify.annotations.Nullable;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.SettingsException;
import org.stopwell.harness.explore.WorkFingerprint;
import org.stopwell.harness.explore.Workers;
import org.stopwell.harness.fault.Trials;
import org.stopwell.harness.plan.Canonical;
import org.stopwell.harness.plan.Plan;
import org.stopwell.harness.plan.PlannedCondition;
import org.stopwell.harness.trial.OwnPolicies;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.fault.FaultKind;
import org.stopwell.rig.fault.Injection;

/** Searches the smallest disturbance with which a trial of a plan over-travels. */
public final class BreakSearch implements AutoCloseable {
  /** Seeds for the margin: a share is then known to about a tenth; assumed. */
  public static final int SEEDS = 20;

  private final Plan plan;
  private final PlannedCondition condition;
  private final Scope scope;
  private final Work work;
  private final long periodNs;
  private final BreakState state;
  private final Progress progress;
  private final Workers workers;
  private final TrialField field;
  private final AtomicLong trials = new AtomicLong();
  private @Nullable Found best;

  /**
   * How much is tried.
   *
   * @param canals canals, each with its own noise, at least 1
   * @param starts random disturbances to set out from, at least 1
   * @param steps trials of the walk from each, at least 1
   * @param seed seed of everything random, 0 or more
   * @param jobs trials at the same time, at least 1
   */
  public record Work(int canals, int starts, int steps, long seed, int jobs) {}

  /** Sees what goes on, from any thread. */
  public interface Progress {
    /**
     * How many parts the search has.
     *
     * @param parts finished ones included
     */
    void planned(int parts);

    /** A part has ended. */
    void ended();

    /** A trial has ended. */
    void trial();

    /**
     * A smaller disturbance over-travels; it is not shrunk yet.
     *
     * @param breach what over-travels
     */
    void found(BreakResult.Breach breach);
  }

  /**
   * A search.
   *
   * @param plan the plan
   * @param condition the condition whose trials are disturbed
   * @param scope what may disturb them
   * @param work how much is tried
   * @param periodNs period of the virtual bench, ns
   * @param abandon asked before every step; true ends the search with what was found
   * @param state the finished parts
   * @param progress sees what goes on
   */
  public BreakSearch(
      Plan plan,
      String condition,
      Scope scope,
      Work work,
      long periodNs,
      BooleanSupplier abandon,
      BreakState state,
      Progress progress) {
    this.plan = plan;
    this.condition =
        plan.plannedConditions().stream()
            .filter(c -> c.name().equals(condition))
            .findFirst()
            .orElseThrow();
    this.scope = scope;
    this.work = work;
    this.periodNs = periodNs;
    this.state = state;
    this.progress = progress;
    this.workers = new Workers(work.jobs());
    this.field =
        new TrialField(
            plan,
            this.condition,
            scope,
            work.seed(),
            periodNs,
            abandon,
            () -> {
              trials.incrementAndGet();
              progress.trial();
            });
  }

  /**
   * A hash of everything that a search depends on. The number of jobs is no part of it.
   *
   * @param plan the plan
   * @param condition the condition whose trials are disturbed
   * @param scope what may disturb them
   * @param work how much is tried
   * @param build the build that runs the trials
   * @param own policies from outside
   * @return the fingerprint
   */
  public static String fingerprint(
      Plan plan, String condition, Scope scope, Work work, String build, OwnPolicies own) {
    StringBuilder all = new StringBuilder("break\n");
    all.append(build).append('\n').append(condition).append('\n');
    own.offers().forEach(o -> all.append(o.type()).append(' ').append(o.sha256()).append('\n'));
    all.append(scope.words()).append(scope.kinds()).append(scope.limits().stated()).append('\n');
    all.append(work.canals()).append(' ').append(work.starts()).append(' ');
    all.append(work.steps()).append(' ').append(work.seed()).append('\n');
    Canonical.of(plan, null)
        .forEach((key, value) -> all.append(key).append('=').append(value).append('\n'));
    return WorkFingerprint.of(all);
  }

  /**
   * Does what is left of the search.
   *
   * @return what was found
   */
  public BreakResult search() {
    Hunt.Effort effort = new Hunt.Effort(work.canals(), work.starts(), work.steps(), work.seed());
    try {
      Hunt.Catch caught = new Hunt(field, effort, workers, state, watcher()).hunt();
      List<String> still = still(caught.looked());
      long before = trials.get();
      Optional<BreakResult.Breach> breach = caught.smallest().map(this::examined);
      synchronized (this) {
        best = caught.smallest().orElse(null);
      }
      // Every canal was drawn once, with a trial without a disturbance.
      long all = caught.trials() + caught.looked() + trials.get() - before;
      return result(caught, all, singles(caught), still, breach, true);
    } catch (Workers.Abandoned e) {
      Hunt.Catch caught =
          new Hunt.Catch(
              Optional.ofNullable(smallest()),
              0,
              List.of(),
              Integer.MAX_VALUE,
              work.canals(),
              0,
              0);
      Optional<BreakResult.Breach> breach = caught.smallest().map(this::rough);
      return result(caught, trials.get(), List.of(), List.of(), breach, false);
    }
  }

  private synchronized @Nullable Found smallest() {
    return best;
  }

  private Hunt.Watcher watcher() {
    return new Hunt.Watcher() {
      @Override
      public void planned(int parts) {
        progress.planned(parts);
      }

      @Override
      public void ended() {
        progress.ended();
      }

      @Override
      public void found(Found found) {
        synchronized (BreakSearch.this) {
          Found before = best;
          if (before == null || found.size() < before.size()) {
            best = found;
            progress.found(rough(found));
          }
        }
      }
    };
  }

  /**
   * The newest finding as a plan that {@code run} runs.
   *
   * @param settings the settings files as the new plan names them, by their name in the plan
   * @return YAML; empty while nothing was found
   */
  public synchronized Optional<String> text(Map<String, String> settings) {
    return Optional.ofNullable(best)
        .map(
            f -> field.text(f.canal(), field.disturbed(f.canal(), f.fault(), f.array()), settings));
  }

  /**
   * Whether a written plan repeats a finding.
   *
   * @param written the plan
   * @param breach the finding
   * @return true when the trial is the same to the last bit
   */
  public boolean repeats(Plan written, BreakResult.Breach breach) {
    TrialSpec spec = written.trial(0);
    TrialResult again =
        Trials.simulate(
                periodNs, written.controller(spec), written.policies(), spec, null, () -> false)
            .orElseThrow();
    return again.stateHash() == breach.stateHash()
        && breach.deepestMicrons().equals(OptionalInt.of(again.deepestMicrons()));
  }

  private BreakResult result(
      Hunt.Catch caught,
      long ran,
      List<BreakResult.Single> alone,
      List<String> still,
      Optional<BreakResult.Breach> breach,
      boolean complete) {
    return new BreakResult(
        plan.head().name(),
        condition.name(),
        scope.words(),
        scope.kinds().stream().map(FaultKind::key).toList(),
        caught.looked(),
        caught.undisturbed(),
        work.starts(),
        ran,
        complete,
        alone,
        still,
        caught.nearest(),
        breach);
  }

  private List<String> still(int looked) {
    Set<String> names = new LinkedHashSet<>();
    if (scope.groups().contains(Ingredient.Group.HAND)) {
      Limits.ofHand().forEach(p -> names.add(Limits.HAND + "." + p.key()));
    }
    if (scope.groups().contains(Ingredient.Group.NOISE)) {
      Limits.ofFrontEnd().stream()
          .filter(p -> Limits.acts(p, condition.settings().controller()))
          .forEach(p -> names.add(Limits.FRONT_END + "." + p.key()));
    }
    for (int canal = 0; canal < looked; canal++) {
      field.canal(canal).knobs().forEach(k -> names.remove(k.ingredient().name()));
    }
    return List.copyOf(names);
  }

  private List<BreakResult.Single> singles(Hunt.Catch caught) {
    List<BreakResult.Single> singles = new ArrayList<>();
    for (int i = 0; i < caught.alone().size(); i++) {
      int place = i;
      Knob knob = field.canal(caught.aloneIn()).knobs().get(i);
      Optional<Found> found = caught.alone().get(i).shares();
      double share = found.map(f -> f.shares().get(place)).orElse(1.0);
      singles.add(new BreakResult.Single(part(knob, share), found.isPresent()));
    }
    return singles;
  }

  private BreakResult.Breach rough(Found found) {
    return new BreakResult.Breach(
        field.canal(found.canal()).seed(),
        found.size(),
        parts(found),
        OptionalInt.empty(),
        0,
        Optional.empty());
  }

  private BreakResult.Breach examined(Found found) {
    try {
      Disturbed disturbed = field.disturbed(found.canal(), found.fault(), found.array());
      TrialResult result = field.result(found.canal(), disturbed);
      return new BreakResult.Breach(
          field.canal(found.canal()).seed(),
          found.size(),
          parts(found),
          OptionalInt.of(result.deepestMicrons()),
          result.stateHash(),
          found.size() == 0 ? Optional.empty() : Optional.of(margin(found, disturbed)));
    } catch (SettingsException e) {
      throw new IllegalStateException("a trial that ran is impossible: " + e.getMessage(), e);
    }
  }

  private BreakResult.Margin margin(Found found, Disturbed disturbed) {
    double[] less =
        new Shrink(field.arena(found.canal(), found.fault())).scaled(found.array(), Shrink.BELOW);
    Disturbed below = field.disturbed(found.canal(), found.fault(), less);
    int others = SEEDS - 1;
    List<Integer> canals = new ArrayList<>(List.of(found.canal()));
    for (int i = 0; canals.size() <= others; i++) {
      if (i != found.canal()) {
        canals.add(i);
      }
    }
    return new BreakResult.Margin(SEEDS, count(canals, disturbed), count(canals, below));
  }

  private int count(List<Integer> canals, Disturbed disturbed) {
    return (int)
        workers.each(canals.size(), i -> field.isPast(canals.get(i), disturbed)).stream()
            .filter(past -> past)
            .count();
  }

  private List<BreakResult.Part> parts(Found found) {
    double[] shares = found.array();
    DrawnTrial canal = field.canal(found.canal());
    List<BreakResult.Part> parts = new ArrayList<>();
    for (int i = 0; i < canal.knobs().size(); i++) {
      Knob knob = canal.knobs().get(i);
      if (knob.value(shares[i]) != knob.from()) {
        parts.add(part(knob, shares[i]));
      }
    }
    parts.sort(Comparator.comparingDouble(p -> -Math.abs(p.share())));
    Disturbed disturbed = field.disturbed(found.canal(), found.fault(), shares);
    disturbed.fault().ifPresent(f -> parts.addAll(ofFault(f.injection(), shares, canal)));
    return parts;
  }

  private List<BreakResult.Part> ofFault(Injection fault, double[] shares, DrawnTrial canal) {
    FaultKind kind = fault.kind();
    int next = canal.knobs().size() + 1;
    List<BreakResult.Part> parts = new ArrayList<>();
    parts.add(ofFault(kind, "at_ms", "ms", fault.startNs() / 1e6, "", 0));
    if (FaultKinds.lasts(kind)) {
      double limit = scope.limits().faultMillis();
      parts.add(
          ofFault(kind, "for_ms", "ms", fault.durationNs() / 1e6, number(limit), shares[next++]));
    }
    if (FaultKinds.isStrong(kind)) {
      parts.add(
          ofFault(
              kind,
              "strength",
              kind.strength().meaning(),
              fault.strength(),
              number(scope.limits().strength(kind)),
              shares[next]));
    }
    return parts;
  }

  private static BreakResult.Part ofFault(
      FaultKind kind, String key, String unit, double value, String limit, double share) {
    return new BreakResult.Part(
        "faults." + kind.key() + "." + key, unit, "none", number(value), limit, share);
  }

  private static BreakResult.Part part(Knob knob, double share) {
    Parameter p = knob.parameter();
    return new BreakResult.Part(
        "scene." + knob.ingredient().name(),
        p.unit(),
        p.human(knob.from()),
        p.human(knob.value(share)),
        (knob.ingredient().twoSided() ? "±" : "") + p.human(knob.to()),
        share);
  }

  private static String number(double value) {
    return java.math.BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
  }

  @Override
  public void close() {
    workers.close();
  }
}
