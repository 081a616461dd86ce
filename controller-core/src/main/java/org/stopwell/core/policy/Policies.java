package org.stopwell.core.policy;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.BiFunction;
import java.util.function.Supplier;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.motion.StopPredictor;
import org.stopwell.core.sense.BuiltInSensing;
import org.stopwell.core.sense.Sensing;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.PolicyParameters;
import org.stopwell.core.settings.PolicyTables;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.SensingNeeds;

/**
 * The policies that settings may name: sensing in {@code sense.policy}, the others in section
 * {@code policies}. Each may have parameters of its own, in section {@code policy.NAME}. Immutable.
 */
public final class Policies {
  private static final ParameterTable NO_PARAMETERS = new ParameterTable(List.of());

  /**
   * Makes a policy, once, when a controller is made.
   *
   * @param <T> kind of policy
   */
  @FunctionalInterface
  public interface Maker<T> {
    /**
     * Makes the policy.
     *
     * @param settings all settings
     * @param own the values of the policy's own parameters
     * @return the policy
     */
    T make(ControllerSettings settings, ParameterValues own);
  }

  /** Puts something around policies; every method is called when a controller is made. */
  public interface Wrapper {
    /**
     * Calls what makes a policy, or what states its frequencies.
     *
     * @param <T> what is made
     * @param name the policy's name
     * @param maker makes it
     * @return what was made
     */
    <T> T make(String name, Supplier<T> maker);

    /**
     * Puts something around a sensing policy.
     *
     * @param name its name
     * @param policy the policy
     * @return the policy to be used in its place
     */
    Sensing sensing(String name, Sensing policy);

    /**
     * Puts something around a stopping policy.
     *
     * @param name its name
     * @param policy the policy
     * @return the policy to be used in its place
     */
    Stopping stopping(String name, Stopping policy);

    /**
     * Puts something around a torque policy.
     *
     * @param name its name
     * @param policy the policy
     * @return the policy to be used in its place
     */
    TorqueReaction torque(String name, TorqueReaction policy);

    /**
     * Puts something around a trust policy.
     *
     * @param name its name
     * @param policy the policy
     * @return the policy to be used in its place
     */
    TrustPolicy trust(String name, TrustPolicy policy);
  }

  // named classes and no lambdas: the export to C translates class files, and a lambda has none

  private static final class Predict implements Stopping {
    @Override
    public double atRest(double remainingMicrons, double closingMicronsPerSecond, long coastNs) {
      return StopPredictor.atRest(remainingMicrons, closingMicronsPerSecond, coastNs);
    }
  }

  private static final class Plain implements Stopping {
    @Override
    public double atRest(double remainingMicrons, double closingMicronsPerSecond, long coastNs) {
      return remainingMicrons;
    }
  }

  private static final class Retry implements TorqueReaction {
    @Override
    public Reaction onLimit(Reaction set, int used, int retries) {
      return used >= retries ? Reaction.HOLD : set;
    }
  }

  private static final class ByStage implements TrustPolicy {
    @Override
    public Reaction onLost(Trust trust, Cause cause, Reaction onDoubtful, Reaction onNone) {
      return trust == Trust.NONE ? onNone : onDoubtful;
    }
  }

  private record Entry<T>(ParameterTable table, Maker<T> maker, boolean wrapped) {}

  /** What a controller has without further ado. */
  public static final Policies BUILT_IN =
      new Policies(Map.of(), Map.of(), Map.of(), Map.of(), Map.of())
          .withSensing(
              SenseParameters.RATIO,
              SensingNeeds.RATIO,
              NO_PARAMETERS,
              (all, own) -> BuiltInSensing.ratio(all))
          .withSensing(
              SenseParameters.RESISTANCE,
              SensingNeeds.RESISTANCE,
              NO_PARAMETERS,
              (all, own) -> BuiltInSensing.resistance(all))
          .withSensing(
              SenseParameters.LOCATOR,
              SensingNeeds.LOCATOR,
              NO_PARAMETERS,
              (all, own) -> BuiltInSensing.locator(all))
          .withSensing(
              SenseParameters.APPROACH,
              SensingNeeds.APPROACH,
              NO_PARAMETERS,
              (all, own) -> BuiltInSensing.approach(all))
          .withStopping("predict", NO_PARAMETERS, (all, own) -> new Predict())
          .withStopping("plain", NO_PARAMETERS, (all, own) -> new Plain())
          .withTorque("retry", NO_PARAMETERS, (all, own) -> new Retry())
          .withTrust("by-stage", NO_PARAMETERS, (all, own) -> new ByStage());

  private final Map<String, SensingNeeds> needs;
  private final Map<String, Entry<Sensing>> sensing;
  private final Map<String, Entry<Stopping>> stopping;
  private final Map<String, Entry<TorqueReaction>> torque;
  private final Map<String, Entry<TrustPolicy>> trust;

  private Policies(
      Map<String, SensingNeeds> needs,
      Map<String, Entry<Sensing>> sensing,
      Map<String, Entry<Stopping>> stopping,
      Map<String, Entry<TorqueReaction>> torque,
      Map<String, Entry<TrustPolicy>> trust) {
    this.needs = needs;
    this.sensing = sensing;
    this.stopping = stopping;
    this.torque = torque;
    this.trust = trust;
  }

  /**
   * These policies and one more way to read a sample.
   *
   * @param name its name in settings
   * @param needed signal, frequencies and keys that it needs
   * @param table its own parameters
   * @param maker makes it
   * @return a copy
   */
  public Policies withSensing(
      String name, SensingNeeds needed, ParameterTable table, Maker<Sensing> maker) {
    Map<String, SensingNeeds> more = new LinkedHashMap<>(needs);
    more.put(name, needed);
    return new Policies(more, plus(sensing, name, table, maker), stopping, torque, trust);
  }

