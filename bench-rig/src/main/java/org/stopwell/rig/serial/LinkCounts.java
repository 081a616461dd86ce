package org.stopwell.rig.serial;

import org.stopwell.rig.wire.FrameReader;

/**
 * How well a link works.
 *
 * @param sent requests
 * @param resent requests sent a second time because no answer had come
 * @param ignored good frames that were not the answer: doubles, late ones, those of other sessions
 * @param received frames that arrived
 */
public record LinkCounts(long sent, long resent, long ignored, FrameReader.Counts received) {}
