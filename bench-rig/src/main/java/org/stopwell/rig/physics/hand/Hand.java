package org.stopwell.rig.physics.hand;

import org.stopwell.core.settings.ParameterValues;
import org.stopwell.rig.bench.AfterStop;
import org.stopwell.rig.bench.HandMotion;
import org.stopwell.rig.bench.HandSection;
import org.stopwell.rig.random.RandomStream;

/**
 * The hand on the motor. It carries the file in, feels after its reaction time whether the motor
 * turns, feeds while it does, and answers to a stop.
 *
 * <p>It feels a file that turns either way, and takes the way in which the file turns first after a
 * rest for the way of the work: strokes back that are shorter than its reaction time, as in
 * reciprocation, do not interrupt that. A file that turns back for longer works its way out, and
 * the hand answers as to a stop. Assumed.
 *
 * <p>A pecking hand that stays after a stop does not take every rest of the motor for one. Within a
 * stroke of where the motor began to turn, and above its passive depth, it has only lifted the tip
 * out of the fluid again: then it draws back by a stroke, enters again, and pecks once it is a
 * stroke deeper than where the motor began. Assumed.
 */
public final class Hand implements Feed {
  /**
   * After so long a rest the next turn may go either way, ns: longer than any reversal; assumed.
   */
  static final long RESTED_NS = 100_000_000;

  private enum Phase {
    /** Carrying a file that has not turned yet. */
    ENTERING,
    /** Feeding a turning file. */
    FEEDING,
    /** Pushing on although the motor has stopped. */
    PUSHING,
    /** Staying in place. */
    STAYING,
    /** Drawing back by a stroke, to enter again. */
    LIFTING,
    /** Drawing the file out. */
    WITHDRAWING,
    /** Out of the tooth. */
    OUT
  }

  private final HandMotion motion;
  private final AfterStop afterStop;
  private final double feed;
  private final double start;
  private final double passiveEnd;
  private final double pushThrough;
  private final double stroke;
  private final long reactionNs;
  private final long holdNs;
  private final double hesitationNs;
  private final double stepSeconds;
  private final long stepNs;
  private final Strokes peck;
  private final Tremble tremble;
  private final RandomStream random;

  private Phase phase = Phase.ENTERING;
  private boolean feelsTurning;
  private int sense;
  private long lastTurnNs;
  private boolean touched;
  private long touchedNs;
  private long lastAlongNs;
  private long phaseBeganNs;
  private double pushed;
  private double began;
  private double liftedTo;
  private boolean pecks = true;
  private boolean pausing;
  private long stretchEndsNs;

  /**
   * The hand of a scene, before it moves.
   *
   * @param hand values of the section {@code hand}
   * @param canalLength foramen to orifice, m
   * @param random the random numbers of the hand, from their beginning
   * @param stepNs the step, ns
   */
  public Hand(ParameterValues hand, double canalLength, RandomStream random, long stepNs) {
    this.stepNs = stepNs;
    stepSeconds = stepNs * 1e-9;
    this.random = random;
    motion = HandSection.motion(hand);
    afterStop = HandSection.afterStop(hand);
    feed = hand.get(HandSection.FEED) * 1e-6;
    start = canalLength + hand.get(HandSection.START_ABOVE) * 1e-6;
    passiveEnd = canalLength - hand.get(HandSection.PASSIVE_DEPTH) * 1e-6;
    pushThrough = hand.get(HandSection.PUSH_THROUGH) * 1e-6;
    stroke = hand.get(HandSection.PECK_STROKE) * 1e-6;
    boolean stage = motion == HandMotion.STAGE;
    reactionNs = stage ? 0 : hand.get(HandSection.REACTION) * 1_000_000;
    holdNs = hand.get(HandSection.HOLD) * 1_000_000;
    hesitationNs = hand.get(HandSection.HESITATION) * 1e6;
    double rms = stage ? 0 : hand.get(HandSection.TREMOR) * 1e-6;
    tremble = new Tremble(rms, hand, random, stepSeconds);
    peck = new Strokes(stroke, hand.get(HandSection.PECK_SPEED) * 1e-6, stepSeconds);
  }

