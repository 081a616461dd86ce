package org.stopwell.harness.length;

/**
 * One measured length: the file was led down to a stop, and an axis or a person read its depth.
 *
 * @param timeNs when, ns on the controller's time line
 * @param lengthMicrons from the reference point to the standoff, µm
 * @param boundMicrons stated bound of the distance at the stop, µm; 0: the policy stated none
 * @param standoffMicrons the standoff aimed at, µm
 * @param fileSize tip diameter of the file, 1/100 mm
 */
public record LengthReading(
    long timeNs, int lengthMicrons, int boundMicrons, int standoffMicrons, int fileSize) {}
