/** The board side of the wire protocol, emulated on a pseudo-terminal. */
package org.stopwell.rig.board;