  @Override
  public double start() {
    return start;
  }

  @Override
  public double move(long nowNs, double remaining, int rotation) {
    feel(nowNs, rotation);
    decide(nowNs, remaining);
    double shake = tremble.change();
    return switch (phase) {
      case ENTERING -> remaining > passiveEnd ? feed * stepSeconds + shake : 0;
      case FEEDING -> feedStep(nowNs, remaining) + shake;
      case PUSHING -> {
        pushed += feed * stepSeconds;
        yield feed * stepSeconds + shake;
      }
      case STAYING -> shake;
      case LIFTING, WITHDRAWING -> -feed * stepSeconds;
      case OUT -> 0;
    };
  }

  /** A change is felt once it has lasted for the reaction time. */
  private void feel(long nowNs, int rotation) {
    if (rotation != 0) {
      lastTurnNs = nowNs;
      sense = sense == 0 ? rotation : sense;
    } else if (nowNs - lastTurnNs >= RESTED_NS) {
      sense = 0;
    }
    if (rotation != 0 && rotation == sense) {
      touchedNs = touched ? touchedNs : nowNs;
      touched = true;
      lastAlongNs = nowNs;
      feelsTurning |= nowNs - touchedNs >= reactionNs;
    } else if (touched && nowNs - (lastAlongNs + stepNs) >= reactionNs) {
      touched = false;
      feelsTurning = false;
    }
  }

  private void decide(long nowNs, double remaining) {
    switch (phase) {
      case ENTERING -> {
        if (feelsTurning) {
          began = remaining;
          enter(Phase.FEEDING, nowNs);
        }
      }
      case FEEDING -> {
        if (!feelsTurning) {
          pushed = 0;
          enter(pushThrough > 0 ? Phase.PUSHING : atRest(remaining), nowNs);
        }
      }
      case PUSHING -> {
        if (pushed >= pushThrough) {
          enter(atRest(remaining), nowNs);
        }
      }
      case LIFTING -> {
        if (feelsTurning) {
          enter(Phase.FEEDING, nowNs);
        } else if (remaining >= liftedTo) {
          enter(Phase.ENTERING, nowNs);
        }
      }
      case STAYING -> {
        if (feelsTurning) {
          enter(Phase.FEEDING, nowNs);
        } else if (afterStop != AfterStop.HOLD && nowNs - phaseBeganNs >= holdNs) {
          enter(Phase.WITHDRAWING, nowNs);
        }
      }
      case WITHDRAWING -> {
        if (remaining >= start) {
          enter(Phase.OUT, nowNs);
        }
      }
      case OUT -> {
        if (afterStop == AfterStop.REPEAT && !feelsTurning && nowNs - phaseBeganNs >= holdNs) {
          enter(Phase.ENTERING, nowNs);
        }
      }
    }
  }

  /** What follows when the motor rests. */
  private Phase atRest(double remaining) {
    boolean stops =
        motion != HandMotion.PECKING
            || afterStop != AfterStop.HOLD
            || began - remaining >= stroke
            || remaining <= passiveEnd;
    if (stops) {
      return Phase.STAYING;
    }
    liftedTo = remaining + stroke;
    pecks = false;
    return Phase.LIFTING;
  }

  private void enter(Phase next, long nowNs) {
    phase = next;
    phaseBeganNs = nowNs;
  }

  private double feedStep(long nowNs, double remaining) {
    return switch (motion) {
      case PECKING -> {
        pecks |= began - remaining >= stroke;
        yield feed * stepSeconds + (pecks ? peck.change() : 0);
      }
      case HESITATING -> {
        if (nowNs >= stretchEndsNs) {
          pausing = stretchEndsNs != 0 && !pausing;
          stretchEndsNs = nowNs + stepNs + Math.round(hesitationNs * random.nextBetween(0.3, 1));
        }
        yield pausing ? 0 : feed * stepSeconds;
      }
      case STEADY, STAGE -> feed * stepSeconds;
    };
  }
}
