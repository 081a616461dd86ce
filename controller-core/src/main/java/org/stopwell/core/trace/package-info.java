/** What the controller leaves behind: the event ring, the state hash, the frames as bytes. */
package org.stopwell.core.trace;
