/** The reused input and output frames of a step, and the coded words they hold. */
package org.stopwell.core.frame;