  /**
   * These policies and one more way to decide a stop.
   *
   * @param name its name in settings
   * @param table its own parameters
   * @param maker makes it
   * @return a copy
   */
  public Policies withStopping(String name, ParameterTable table, Maker<Stopping> maker) {
    return new Policies(needs, sensing, plus(stopping, name, table, maker), torque, trust);
  }

  /**
   * These policies and one more answer to the torque limit.
   *
   * @param name its name in settings
   * @param table its own parameters
   * @param maker makes it
   * @return a copy
   */
  public Policies withTorque(String name, ParameterTable table, Maker<TorqueReaction> maker) {
    return new Policies(needs, sensing, stopping, plus(torque, name, table, maker), trust);
  }

  /**
   * These policies and one more answer to lost trust.
   *
   * @param name its name in settings
   * @param table its own parameters
   * @param maker makes it
   * @return a copy
   */
  public Policies withTrust(String name, ParameterTable table, Maker<TrustPolicy> maker) {
    return new Policies(needs, sensing, stopping, torque, plus(trust, name, table, maker));
  }

  private <T> Map<String, Entry<T>> plus(
      Map<String, Entry<T>> entries, String name, ParameterTable table, Maker<T> maker) {
    Map<String, Entry<T>> more = new LinkedHashMap<>(entries);
    if (!table.parameters().isEmpty() && own().containsKey(name)) {
      throw new IllegalArgumentException(
          "a policy named " + name + " with parameters of its own is already there");
    }
    if (more.put(name, new Entry<>(table, maker, false)) != null) {
      throw new IllegalArgumentException("a policy named " + name + " is already there");
    }
    return more;
  }

  /**
   * These policies, with something around each that is not among the known ones.
   *
   * @param known policies that stay as they are
   * @param wrapper what is put around the others
   * @return a copy
   */
  public Policies wrapped(Policies known, Wrapper wrapper) {
    Map<String, SensingNeeds> asked = new LinkedHashMap<>(needs);
    asked.replaceAll(
        (name, n) ->
            known.needs.containsKey(name)
                ? n
                : new SensingNeeds(
                    n.signal(),
                    n.single(),
                    (sense, own) -> wrapper.make(name, () -> n.frequencies().hertz(sense, own)),
                    n.keys()));
    return new Policies(
        asked,
        wrapped(sensing, known.sensing, wrapper, wrapper::sensing),
        wrapped(stopping, known.stopping, wrapper, wrapper::stopping),
        wrapped(torque, known.torque, wrapper, wrapper::torque),
        wrapped(trust, known.trust, wrapper, wrapper::trust));
  }

  private static <T> Map<String, Entry<T>> wrapped(
      Map<String, Entry<T>> all,
      Map<String, Entry<T>> known,
      Wrapper wrapper,
      BiFunction<String, T, T> around) {
    Map<String, Entry<T>> more = new LinkedHashMap<>(all);
    more.replaceAll(
        (name, e) ->
            known.containsKey(name)
                ? e
                : new Entry<>(
                    e.table(),
                    (settings, own) ->
                        around.apply(name, wrapper.make(name, () -> e.maker().make(settings, own))),
                    true));
    return more;
  }

  /**
   * Whether something was put around a policy.
   *
   * @return true after {@link #wrapped}
   */
  public boolean isWrapped() {
    List<Map<String, ? extends Entry<?>>> kinds = List.of(sensing, stopping, torque, trust);
    return kinds.stream().anyMatch(kind -> kind.values().stream().anyMatch(Entry::wrapped));
  }

  /**
   * What settings must know of the policies.
   *
   * @return names, needs and parameters
   */
  public PolicyTables tables() {
    return new PolicyTables(
        needs,
        List.copyOf(stopping.keySet()),
        List.copyOf(torque.keySet()),
        List.copyOf(trust.keySet()),
        own());
  }

  private Map<String, ParameterTable> own() {
    Map<String, ParameterTable> own = new LinkedHashMap<>();
    List<Map<String, ? extends Entry<?>>> kinds = List.of(sensing, stopping, torque, trust);
    for (Map<String, ? extends Entry<?>> kind : kinds) {
      kind.forEach(
          (name, entry) -> {
            if (!entry.table().parameters().isEmpty()) {
              own.put(name, entry.table());
            }
          });
    }
    return own;
  }

  /**
   * Makes the sensing that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public Sensing sensing(ControllerSettings settings) {
    return make(settings, settings.sensingPolicy(), sensing);
  }

  /**
   * Makes the stopping policy that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public Stopping stopping(ControllerSettings settings) {
    return make(settings, settings.policy(PolicyParameters.STOPPING), stopping);
  }

  /**
   * Makes the torque policy that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public TorqueReaction torque(ControllerSettings settings) {
    return make(settings, settings.policy(PolicyParameters.TORQUE), torque);
  }

  /**
   * Makes the trust policy that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public TrustPolicy trust(ControllerSettings settings) {
    return make(settings, settings.policy(PolicyParameters.TRUST), trust);
  }

  private static <T> T make(
      ControllerSettings settings, String name, Map<String, Entry<T>> entries) {
    Entry<T> entry = entries.get(name);
    if (entry == null) {
      throw new IllegalArgumentException("no policy " + name);
    }
    return entry.maker().make(settings, settings.own(name));
  }
}
