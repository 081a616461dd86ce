package org.stopwell.harness.report;

import gg.jte.Content;
import java.util.Optional;

/** One section of the page. {@link ReportPage} holds their order. */
interface Section {
  /**
   * What the section shows.
   *
   * @param report the run, its evidence and its traces
   * @return the section; empty when the run has nothing for it
   */
  Optional<Content> of(Report report);
}
