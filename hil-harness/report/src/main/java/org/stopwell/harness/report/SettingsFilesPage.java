package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;

/** The settings files that the console may edit. */
public final class SettingsFilesPage {
  private SettingsFilesPage() {}

  /**
   * One file.
   *
   * @param name its name
   * @param address where it is edited
   * @param state valid, or how many mistakes it has
   */
  public record Entry(String name, String address, String state) {}

  /**
   * Writes the page.
   *
   * @param files the files, by name
   * @param place the way back
   * @return HTML
   */
  public static String html(List<Entry> files, Place place) {
    Table table =
        new Table("One file for each set of settings.").columns(Table.LEFT, "File", "State");
    for (Entry file : files) {
      table.row(
          List.of(
              new Table.Cell(new Prose().link(file.name(), file.address()), new Prose()),
              Table.Cell.of(file.state())));
    }
    List<Content> parts =
        files.isEmpty()
            ? List.of(
                Html.paragraph(
                    "No settings to edit. Start the console with --settings DIR, the directory that"
                        + " holds them."))
            : List.of(Html.table(table));
    return Sheet.of("Settings", "", List.of(), parts, place);
  }
}
