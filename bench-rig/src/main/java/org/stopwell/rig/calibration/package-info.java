/** Curves from a measured feature to the remaining distance. */
package org.stopwell.rig.calibration;
