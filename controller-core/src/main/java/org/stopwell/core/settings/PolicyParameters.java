package org.stopwell.core.settings;

import java.util.List;

/**
 * Which policies the controller works by: section {@code policies}. The sensing policy is chosen by
 * {@code sense.policy}.
 */
public final class PolicyParameters {
  /** The name of the section. */
  public static final String SECTION = "policies";

  /** When a stop is decided. */
  public static final String STOPPING = "stopping";

  /** What a touch of the torque limit asks for. */
  public static final String TORQUE = "torque";

  /** What a reading that is not sure asks for. */
  public static final String TRUST = "trust";

  private PolicyParameters() {}

  /**
   * The table with given policies.
   *
   * @param stopping names of the ways to decide a stop
   * @param torque names of the answers to the torque limit
   * @param trust names of the answers to lost trust
   * @return one parameter for each
   */
  static ParameterTable table(List<String> stopping, List<String> torque, List<String> trust) {
    return new ParameterTable(
        List.of(
            choice(STOPPING, stopping, "When a stop is decided."),
            choice(TORQUE, torque, "What a touch of the torque limit asks for."),
            choice(TRUST, trust, "What a reading that is not sure asks for.")));
  }

  private static Parameter choice(String key, List<String> names, String text) {
    return Parameter.of(key).choice(names).text(text).source("design choice");
  }
}
