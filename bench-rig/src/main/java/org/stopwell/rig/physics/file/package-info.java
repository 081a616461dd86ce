/** The instrument: shape, metal surface, cutting load. */
package org.stopwell.rig.physics.file;
