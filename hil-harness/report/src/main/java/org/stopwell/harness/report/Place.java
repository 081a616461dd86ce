package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.List;

/**
 * Where a page stands in the console. A page that is a file of its own stands nowhere.
 *
 * @param links the way back, from the first page on
 * @param settings names of the settings files that a trial can be replayed with
 * @param chosen the one that is drawn; empty for none
 */
public record Place(List<Link> links, List<String> settings, String chosen) {
  /** A file of its own. */
  public static final Place NONE = new Place(List.of());

  /** Takes copies. */
  public Place {
    links = List.copyOf(links);
    settings = List.copyOf(settings);
  }

  /**
   * A page without a choice of settings.
   *
   * @param links the way back
   */
  public Place(List<Link> links) {
    this(links, List.of(), "");
  }

  /**
   * A link to another page.
   *
   * @param words what it says
   * @param address where it leads
   */
  public record Link(String words, String address) {}

  /** The way back, as part of a page. */
  Content way() {
    return Html.template(t -> JtewayGenerated.render(t, Html.NONE, links));
  }
}
