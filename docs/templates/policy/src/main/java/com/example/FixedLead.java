package com.example;

import java.util.List;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.PolicyExtension;
import org.stopwell.core.settings.Parameter;
import org.stopwell.core.settings.ParameterTable;

/** A stopping policy that decides every stop a fixed distance early, however fast the feed is. */
public final class FixedLead implements PolicyExtension {
  /** How far before the standoff the stop is decided, µm. */
  private static final Parameter LEAD =
      Parameter.of("lead_mm")
          .unit("mm", 3)
          .range("0", "1")
          .initially("0.1")
          .text("How much earlier the stop is decided.")
          .source("assumed");

  @Override
  public Policies addTo(Policies known) {
    return known.withStopping(
        "fixed-lead",
        new ParameterTable(List.of(LEAD)),
        (settings, own) -> {
          int leadMicrons = own.getInt(LEAD);
          return (remainingMicrons, closing, coastNs) -> remainingMicrons - leadMicrons;
        });
  }
}
