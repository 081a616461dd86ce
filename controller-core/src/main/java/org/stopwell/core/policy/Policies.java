package org.stopwell.core.policy;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.Reaction;
import org.stopwell.core.motion.StopPredictor;
import org.stopwell.core.sense.PositionSense;
import org.stopwell.core.sense.Sensing;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.ParameterTable;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.PolicyParameters;

/**
 * The policies that settings may name, in section {@code policies}; each may have parameters of its
 * own, in section {@code policy.NAME}. Immutable.
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

  private record Entry<T>(ParameterTable table, Maker<T> maker) {}

  /** What a controller has without further ado. */
  public static final Policies BUILT_IN =
      new Policies(Map.of(), Map.of(), Map.of(), Map.of())
          .withSensing(
              PolicyParameters.BUILT_IN_SENSING,
              NO_PARAMETERS,
              (all, own) -> PositionSense.sensingOf(all))
          .withStopping("predict", NO_PARAMETERS, (all, own) -> StopPredictor::atRest)
          .withStopping("plain", NO_PARAMETERS, (all, own) -> (remaining, v, coast) -> remaining)
          .withTorque("retry", NO_PARAMETERS, (all, own) -> Policies::retry)
          .withTrust("by-stage", NO_PARAMETERS, (all, own) -> Policies::byStage);

  private final Map<String, Entry<Sensing>> sensing;
  private final Map<String, Entry<Stopping>> stopping;
  private final Map<String, Entry<TorqueReaction>> torque;
  private final Map<String, Entry<TrustPolicy>> trust;

  private Policies(
      Map<String, Entry<Sensing>> sensing,
      Map<String, Entry<Stopping>> stopping,
      Map<String, Entry<TorqueReaction>> torque,
      Map<String, Entry<TrustPolicy>> trust) {
    this.sensing = sensing;
    this.stopping = stopping;
    this.torque = torque;
    this.trust = trust;
  }

  private static Reaction retry(Reaction set, int used, int retries) {
    return used >= retries ? Reaction.HOLD : set;
  }

  private static Reaction byStage(Trust trust, Cause cause, Reaction onDoubtful, Reaction onNone) {
    return trust == Trust.NONE ? onNone : onDoubtful;
  }

  /**
   * These policies and one more way to read a sample.
   *
   * @param name its name in settings
   * @param table its own parameters
   * @param maker makes it
   * @return a copy
   */
  public Policies withSensing(String name, ParameterTable table, Maker<Sensing> maker) {
    return new Policies(plus(sensing, name, table, maker), stopping, torque, trust);
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
    return new Policies(sensing, plus(stopping, name, table, maker), torque, trust);
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
    return new Policies(sensing, stopping, plus(torque, name, table, maker), trust);
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
    return new Policies(sensing, stopping, torque, plus(trust, name, table, maker));
  }

  private static <T> Map<String, Entry<T>> plus(
      Map<String, Entry<T>> entries, String name, ParameterTable table, Maker<T> maker) {
    Map<String, Entry<T>> more = new LinkedHashMap<>(entries);
    if (more.put(name, new Entry<>(table, maker)) != null) {
      throw new IllegalArgumentException("a policy named " + name + " is already there");
    }
    return more;
  }

  /**
   * The tables of the sections that name and set the policies.
   *
   * @return {@code policies}, and {@code policy.NAME} for every policy with parameters of its own
   */
  public Map<String, ParameterTable> tables() {
    Map<String, ParameterTable> tables = new LinkedHashMap<>();
    tables.put(
        PolicyParameters.SECTION,
        PolicyParameters.table(
            List.copyOf(sensing.keySet()),
            List.copyOf(stopping.keySet()),
            List.copyOf(torque.keySet()),
            List.copyOf(trust.keySet())));
    List<Map<String, ? extends Entry<?>>> kinds = List.of(sensing, stopping, torque, trust);
    for (Map<String, ? extends Entry<?>> kind : kinds) {
      kind.forEach(
          (name, entry) -> {
            if (!entry.table().parameters().isEmpty()) {
              tables.put("policy." + name, entry.table());
            }
          });
    }
    return tables;
  }

  /**
   * Makes the sensing that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public Sensing sensing(ControllerSettings settings) {
    return make(settings, 0, sensing);
  }

  /**
   * Makes the stopping policy that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public Stopping stopping(ControllerSettings settings) {
    return make(settings, 1, stopping);
  }

  /**
   * Makes the torque policy that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public TorqueReaction torque(ControllerSettings settings) {
    return make(settings, 2, torque);
  }

  /**
   * Makes the trust policy that settings name.
   *
   * @param settings checked settings
   * @return a new policy
   */
  public TrustPolicy trust(ControllerSettings settings) {
    return make(settings, 3, trust);
  }

  private static <T> T make(ControllerSettings settings, int kind, Map<String, Entry<T>> entries) {
    ParameterValues names = settings.section(PolicyParameters.SECTION);
    String name = names.choice(names.table().parameters().get(kind));
    Entry<T> entry = entries.get(name);
    if (entry == null) {
      throw new IllegalArgumentException("no policy " + name);
    }
    boolean hasOwn = !entry.table().parameters().isEmpty();
    ParameterValues own = hasOwn ? settings.section("policy." + name) : ParameterValues.none();
    return entry.maker().make(settings, own);
  }
}
