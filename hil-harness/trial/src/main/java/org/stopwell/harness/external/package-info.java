/** Trials of a device with a motor of its own: what it did, from rotation and depth alone. */
package org.stopwell.harness.external;
