/** Devices under test of which only the behaviour can be seen: what a bench watches of them. */
package org.stopwell.rig.device;
