package org.stopwell.rig.device;

/**
 * What a bench sees of a device at one moment. The board stamps the time, so a late host changes
 * nothing.
 *
 * @param timeNs time of the board since the scene was mounted, ns
 * @param angleMilliDegrees angle of the file since the scene was mounted, not wrapped, positive in
 *     the cutting direction, m°
 * @param shankMicrons position of the file, measured at its shank: depth of the tip below the
 *     orifice if the file neither bends nor slips, µm; deeper is more
 * @param forceMilliNewtons force of the feed on the file, positive towards the foramen, mN
 * @param marked whether the sample must not be used: the network was switching
 * @param witnessed whether the second witness heard the motor
 */
public record Watched(
    long timeNs,
    long angleMilliDegrees,
    int shankMicrons,
    int forceMilliNewtons,
    boolean marked,
    boolean witnessed) {}
