package org.stopwell.rig.serial;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.AfterStop;
import org.stopwell.rig.bench.Bench;
import org.stopwell.rig.bench.BenchException;
import org.stopwell.rig.bench.BenchException.RigFault;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.LinearStage;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;

/**
 * Feeds the file as the hand of a scene with {@code motion: stage} does: from above the orifice to
 * the passive depth, and further as long as the motor turns.
 *
 * <p>The place of the stage is never taken from its steps alone: the canal board counts its own
 * encoder, and both must agree.
 */
final class StageFeed {
  /** Stage and canal may differ by so much where a trial starts, µm (assumed). */
  private static final int AGREEMENT_MICRONS = 50;

  /** The furthest past the foramen that a file is fed, µm (assumed). */
  private static final int BEYOND_MICRONS = 2_000;

  private static final int TRIES = 3;

  private final LinearStage stage;
  private int offsetMicrons;
  private boolean offsetKnown;
  private int passiveEndMicrons;
  private int feedMicronsPerSecond;
  private boolean turned;
  private boolean feeding;

  StageFeed(LinearStage stage) {
    this.stage = stage;
  }

  /** Whether a scene asks for a stage. */
  static boolean isWantedBy(Scene scene) {
    return HandSection.motion(scene.section("hand")) == HandMotion.STAGE;
  }

  /** The canal counts from a new zero: how it relates to the stage is not known. */
  void forget() {
    offsetKnown = false;
  }

  /** Brings the tip to where the scene starts, and mounts the scene on the canal. */
  void mount(Scene scene, Bench canal) throws BenchException {
    ParameterValues hand = scene.section("hand");
    int length = (int) Canal.lengthMicrons(scene.section("canal"));
    int start = length + hand.getInt(HandSection.START_ABOVE);
    passiveEndMicrons = length - hand.getInt(HandSection.PASSIVE_DEPTH);
    feedMicronsPerSecond = hand.getInt(HandSection.FEED);
    turned = false;
    feeding = false;
    refuse(HandSection.afterStop(hand) != AfterStop.HOLD, "hand.after_stop", "only hold");
    refuse(hand.get(HandSection.PUSH_THROUGH) != 0, "hand.push_through_mm", "only 0");
    refuse(
        hand.get(HandSection.EMERGENCY_STOP) != 0,
        "hand.emergency_stop_ms",
        "only 0: a person presses the emergency stop");
    LinearStage.Status at = stage.status();
    if (!at.homed()) {
      at = stage.home();
      offsetKnown = false;
    }
    int off = 0;
    for (int i = 0; i < TRIES; i++) {
      if (offsetKnown) {
        at = stage.moveTo(offsetMicrons - start, (int) at.fastestMicronsPerSecond());
      }
      canal.mount(scene);
      off = canal.truth().remainingMicrons - start;
      if (Math.abs(off) <= AGREEMENT_MICRONS) {
        return;
      }
      offsetMicrons = canal.truth().remainingMicrons + at.positionMicrons();
      offsetKnown = true;
    }
    throw new BenchException(
        RigFault.STAGE,
        "stage: sent to "
            + start
            + " µm from the foramen, but the canal's encoder says "
            + (start + off)
            + " µm; limit "
            + AGREEMENT_MICRONS
            + " µm; check the coupling of stage and encoder");
  }

  private static void refuse(boolean wrong, String key, String why) throws BenchException {
    if (wrong) {
      throw new BenchException(
          RigFault.REFUSED, key + ": the stage of this bench can do " + why + " (hand.motion)");
    }
  }

  /** After each exchange: whether the file turns forward, and where its tip is. */
  void follow(boolean turning, int remainingMicrons) throws BenchException {
    turned |= turning;
    boolean wanted = turning || (!turned && remainingMicrons > passiveEndMicrons);
    if (wanted && !feeding) {
      LinearStage.Status now = stage.status();
      int end = Math.min(offset(now, remainingMicrons) + BEYOND_MICRONS, now.mostMicrons());
      // While it still brakes from before it cannot set out; the next exchange tries again.
      feeding = !now.busy();
      if (feeding && end > now.positionMicrons()) {
        stage.setOut(end, feedMicronsPerSecond);
      }
    } else if (!wanted && feeding) {
      stage.stop();
      feeding = false;
    }
  }

  private static int offset(LinearStage.Status now, int remainingMicrons) {
    return remainingMicrons + now.positionMicrons();
  }
}
