/** A plan as a protocol: what is fixed before the first trial, and deviations from it. */
package org.stopwell.harness.protocol;
