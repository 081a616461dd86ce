/** Fluid in the canal and the chamber: level, displacement, overflow. */
package org.stopwell.rig.physics.fluid;
