/** Who or what pushes the file in. */
package org.stopwell.rig.physics.hand;
