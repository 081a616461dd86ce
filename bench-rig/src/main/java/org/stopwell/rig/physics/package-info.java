/** Models of matter in SI units. Nothing here knows of frames, wires or controllers. */
package org.stopwell.rig.physics;
