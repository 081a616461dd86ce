/** Faults as data, and a bench that has them. */
package org.stopwell.rig.fault;
