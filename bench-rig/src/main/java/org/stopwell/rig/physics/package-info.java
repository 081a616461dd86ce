/** Physical models in SI units. They are independent of frames, wires and controllers. */
package org.stopwell.rig.physics;
