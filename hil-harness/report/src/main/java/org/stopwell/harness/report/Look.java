package org.stopwell.harness.report;

/** The look of every page: colours, type, focus and controls, for light, dark and paper. */
public final class Look {
  private Look() {}

  /**
   * Returns the styles that every page of the house begins with. The page adds its own layout and
   * takes its colours from the custom properties of this text.
   *
   * @return a style sheet
   */
  public static String css() {
    return ReportPage.resource("look.css");
  }

  /** The styles of a page of results. */
  static String ofResults() {
    return css() + "\n" + ReportPage.resource("report.css");
  }
}
