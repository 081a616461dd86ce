package org.stopwell.harness.breaking;

/** Everything that is searched: canals, and kinds of fault in them. */
interface Ground {
  /**
   * A canal and a kind of fault.
   *
   * @param canal its number, from 0
   * @param fault number of the kind, from 1; 0: no fault
   */
  Arena arena(int canal, int fault);

  /** How many kinds of fault there are. */
  int faults();

  /** Whether anything beside faults may change. */
  boolean hasMore();
}
