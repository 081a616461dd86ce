package org.stopwell.rig.adversary;

/**
 * A broken invariant, with the smallest scenario that breaks it.
 *
 * @param setup what was attacked
 * @param searchSeed seed of the search that found it
 * @param invariant what must hold and did not
 * @param scenario the smallest scenario found
 */
record Found(Setup setup, long searchSeed, String invariant, Scenario scenario) {
  @Override
  public String toString() {
    return "broken: "
        + invariant
        + "\n  by "
        + setup
        + ", search of seed "
        + searchSeed
        + "\n  "
        + scenario;
  }
}
