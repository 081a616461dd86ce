package org.stopwell.harness.protocol;

/**
 * One thing that is not as it was frozen.
 *
 * @param what key of the plan, of the settings or of the station, or {@code build}
 * @param planned as it was frozen, empty when it was not there
 * @param found as it was run, empty when it is gone
 */
public record Deviation(String what, String planned, String found) {
  /**
   * The deviation in plain words.
   *
   * @return such as {@code plan.trials: planned 20, found 5}
   */
  public String sentence() {
    return what + ": planned " + orNothing(planned) + ", found " + orNothing(found);
  }

  private static String orNothing(String value) {
    return value.isEmpty() ? "nothing" : value;
  }
}
