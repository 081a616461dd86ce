/** The tooth as a field: current in fluid, dentine, ligament and bone around one axis. */
package org.stopwell.rig.physics.field;
