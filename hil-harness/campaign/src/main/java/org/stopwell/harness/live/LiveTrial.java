package org.stopwell.harness.live;

import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.ControllerOutput;
import org.stopwell.harness.trial.Onlooker;
import org.stopwell.harness.trial.TrialSpec;
import org.stopwell.rig.bench.Truth;
import org.stopwell.rig.physics.canal.Canal;

/**
 * Puts the steps of one trial after another on one bench into the feed. Of several benches one at a
 * time is shown. A step writes numbers into memory and nothing else.
 */
final class LiveTrial implements Onlooker {
  /** Bench time between two frames, ns: 50 in a second. */
  private static final long FRAME_NS = 20_000_000;

  private final LiveFeed feed;
  private final FrameRing ring;
  private final boolean covered;
  private final boolean fluidKnown;
  private boolean shown;
  private int trial;
  private int canalMicrons;
  private long nextNs;
  private int stateBefore;
  private long lateNs;
  private long worstLateNs;
  private long first;

  LiveTrial(LiveFeed feed, FrameRing ring, boolean covered, boolean simulated) {
    this.feed = feed;
    this.ring = ring;
    this.covered = covered;
    this.fluidKnown = simulated;
  }

  @Override
  public void begin(TrialSpec spec) {
    worstLateNs = 0;
    shown = feed.claim(spec);
    trial = spec.index() + 1;
    canalMicrons = (int) Canal.lengthMicrons(spec.scene().section("canal"));
    nextNs = 0;
    lateNs = 0;
    stateBefore = -1;
    first = ring.written();
  }

  @Override
  public void step(
      long nowNs, ControllerInput in, ControllerOutput out, Truth truth, long latenessNs) {
    if (in.stopLine) {
      feed.stopLineSeen = true;
    }
    lateNs = Math.max(lateNs, latenessNs);
    int state = covered ? 0 : out.state.code();
    if (!shown || (nowNs < nextNs && state == stateBefore)) {
      return;
    }
    nextNs = nowNs - nowNs % FRAME_NS + FRAME_NS;
    stateBefore = state;
    worstLateNs = Math.max(worstLateNs, lateNs);
    int[] slots = ring.slots();
    int at = ring.place();
    slots[at] = (int) ring.written();
    slots[at + 9] = (int) (in.linkAgeNs / 1_000);
    slots[at + 10] = (int) (lateNs / 1_000);
    lateNs = 0;
    int flags = in.stopLine ? LiveFile.STOP_LINE : 0;
    if (covered) {
      slots[at + 15] = flags | LiveFile.COVERED;
    } else {
      slots[at + 1] = trial;
      slots[at + 2] = (int) (nowNs / 1_000_000);
      slots[at + 3] = truth.remainingMicrons;
      slots[at + 4] = out.remainingMicrons;
      slots[at + 5] = out.boundMicrons;
      slots[at + 6] = in.speedMilliRpm;
      slots[at + 7] = in.torqueMicroNewtonMetres;
      slots[at + 8] = truth.fluidLevelMicrons - canalMicrons;
      slots[at + 11] = out.trust.code();
      slots[at + 12] = out.cause.code();
      slots[at + 13] = state;
      slots[at + 14] = out.drive.code() << 8 | out.reason.code();
      slots[at + 15] =
          flags
              | (out.readingPresent ? LiveFile.HAS_READING : 0)
              | (fluidKnown ? LiveFile.HAS_FLUID : 0);
    }
    ring.added();
  }

  @Override
  public void end() {
    worstLateNs = Math.max(worstLateNs, lateNs);
    feed.release(shown, covered ? 0 : trial, first, worstLateNs);
    shown = false;
    lateNs = 0;
    worstLateNs = 0;
  }
}
