/** Replay: recorded inputs fed to a controller. */
package org.stopwell.harness.replay;
