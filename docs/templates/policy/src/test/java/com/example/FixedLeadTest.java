package com.example;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.stopwell.core.policy.Policies;
import org.stopwell.core.policy.Stopping;
import org.stopwell.core.settings.Calibration;
import org.stopwell.core.settings.ControllerSettings;

class FixedLeadTest {
  @Test
  void theStopIsDecidedByTheLeadOfTheSettings() throws Exception {
    Policies policies = new FixedLead().addTo(Policies.BUILT_IN);
    ControllerSettings settings =
        ControllerSettings.of(
            Map.of(
                "file", Map.of(),
                "sense",
                    Map.of("policy", "locator", "locator_step_mm", "0.1", "locator_rate_hz", 100),
                "stages.length", Map.of(),
                "policies", Map.of("stopping", "fixed-lead"),
                "policy.fixed-lead", Map.of("lead_mm", "0.25")),
            Calibration.NONE,
            policies.tables());
    Stopping stopping = policies.stopping(settings);
    assertEquals(750, stopping.atRest(1_000, 2_000, 0));
  }
}
