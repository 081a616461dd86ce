package org.stopwell.harness.breaking;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.plan.Factor;
import org.stopwell.harness.trial.PlannedFault;

/**
 * A disturbance as keys of a plan.
 *
 * @param factors keys of the scene that it states
 * @param values their values, base units
 * @param fault its fault
 */
record Disturbed(List<Factor> factors, List<Long> values, Optional<PlannedFault> fault) {
  Disturbed {
    factors = List.copyOf(factors);
    values = List.copyOf(values);
  }

  long[] array() {
    return values.stream().mapToLong(Long::longValue).toArray();
  }

  /** The faults of a trial with this disturbance. */
  List<PlannedFault> after(List<PlannedFault> planned) {
    List<PlannedFault> all = new ArrayList<>(planned);
    fault.ifPresent(all::add);
    return all;
  }
}
