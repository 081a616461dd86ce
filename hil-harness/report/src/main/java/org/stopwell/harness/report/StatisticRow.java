package org.stopwell.harness.report;

/**
 * One statistic on the page.
 *
 * @param name what it is
 * @param value the number, with what it is where the page can compute it again
 * @param how its method, or why there is no number
 */
record StatisticRow(String name, Prose value, Prose how) {
  static StatisticRow of(String name, String value, String how) {
    return new StatisticRow(Words.tied(name), Prose.of(value), Prose.of(how));
  }
}
