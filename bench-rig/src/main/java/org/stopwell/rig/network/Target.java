package org.stopwell.rig.network;

/**
 * What is wanted at one frequency.
 *
 * @param hertz the frequency, Hz
 * @param impedance what is wanted there
 */
public record Target(double hertz, Impedance impedance) {}
