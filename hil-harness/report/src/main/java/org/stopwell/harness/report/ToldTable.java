package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;
import org.stopwell.harness.record.Design;

/** The settings of each condition, where levels of a plan replace values of the settings file. */
final class ToldTable {
  private ToldTable() {}

  static Content of(Design design, boolean coded) {
    if (coded) {
      return Html.paragraph("Settings by condition are hidden until the run is unblinded.");
    }
    if (design.told().isEmpty()) {
      return Html.all(List.of());
    }
    Table table =
        new Table("Settings by condition")
            .columns(Table.LEFT, "conditions", "differs from the settings file in", "fingerprint");
    for (Design.Told told : design.told()) {
      table.row(String.join(", ", told.conditions()), told.changeWords(), told.fingerprint());
    }
    return Html.all(
        List.of(
            Html.heading("Settings of each condition"),
            Html.table(table),
            Html.paragraph(
                "A fingerprint stands for all values of the settings. Rows with the same"
                    + " fingerprint have the same settings and differ in their stage of work.")));
  }
}
