package org.stopwell.harness.plan;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.stopwell.core.frame.Stage;
import org.stopwell.harness.trial.Expectation;
import org.stopwell.harness.trial.PlannedFault;

/** A condition before it is checked against the settings. */
record DraftCondition(
    String name,
    Map<String, String> chosen,
    int line,
    Expectation ofPlan,
    Optional<Expectation> own,
    Optional<Integer> ownAt,
    Optional<Stage> stage,
    Settings.Overlay told,
    Sections scene,
    List<PlannedFault> faults,
    Yaml.Mapping device,
    Yaml.Mapping mount) {
  Expectation expects() {
    return own.orElse(ofPlan);
  }
}
