package org.stopwell.harness.external;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;

/**
 * What the rig knows beside the samples, and what it was told to do.
 *
 * @param notes what it found
 * @param shankMicrons how far the shank went while it was watched, µm
 * @param feedMicronsPerSecond feed of the plan, µm/s
 * @param steady whether the feed of the plan is even
 * @param tremor root mean square of the tremor of the plan, µm
 * @param reactionNs reaction time of the feed, ns
 */
record RigSide(
    RigNotes notes,
    int shankMicrons,
    int feedMicronsPerSecond,
    boolean steady,
    int tremor,
    long reactionNs) {

  static RigSide of(WatchedTrace trace, ParameterValues hand) {
    WatchedTrack track = trace.track();
    HandMotion motion = HandSection.motion(hand);
    boolean stage = motion == HandMotion.STAGE;
    return new RigSide(
        trace.notes(),
        track.count() == 0 ? 0 : (int) (track.shank(track.count() - 1) - track.shank(0)),
        hand.getInt(HandSection.FEED),
        stage || motion == HandMotion.STEADY,
        stage ? 0 : hand.getInt(HandSection.TREMOR),
        stage ? 0 : hand.get(HandSection.REACTION) * 1_000_000);
  }
}
