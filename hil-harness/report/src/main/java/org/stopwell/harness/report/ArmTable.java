package org.stopwell.harness.report;

import java.util.List;
import org.stopwell.harness.plan.Arm;
import org.stopwell.harness.record.RunHeader;

/** What the controller is told where levels of a plan put values over the settings. */
final class ArmTable {
  private ArmTable() {}

  /** By the levels' own names: which code is which does not follow from it. */
  static void write(Markup out, RunHeader header) {
    List<Arm> arms = Arm.of(header.planYaml(), header.settingsYaml());
    if (arms.isEmpty()) {
      return;
    }
    out.element("h3", "What the controller is told in each arm");
    ProtocolSection.table(
        out, "Settings of the arms", "conditions", "beside the settings", "fingerprint");
    for (Arm arm : arms) {
      ProtocolSection.row(
          out, String.join(", ", arm.conditions()), arm.changeWords(), arm.fingerprint());
    }
    ProtocolSection.close(out);
    out.element(
        "p",
        "A fingerprint stands for every value that the controller is told. Arms with the same one"
            + " were told the same, and differ in their stage of work.");
  }
}
