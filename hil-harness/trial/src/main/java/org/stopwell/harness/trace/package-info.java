/** Approaches as CSV traces: one file, or a directory of teeth whose true depth is known. */
package org.stopwell.harness.trace;
