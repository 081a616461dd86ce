/** The motor with its gear and its driver. */
package org.stopwell.rig.physics.motor;
