/** The virtual bench: tooth, motor and hand as models, in lockstep with the host. */
package org.stopwell.rig.virtual;
