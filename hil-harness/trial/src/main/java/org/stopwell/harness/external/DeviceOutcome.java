package org.stopwell.harness.external;

import java.util.List;
import java.util.NavigableSet;
import java.util.Optional;
import java.util.TreeSet;
import org.stopwell.harness.fault.FaultOutcome;
import org.stopwell.harness.trial.PlannedFault;
import org.stopwell.harness.trial.TrialResult;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.device.DeviceFault;

/** Whether the faults that a plan plays in a device, or around it, had the stated result. */
final class DeviceOutcome {
  private DeviceOutcome() {}

  /**
   * The result of a trial with faults: unchanged where the plan states no result of them. An
   * over-travel of a device is a measured result, so it may be the stated one.
   *
   * @param spec the trial
   * @param result its result without regard to the faults
   * @param attributed the fault that the samples show
   * @return the result to be kept; every number is as it was
   */
  static TrialResult judge(TrialSpec spec, TrialResult result, Optional<DeviceFault> attributed) {
    List<PlannedFault> judged = spec.faults().stream().filter(PlannedFault::isJudged).toList();
    if (judged.isEmpty()) {
      return result;
    }
    NavigableSet<String> named = new TreeSet<>();
    named.add(result.code());
    attributed.map(DeviceFault::name).ifPresent(named::add);
    StringBuilder text = new StringBuilder();
    boolean asExpected = true;
    for (PlannedFault fault : judged) {
      text.append("Fault ").append(fault.injection().kind()).append(". ");
      String against = "";
      if (fault.verdict() != null && result.verdict() != fault.verdict()) {
        against = "verdict " + fault.verdict();
      } else if (!fault.cause().isEmpty() && !named.contains(fault.cause())) {
        against = "cause " + fault.cause();
      }
      if (!against.isEmpty()) {
        asExpected = false;
        text.append("Deviation: the plan expects ").append(against).append(". ");
      }
    }
    text.append("Names in the record: ").append(String.join(", ", named)).append(". ");
    return FaultOutcome.stated(result, asExpected, text.toString());
  }
}
