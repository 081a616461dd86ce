package org.stopwell.harness.external;

import org.stopwell.rig.device.CircuitCheck;

/**
 * What the rig knows beside the samples.
 *
 * @param before the network before the trial
 * @param after the network after it
 * @param hostNs time of the host at the last exchange, ns
 * @param worstLatenessNs latest exchange, ns
 * @param carriageMicrons how far the carriage went while the shank was watched, µm
 * @param shankMicrons how far the shank went in the same time, µm
 * @param feedMicronsPerSecond feed of the plan, µm/s
 * @param steady whether the feed of the plan is even
 * @param tremor root mean square of the tremor of the plan, µm
 * @param reactionNs reaction time of the feed, ns
 */
record RigSide(
    CircuitCheck before,
    CircuitCheck after,
    long hostNs,
    long worstLatenessNs,
    int carriageMicrons,
    int shankMicrons,
    int feedMicronsPerSecond,
    boolean steady,
    int tremor,
    long reactionNs) {}
