/** From stops that agree to a recorded length with its uncertainty. */
package org.stopwell.core.depth;
