/** The canal: its shape and its electrical network. */
package org.stopwell.rig.physics.canal;
