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
 * the passive depth, and further as long as the motor turns. The file of a device it lets the board
 * feed by itself, as any hand of a scene does.
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

  /** How fast the stage may change its speed, mm/s²: as in the drive board's calibration.h. */
  private static final double TURN = 1_000;

  /** A stroke in and out has an even speed over at least half of its time (assumed). */
  private static final double MOST_RAMP = 0.25;

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

  /** The same for a device, whose file the board feeds by itself. */
  void mountForDevice(Scene scene, Bench canal) throws BenchException {
    refuseHand(scene.section("hand"), stage.status().fastestMicronsPerSecond());
    mount(scene, canal);
  }

  /** What the stage cannot do, by its key. */
  static void refuseHand(ParameterValues hand, long fastestMicronsPerSecond) throws BenchException {
    HandMotion motion = HandSection.motion(hand);
    refuse(motion == HandMotion.HESITATING, "hand.motion", "steady, pecking or stage");
    double speed = hand.get(HandSection.FEED) * 1e-3;
    if (motion == HandMotion.PECKING && hand.get(HandSection.PECK_STROKE) > 0) {
      double even = hand.get(HandSection.PECK_SPEED) * 1e-3;
      double share = 0;
      for (int i = 0; i < 6; i++) {
        share = even * even / (TURN * hand.get(HandSection.PECK_STROKE) * 1e-3) / (1 - share);
      }
      refuse(
          !(share >= 0 && share <= MOST_RAMP),
          "hand.peck_mm_per_s",
          "strokes that change their speed by at most 1000 mm/s²");
      speed += even / (1 - share);
    }
    if (motion != HandMotion.STAGE) {
      double radPerS = 2 * Math.PI * 0.1 * hand.get(HandSection.TREMOR_RATE);
      double shakes = radPerS * Math.sqrt(2) * hand.get(HandSection.TREMOR) * 1e-3;
      refuse(
          shakes * radPerS > TURN,
          "hand.tremor_um",
          "tremor that changes its speed by at most 1000 mm/s²");
      speed += shakes;
    }
    refuse(
        speed * 1e3 > fastestMicronsPerSecond,
        "hand.feed_mm_per_s",
        "at most " + fastestMicronsPerSecond * 1e-3 + " mm/s of feed, strokes and tremor together");
  }

  /** After an exchange: with the first one the board begins to feed the file of a device. */
  void feedDevice(int remainingMicrons) throws BenchException {
    if (!feeding) {
      LinearStage.Status now = stage.status();
      stage.feed(Math.min(offset(now, remainingMicrons) + BEYOND_MICRONS, now.mostMicrons()));
      feeding = true;
    }
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
