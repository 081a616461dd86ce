/**
 * Simulated devices with a motor of their own. The harness sees what a bench watches of them; what
 * is inside them is for tests.
 */
package org.stopwell.rig.device.twin;
