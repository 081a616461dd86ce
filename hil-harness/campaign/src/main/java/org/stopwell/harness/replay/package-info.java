/** Replay: what a controller would have done with what was recorded. */
package org.stopwell.harness.replay;
