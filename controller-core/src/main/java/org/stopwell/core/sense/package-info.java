/** From the position signal to a trusted distance, or to the cause of lost trust. */
package org.stopwell.core.sense;
