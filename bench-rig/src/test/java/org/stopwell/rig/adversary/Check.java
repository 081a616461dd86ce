package org.stopwell.rig.adversary;

/** One invariant, judged by what is really so. A new one for every run. */
interface Check {
  /** What must hold, as a sentence. */
  String name();

  /** One step. */
  void see(Moment moment);

  /**
   * How far the run stayed from breaking it.
   *
   * @return below 0 when it was broken; smaller is nearer to that
   */
  double margin();
}
