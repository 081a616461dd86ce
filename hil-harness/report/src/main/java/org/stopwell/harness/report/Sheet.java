package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;

/** A page of its own beside the report: a head, notes, parts, in one file that needs no other. */
final class Sheet {
  private Sheet() {}

  /** Writes a page that is a file of its own. */
  static String of(String title, String simulated, List<String> notes, List<Content> parts) {
    return of(title, simulated, notes, parts, Place.NONE);
  }

  /**
   * Writes a page.
   *
   * @param title what it is
   * @param simulated the sentence that says so; empty where nothing is simulated
   * @param notes what was done and how, a sentence each
   * @param parts the parts in their order
   * @param place where it stands in the console
   * @return HTML that needs nothing beside it
   */
  static String of(
      String title, String simulated, List<String> notes, List<Content> parts, Place place) {
    return Html.text(
        Html.template(
            t ->
                JtesheetGenerated.render(
                    t,
                    Html.NONE,
                    title,
                    simulated,
                    notes,
                    Look.ofResults(),
                    place.way(),
                    Html.all(parts))));
  }
}
