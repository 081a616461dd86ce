/** From the position signal to a distance that may be believed, or to the reason why not. */
package org.stopwell.core.sense;
