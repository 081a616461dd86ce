/** The bench rig: everything between the harness and the copper. */
package org.stopwell.rig;
