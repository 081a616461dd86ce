package org.stopwell.harness.external;

import java.util.Optional;
import org.stopwell.rig.device.CircuitCheck;
import org.stopwell.rig.device.TipSeen;

/**
 * What a bench knows of a trial beside the samples. It is kept with them, so that a replay needs
 * nothing else.
 *
 * @param before the network before the trial
 * @param after the network after it
 * @param hostNs time of the host at the last exchange, ns
 * @param worstLatenessNs latest exchange, ns
 * @param carriageMicrons how far the carriage went while the shank was watched, µm
 * @param answer what a device that did not turn did in the known network
 * @param tip the distance at rest that an observer saw at the foramen
 */
record RigNotes(
    CircuitCheck before,
    CircuitCheck after,
    long hostNs,
    long worstLatenessNs,
    int carriageMicrons,
    NetworkAnswer answer,
    Optional<TipSeen> tip) {

  RigNotes with(NetworkAnswer given) {
    return new RigNotes(before, after, hostNs, worstLatenessNs, carriageMicrons, given, tip);
  }

  RigNotes with(TipSeen seen) {
    return new RigNotes(
        before, after, hostNs, worstLatenessNs, carriageMicrons, answer, Optional.of(seen));
  }
}
