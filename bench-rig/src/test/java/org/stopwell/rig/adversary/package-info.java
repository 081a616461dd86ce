/**
 * The adversary: a search over hand, signal and faults for a scenario that makes the controller
 * break an invariant. A scenario is drawn, changed while that brings it nearer to a failure, and
 * shrunk once it fails. The plant is a table of the canal of the virtual bench, so that thousands
 * of runs take seconds.
 */
package org.stopwell.rig.adversary;
