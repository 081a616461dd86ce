package org.stopwell.core.settings;

import java.util.List;

/** Which policies the controller works by: section {@code policies}. */
public final class PolicyParameters {
  /** The name of the section. */
  public static final String SECTION = "policies";

  /** The sensing that {@code sense.policy} names. */
  public static final String BUILT_IN_SENSING = "built-in";

  /** The built-in policies. */
  public static final ParameterTable TABLE =
      table(
          List.of(BUILT_IN_SENSING),
          List.of("predict", "plain"),
          List.of("retry"),
          List.of("by-stage"));

  private PolicyParameters() {}

  /**
   * The table with policies that are not built in.
   *
   * @param sensing names of the ways to read a sample
   * @param stopping names of the ways to decide a stop
   * @param torque names of the answers to the torque limit
   * @param trust names of the answers to lost trust
   * @return one parameter for each
   */
  public static ParameterTable table(
      List<String> sensing, List<String> stopping, List<String> torque, List<String> trust) {
    return new ParameterTable(
        List.of(
            choice("sensing", sensing, "How one sample becomes a distance."),
            choice("stopping", stopping, "When a stop is decided."),
            choice("torque", torque, "What a touch of the torque limit asks for."),
            choice("trust", trust, "What a reading that is not sure asks for.")));
  }

  private static Parameter choice(String key, List<String> names, String text) {
    return Parameter.of(key).choice(names).text(text).source("design choice");
  }
}
