package org.stopwell.rig.physics.hand;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.random.RandomStream;

/**
 * A hand that a person guides: it carries the tip to the place that the person points to, no faster
 * than a hand moves, and trembles as every hand does.
 *
 * <p>It feels after its reaction time that the file turns back for longer than a stroke of
 * reciprocation. Then it lets the file come out and pushes no more, until the file turns forward
 * again or the person points to another place. Assumed.
 */
public final class GuidedHand implements Feed {
  /** No hand moves a file faster than this along a canal, m/s: assumed. */
  private static final double FASTEST = 8e-3;

  /** After so long a rest the next turn may go either way, ns: as {@link Hand}. */
  private static final long RESTED_NS = Hand.RESTED_NS;

  private final double start;
  private final long reactionNs;
  private final double furthest;
  private final Tremble tremble;
  private double place;
  private double target;
  private double shaken;
  private int sense;
  private long lastTurnNs;
  private long lastAlongNs;
  private boolean yields;

  /**
   * A guided hand with the tip at its start.
   *
   * @param hand values of the section {@code hand}: start, tremor and reaction time
   * @param canalLength foramen to orifice, m
   * @param seed seed of the scene
   * @param stepNs the step, ns
   */
  public GuidedHand(ParameterValues hand, double canalLength, long seed, long stepNs) {
    double stepSeconds = stepNs * 1e-9;
    start = canalLength + hand.get(HandSection.START_ABOVE) * 1e-6;
    reactionNs = hand.get(HandSection.REACTION) * 1_000_000;
    furthest = FASTEST * stepSeconds;
    tremble = new Tremble(hand, RandomStream.of(seed, "hand"), stepSeconds);
    place = start;
    target = start;
  }

  /**
   * Points to a place.
   *
   * @param remaining height of the tip above the foramen, m; negative past it
   */
  public void pointTo(double remaining) {
    if (remaining != target) {
      target = remaining;
      yields = false;
    }
  }

  @Override
  public double start() {
    return start;
  }

  @Override
  public double move(long nowNs, double remaining, int rotation) {
    feel(nowNs, rotation);
    if (yields) {
      place = remaining - shaken;
      return 0;
    }
    shaken += tremble.change();
    place += held(target - place);
    return held(remaining - place + shaken);
  }

  private double held(double metres) {
    return Math.max(-furthest, Math.min(furthest, metres));
  }

  private void feel(long nowNs, int rotation) {
    if (rotation != 0) {
      lastTurnNs = nowNs;
      if (sense == 0) {
        sense = rotation;
        lastAlongNs = nowNs;
      }
    } else if (nowNs - lastTurnNs >= RESTED_NS) {
      sense = 0;
    }
    if (rotation != 0 && rotation == sense) {
      lastAlongNs = nowNs;
      yields = false;
    } else if (rotation != 0 && nowNs - lastAlongNs >= reactionNs) {
      yields = true;
    }
  }
}
