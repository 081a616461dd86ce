package org.stopwell.core.settings;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The policies that settings may name, as far as settings must know them.
 *
 * @param sensing what each sensing policy needs, by name
 * @param stopping names of the ways to decide a stop
 * @param torque names of the answers to the torque limit
 * @param trust names of the answers to lost trust
 * @param own own parameters of policies that have any, by the policy's name
 */
public record PolicyTables(
    Map<String, SensingNeeds> sensing,
    List<String> stopping,
    List<String> torque,
    List<String> trust,
    Map<String, ParameterTable> own) {
  /** The key that chooses the sensing policy. */
  public static final String SENSING = "sense.policy";

  /** The section of a policy's own parameters begins with this. */
  public static final String OWN = "policy.";

  /** The policies that ship with the core. */
  public static final PolicyTables BUILT_IN =
      new PolicyTables(
          inOrder(
              List.of(
                  SenseParameters.RATIO,
                  SenseParameters.RESISTANCE,
                  SenseParameters.LOCATOR,
                  SenseParameters.APPROACH),
              List.of(
                  SensingNeeds.RATIO,
                  SensingNeeds.RESISTANCE,
                  SensingNeeds.LOCATOR,
                  SensingNeeds.APPROACH)),
          List.of("predict", "plain"),
          List.of("retry"),
          List.of("by-stage"),
          Map.of());

  /** Copies, and keeps the order: the first of a kind is its default. */
  public PolicyTables {
    sensing = new LinkedHashMap<>(sensing);
    stopping = List.copyOf(stopping);
    torque = List.copyOf(torque);
    trust = List.copyOf(trust);
    own = new LinkedHashMap<>(own);
  }

  private static Map<String, SensingNeeds> inOrder(
      List<String> names, List<SensingNeeds> allNeeds) {
    Map<String, SensingNeeds> all = new LinkedHashMap<>();
    for (int i = 0; i < names.size(); i++) {
      all.put(names.get(i), allNeeds.get(i));
    }
    return all;
  }

  /**
   * The key that chooses a policy.
   *
   * @param name the policy's name
   * @return such as {@code policies.stopping}
   */
  public String keyOf(String name) {
    String kind =
        stopping.contains(name)
            ? PolicyParameters.STOPPING
            : torque.contains(name) ? PolicyParameters.TORQUE : PolicyParameters.TRUST;
    return sensing.containsKey(name) ? SENSING : PolicyParameters.SECTION + "." + kind;
  }

  /**
   * The table of section {@code sense}.
   *
   * @return as {@link SenseParameters#TABLE}, with these sensing policies
   */
  public ParameterTable sense() {
    return SenseParameters.table(List.copyOf(sensing.keySet()));
  }

  /**
   * The table of section {@code policies}.
   *
   * @return one choice for each kind but sensing, which {@code sense.policy} chooses
   */
  public ParameterTable policies() {
    return PolicyParameters.table(stopping, torque, trust);
  }
}
