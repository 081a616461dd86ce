package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;
import java.util.Optional;
import org.stopwell.harness.record.ExtensionNote;

/** Policies and benches of a run that do not ship with the program. */
final class ExtensionSection {
  private ExtensionSection() {}

  static Optional<Content> of(Report report) {
    List<ExtensionNote> used = ExtensionNote.of(report.notes());
    if (used.isEmpty()) {
      return Optional.empty();
    }
    if (report.coded()) {
      return Html.section(
          "extension-section",
          "Extensions",
          Html.paragraph(
              Words.count(used.size(), "policy or bench", "policies or benches")
                  + " from outside of the program. Their names are hidden until the run is"
                  + " unblinded."));
    }
    Table table =
        new Table("Policies and benches from outside of the program.")
            .columns(Table.LEFT, "Chosen by", "File", "SHA-256");
    used.forEach(note -> table.row(note.name(), note.file(), note.sha256()));
    return Html.section(
        "extension-section",
        "Extensions",
        Html.paragraph(
            "These policies and benches do not ship with the program. The tests of the program do"
                + " not cover them."),
        Html.table(table));
  }
}
