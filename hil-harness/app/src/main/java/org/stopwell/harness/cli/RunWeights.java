package org.stopwell.harness.cli;

import java.util.ArrayList;
import java.util.List;
import org.stopwell.core.weights.DepthWeightsText;
import org.stopwell.core.weights.WeightsException;
import org.stopwell.harness.plan.WeightsSource;
import org.stopwell.harness.record.Design;
import org.stopwell.harness.record.RunHeader;
import org.stopwell.rig.weights.ShippedWeights;

/** The weights of a run against those at hand. */
final class RunWeights {
  private RunWeights() {}

  /** What differs, one sentence each; none when the run can be run again with its own weights. */
  static List<String> differences(RunHeader header) {
    List<String> differences = new ArrayList<>();
    for (Design.Weights one : header.design().weights()) {
      String found = fingerprint(one);
      if (!found.equals(one.fingerprint())) {
        differences.add(
            "the run was recorded with weights "
                + one.words()
                + (one.name().equals(WeightsSource.SHIPPED)
                    ? "; this program comes with weights "
                    : "; the text that the run file keeps has ")
                + found);
      }
    }
    return differences;
  }

  private static String fingerprint(Design.Weights weights) {
    if (weights.name().equals(WeightsSource.SHIPPED)) {
      return ShippedWeights.get().fingerprintText();
    }
    try {
      return DepthWeightsText.decode(weights.name(), weights.text()).fingerprintText();
    } catch (WeightsException e) {
      return "a mistake: " + e.getMessage();
    }
  }
}
