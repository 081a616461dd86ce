package org.stopwell.core.policy;

import java.util.List;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** A stopping policy with a parameter of its own. */
final class FixedLeadExample {
  /** How far before the standoff the stop is decided, whatever the speed, µm. */
  static final Parameter LEAD =
      Parameter.of("lead_mm")
          .unit("mm", 3)
          .range("0", "1")
          .initially("0.1")
          .text("How much earlier the stop is decided.")
          .source("assumed");

  /** The built-in policies and one more way to decide a stop. */
  static final Policies POLICIES =
      Policies.BUILT_IN.withStopping(
          "fixed-lead",
          new ParameterTable(List.of(LEAD)),
          (all, own) -> {
            int leadMicrons = own.getInt(LEAD);
            return (remainingMicrons, closing, coastNs) -> remainingMicrons - leadMicrons;
          });

  private FixedLeadExample() {}
}
