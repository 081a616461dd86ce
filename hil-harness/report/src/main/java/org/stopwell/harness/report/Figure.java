package org.stopwell.harness.report;

import java.util.List;

/**
 * Drawings with what their marks mean and a caption.
 *
 * @param heading above the drawings, may be empty
 * @param drawings one below the other
 * @param legend what the marks mean, may be empty
 * @param title number of the figure, with "simulated" where it is; may be empty
 * @param caption what the figure shows
 */
record Figure(
    String heading,
    List<Drawing> drawings,
    List<Legend.Entry> legend,
    String title,
    String caption) {

  /** The same figure of a page of simulated results, with its number there. */
  Figure simulated(int number) {
    return new Figure(heading, drawings, legend, "Figure " + number + ", simulated", caption);
  }
}
