package org.stopwell.rig.physics.hand;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.bench.Scene;
import org.stopwell.rig.physics.canal.Canal;
import org.stopwell.rig.random.RandomStream;

/**
 * A hand with a hand file that follows the display of a locator: in, slower near the standoff, a
 * rest there, out, and in again. It knows the display only, and answers to it after its reaction
 * time. Its habits are assumed.
 */
public final class LocatorHand implements Feed {
  /** So far before the standoff the hand slows down, µm; assumed. */
  private static final int CAREFUL_MICRONS = 2_000;

  /** Feed of a careful hand, m/s; assumed. */
  private static final double CAREFUL = 0.4e-3;

  /** A hand that looks at a reading leaves such a difference, µm; assumed. */
  private static final int CONTENT_MICRONS = 30;

  private enum Phase {
    IN,
    RESTING,
    OUT
  }

  private final Tremble tremble;
  private final double start;
  private final double feed;
  private final double stepSeconds;
  private final long reactionNs;
  private final long holdNs;
  private final int standoffMicrons;

  private Phase phase = Phase.IN;
  private long phaseBeganNs;
  private boolean present;
  private int shown;
  private long seenNs;
  private double toGo;

  /**
   * A hand above the orifice.
   *
   * @param scene canal and habits of the hand
   * @param standoffMicrons distance at which it rests, µm short of the foramen
   * @param stepNs the step, ns
   */
  public LocatorHand(Scene scene, int standoffMicrons, long stepNs) {
    ParameterValues hand = scene.section("hand");
    stepSeconds = stepNs * 1e-9;
    tremble = new Tremble(hand, RandomStream.of(scene.seed(), "hand"), stepSeconds);
    start =
        Canal.lengthMicrons(scene.section("canal")) * 1e-6
            + hand.get(HandSection.START_ABOVE) * 1e-6;
    feed = hand.get(HandSection.FEED) * 1e-6;
    reactionNs = hand.get(HandSection.REACTION) * 1_000_000;
    holdNs = hand.get(HandSection.HOLD) * 1_000_000;
    this.standoffMicrons = standoffMicrons;
  }

  /**
   * What the locator shows.
   *
   * @param reading whether it shows a distance
   * @param remainingMicrons the distance, µm
   */
  public void shows(boolean reading, int remainingMicrons) {
    present = reading;
    shown = remainingMicrons;
  }

  @Override
  public double start() {
    return start;
  }

  @Override
  public double move(long nowNs, double remaining, int rotation) {
    double shake = tremble.change();
    return switch (phase) {
      case IN -> {
        if (present && shown <= standoffMicrons) {
          enter(Phase.RESTING, nowNs);
          yield shake;
        }
        boolean careful = present && shown - standoffMicrons < CAREFUL_MICRONS;
        yield (careful ? Math.min(feed, CAREFUL) : feed) * stepSeconds + shake;
      }
      case RESTING -> {
        if (nowNs - phaseBeganNs >= holdNs) {
          enter(Phase.OUT, nowNs);
        }
        yield correction(nowNs) + shake;
      }
      case OUT -> {
        if (remaining >= start) {
          enter(Phase.IN, nowNs);
          yield 0;
        }
        yield -feed * stepSeconds;
      }
    };
  }

  private void enter(Phase next, long nowNs) {
    phase = next;
    phaseBeganNs = nowNs;
    seenNs = nowNs;
    toGo = 0;
  }

  /** Half of what the reading is off, once in each reaction time, at the careful feed. */
  private double correction(long nowNs) {
    if (nowNs - seenNs >= reactionNs) {
      seenNs = nowNs;
      int off = present ? shown - standoffMicrons : 0;
      toGo = Math.abs(off) > CONTENT_MICRONS ? off * 0.5e-6 : 0;
    }
    double most = CAREFUL * stepSeconds;
    double step = Math.max(-most, Math.min(most, toGo));
    toGo -= step;
    return step;
  }
}
