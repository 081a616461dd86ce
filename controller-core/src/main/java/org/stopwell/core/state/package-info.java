/** The coded states, one method for each, and the one transition method. */
package org.stopwell.core.state;
