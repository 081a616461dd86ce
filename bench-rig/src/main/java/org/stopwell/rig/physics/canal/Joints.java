package org.stopwell.rig.physics.canal;

/**
 * What a network of nodes and rails is put together with. A rail is a row of nodes of which only
 * the last is open; what is linked to a rail is linked to that one.
 */
interface Joints {
  /**
   * An admittance between two open nodes.
   *
   * @param node one node
   * @param other another node
   * @param siemensRe real part, S, not negative
   * @param siemensIm imaginary part, S, not negative
   */
  void link(int node, int other, double siemensRe, double siemensIm);

  /**
   * Goes on along a rail to a new node; the one before is closed.
   *
   * @param rail the rail
   * @param siemens conductance between the two, S; 0 ends the rail, which may begin again elsewhere
   */
  void advance(int rail, double siemens);

  /**
   * Ends a rail at the open node of another: both are one from now on.
   *
   * @param rail the rail that ends
   * @param into the other
   */
  void merge(int rail, int into);
}
