package org.stopwell.harness.report;

import org.stopwell.harness.record.Design;

/** What the controller is told where levels of a plan put values over the settings. */
final class ToldTable {
  private ToldTable() {}

  /** By the levels' own names: which code is which does not follow from it. */
  static void write(Markup out, Design design) {
    if (design.told().isEmpty()) {
      return;
    }
    out.element("h3", "What the controller is told in each condition");
    ProtocolSection.table(
        out, "Settings by condition", "conditions", "beside the settings", "fingerprint");
    for (Design.Told told : design.told()) {
      ProtocolSection.row(
          out, String.join(", ", told.conditions()), told.changeWords(), told.fingerprint());
    }
    ProtocolSection.close(out);
    out.element(
        "p",
        "A fingerprint stands for every value that the controller is told. Rows with the same"
            + " fingerprint have the same settings and differ in their stage of work.");
  }
}
