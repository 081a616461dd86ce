/** A bench on the pins of a Raspberry Pi. The only package that knows Pi4J. */
package org.stopwell.rig.pi;
