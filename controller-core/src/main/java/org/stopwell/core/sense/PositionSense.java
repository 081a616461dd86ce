package org.stopwell.core.sense;

import java.util.Optional;
import org.stopwell.core.frame.Cause;
import org.stopwell.core.frame.ControllerInput;
import org.stopwell.core.frame.PositionKind;
import org.stopwell.core.frame.Trust;
import org.stopwell.core.guard.InputCheck;
import org.stopwell.core.settings.ControllerSettings;
import org.stopwell.core.settings.GuardParameters;
import org.stopwell.core.settings.ParameterValues;
import org.stopwell.core.settings.SenseParameters;
import org.stopwell.core.settings.StageParameters;
import org.stopwell.core.trace.StateHash;

/** Everything the controller knows about where the file is: distance, speed, trust, canal. */
public final class PositionSense {
  /** Turning slower than this is standing, for the frozen-signal check, milli-rpm; assumed. */
  private static final int MOVING_MILLI_RPM = 5_000;

  private final Sensing sensing;
  private final Track track;
  private final TrustJudge judge;
  private final CanalGate gate;
  private final Measurement last = new Measurement();
  private final Signs signs = new Signs();
  private final Display display;
  private final Channels channels = new Channels();
  private final long signalAgeNs;
  private final double caution;
  private int toleranceMicrons;

  private boolean sampled;
  private long sampleSequence;
  private long sampleTimeNs;

  /** The newest distance that the filter was given; no number when a sample gave none. */
  private double unfilteredMicrons = Double.NaN;

  private long unfilteredNs;

  /** A controller is hashed more often than it is measured for. */
  private long sampleHash;

  private boolean sampleHashed;

  /**
   * A sense that has seen nothing.
   *
   * @param settings checked settings
   * @param sensing how one sample is read
   */
  public PositionSense(ControllerSettings settings, Sensing sensing) {
    this.sensing = sensing;
    ParameterValues sense = settings.section("sense");
    ParameterValues guard = settings.section("guard");
    track = new Track(sense, guard);
    judge = new TrustJudge(guard);
    display = new Display(settings);
    gate =
        new CanalGate(
            sense.getInt(SenseParameters.ENTER_SAMPLES),
            sense.get(SenseParameters.ENTER_DWELL),
            sense.get(SenseParameters.LEAVE_DWELL));
    signalAgeNs = guard.get(GuardParameters.SIGNAL_AGE);
    caution = sense.get(SenseParameters.CAUTION) * 1e-2;
    toleranceMicrons = (int) StageParameters.TOLERANCE.defaultValue();
  }

  /**
   * Sets the tolerance of the stage at work: a wider bound is not {@link Trust#SURE}.
   *
   * @param microns the tolerance, µm
   */
  public void tolerate(int microns) {
    toleranceMicrons = microns;
  }

  /**
   * One step.
   *
   * @param nowNs time of the step, ns
   * @param dtNs time since the step before, ns
   * @param in a plausible input
   */
  public void update(long nowNs, long dtNs, ControllerInput in) {
    track.age(nowNs);
    track.axis(in.insertionPresent, in.insertionMicrons);
    boolean newSample = isNew(in);
    if (newSample) {
      take(in);
    }
    signs.stale = isStale(nowNs);
    boolean turning = Math.abs(in.speedMilliRpm) >= MOVING_MILLI_RPM;
    signs.frozen = display.overdue(dtNs, turning) || (turning && channels.repeat());
    measureBound();
    judge.update(dtNs, last, signs);
    boolean fresh = !signs.stale && !signs.railed;
    gate.update(dtNs, newSample && fresh, fresh && last.inside, fresh && last.outside);
  }

  /**
   * One step with an input that cannot be used: time passes, nothing is learnt.
   *
   * @param nowNs time of the step, ns
   * @param dtNs time since the step before, ns
   */
  public void idle(long nowNs, long dtNs) {
    track.age(nowNs);
    signs.stale = isStale(nowNs);
    measureBound();
    judge.update(dtNs, last, signs);
    gate.update(dtNs, false, false, false);
  }

  /** Forgets the sample and the filter, after a fault of time: nothing before it may be used. */
  public void forget() {
    sampleHashed = false;
    track.lose();
    sampled = false;
    signs.wide = true;
    channels.forget();
    display.forget();
    last.clear();
    sensing.forget();
  }

  /**
   * What the sensing policy has learned about the canal.
   *
   * @return empty when it has learned nothing
   */
  public Optional<LearnedCanal> learned() {
    return sensing.learned();
  }

  /**
   * Gives the sensing policy what was learned about the canal before.
   *
   * @param canal what {@link #learned} gave
   * @return whether it is in use
   */
  public boolean recall(LearnedCanal canal) {
    sampleHashed = false;
    return sensing.recall(canal);
  }

  /** A sample without a place says nothing of the bound: its detectors lower the trust. */
  private void measureBound() {
    signs.far = track.far();
    if (signs.far) {
      signs.wide = false; // the first distance on the way in is judged by its own bound
    } else if (track.placed()) {
      double bound = track.boundMicrons();
      signs.wide = !(bound > 0 && bound <= toleranceMicrons);
    }
  }

  private boolean isStale(long nowNs) {
    long ageNs = nowNs - sampleTimeNs;
    return !sampled || !(ageNs >= -InputCheck.CLOCK_SLACK_NS && ageNs <= signalAgeNs);
  }

  private boolean isNew(ControllerInput in) {
    return in.positionKind != PositionKind.ABSENT
        && (!sampled || (in.sampleSequence != sampleSequence && in.sampleTimeNs > sampleTimeNs));
  }

  private void take(ControllerInput in) {
    sampleHashed = false;
    channels.keep(in);
    display.take(in);
    sampled = true;
    sampleSequence = in.sampleSequence;
    sampleTimeNs = in.sampleTimeNs;
    signs.railed = in.railed;
    signs.jumpy = false;
    last.clear();
    if (in.railed) {
      unfilteredMicrons = Double.NaN;
      return;
    }
    sensing.read(in, last);
    if (!last.repeated) {
      unfilteredMicrons = last.placed ? last.remainingMicrons : Double.NaN;
      unfilteredNs = sampleTimeNs - (long) last.lagNs;
    }
    if (last.impossible) {
      track.doubt();
      signs.jumpy = true;
    } else if (last.placed && !last.outside) {
      long measuredNs = sampleTimeNs - (long) last.lagNs;
      signs.jumpy = track.follow(last, measuredNs, judge.sound(), judge.isJumpy());
    } else {
      track.miss();
    }
  }

  /**
   * Whether there is a distance.
   *
   * @return false without a usable sample, and when the file is farther than the curve goes
   */
  public boolean placed() {
    return track.placed();
  }

  /**
   * Whether the file is in the canal but farther from the foramen than the curve goes.
   *
   * @return true when only that much is known
   */
  public boolean far() {
    return track.far();
  }

  /**
   * The distance carried on to a time.
   *
   * @param nowNs a time not before the newest sample, ns
   * @return µm; when {@link #far()}, the last distance of the curve
   */
  public double remainingMicrons(long nowNs) {
    return track.remainingMicrons(nowNs);
  }

  /**
   * The distance carried on to a time, by the readings alone: a depth axis has no part in it.
   *
   * @param nowNs a time not before the newest sample, ns
   * @return µm
   */
  public double remainingByReadings(long nowNs) {
    return track.byReadings(nowNs);
  }

  /**
   * Whether the depth axis contradicts the readings and is no longer used.
   *
   * @return true until the readings begin anew
   */
  public boolean axisDropped() {
    return track.axisDropped();
  }

  /**
   * The distance at the newest sample that was followed; not carried on.
   *
   * @return µm; when {@link #far()}, the last distance of the curve
   */
  public double measuredMicrons() {
    return track.measuredMicrons();
  }

  /**
   * What the sensing policy made of the newest sample, before the filter. It decides nothing.
   *
   * @return µm; no number when the sample gave no distance
   */
  public double unfilteredMicrons() {
    return unfilteredMicrons;
  }

  /**
   * When the file was at {@link #unfilteredMicrons()}: the time of the sample, less the delay of a
   * policy that smooths.
   *
   * @return ns
   */
  public long unfilteredNs() {
    return unfilteredNs;
  }

  /**
   * Continuity interval of the distance. Within an interval no sample has jumped and none was
   * without a distance; a single outlier does not end it.
   *
   * @return a count
   */
  public long thread() {
    return track.thread();
  }

  /**
   * How fast a drift of the signal can move the reading, as the settings declare it: through the
   * resistance in series that the sensing policy feels here, or directly where it names none.
   *
   * @return µm/s
   */
  public double feignedMicronsPerSecond() {
    return track.feignedMicronsPerSecond();
  }

  /**
   * What a withdrawal raises beside the distance: the magnitude, measured against the one that the
   * curve expects. A resistance in series moves the distance to a flatter part of the curve, where
   * every motion reads as a longer one. The magnitude then rises too little, and this falls.
   *
   * @return a magnitude, mΩ; 0 when the sensing policy has no second quantity
   */
  public double farnessWitness() {
    return track.farnessWitness();
  }

  /**
   * How fast the file comes nearer to the foramen.
   *
   * @return µm/s, negative when it is withdrawn
   */
  public double closingMicronsPerSecond() {
    return track.closingMicronsPerSecond();
  }

  /**
   * How fast the feed brings the file nearer to the foramen; strokes about it do not count.
   *
   * @return µm/s, negative when it is withdrawn; the fastest feed of the settings with an outside
   *     locator
   */
  public double feedMicronsPerSecond() {
    return knowsFeed() ? track.feedMicronsPerSecond() : display.feedMicronsPerSecond();
  }

  /**
   * How fast the file will come nearer to the foramen on average, if the hand continues its motion:
   * a hand that goes up and down turns back on the way.
   *
   * @param nowNs a time not before the newest sample, ns
   * @param aheadNs over which time from then on, ns
   * @return µm/s, negative when it will be withdrawn; the fastest feed of the settings with an
   *     outside locator, whose steps are too coarse for a speed
   */
  public double closingMicronsPerSecond(long nowNs, long aheadNs) {
    return knowsFeed()
        ? track.closingMicronsPerSecond(nowNs, aheadNs)
        : display.feedMicronsPerSecond();
  }

  /**
   * The place that a stop is decided from.
   *
   * @param nowNs a time not before the newest sample, ns
   * @return µm; the distance, or with an outside locator the nearest place that its newest value
   *     and the age of that value allow
   */
  public double decidingMicrons(long nowNs) {
    return knowsFeed() ? remainingMicrons(nowNs) : display.nearestMicrons(ageNs(nowNs));
  }

  /**
   * Whether the speed of the file is measured.
   *
   * @return false with an outside locator
   */
  public boolean knowsFeed() {
    return !display.decides();
  }

  /**
   * Stated bound of the distance: its error is within it 95 times in 100.
   *
   * @return µm; 0 when there is no distance or the sensing policy states none
   */
  public int boundMicrons() {
    return placed() ? (int) Math.min(Integer.MAX_VALUE, Math.ceil(track.boundMicrons())) : 0;
  }

  /**
   * Standard error of the distance with all that is not known of the canal.
   *
   * @return µm; 0 when there is no distance or the sensing policy does not give one
   */
  public double standardErrorMicrons() {
    return placed() ? last.standardErrorMicrons : 0;
  }

  /**
   * Distance by which a stop comes before the standoff, for the uncertainty of the canal.
   *
   * @return µm
   */
  public double cautionMicrons() {
    return caution * standardErrorMicrons();
  }

  /**
   * Age of the newest sample.
   *
   * @param nowNs time of the step, ns
   * @return ns, at least 0; -1 when none has come
   */
  public long ageNs(long nowNs) {
    return sampled ? Math.max(0, nowNs - sampleTimeNs) : -1;
  }

  /**
   * Trust in the reading.
   *
   * @return the trust
   */
  public Trust trust() {
    return judge.trust();
  }

  /**
   * Whether the signal is sound: no detector has lowered the trust, and the bound alone may be
   * wide. It is asked where the place is compared with itself, or where the answer is a stop.
   *
   * @return true when trust is {@link Trust#SURE}, or {@link Trust#DOUBTFUL} by {@link Cause#WIDE}
   */
  public boolean sound() {
    return judge.sound();
  }

  /**
   * Why trust is not {@link Trust#SURE}.
   *
   * @return the cause
   */
  public Cause cause() {
    return judge.cause();
  }

  /**
   * Whether the file is proven to be in the canal.
   *
   * @return true after samples and dwell
   */
  public boolean inside() {
    return gate.inside();
  }

  /**
   * Whether the file is proven to be out of the canal.
   *
   * @return true after the dwell
   */
  public boolean outside() {
    return gate.outside();
  }

  /**
   * Whether the newest sample holds what the sensing policy needs.
   *
   * @return false when the bench sends another kind of signal than the settings name
   */
  public boolean usable() {
    return !last.unusable;
  }

  /**
   * Folds in the state.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixInto(long hash) {
    if (!sampleHashed) {
      sampleHash = sampleHash();
      sampleHashed = true;
    }
    long h = StateHash.join(hash, sampleHash);
    h = StateHash.join(h, gate.mixInto(StateHash.START));
    h = StateHash.join(h, judge.mixInto(StateHash.START));
    return StateHash.mix(display.mixInto(h), bits());
  }

  /** Of what changes with a sample alone. */
  private long sampleHash() {
    long h = StateHash.join(track.mixInto(StateHash.START), sensing.mixInto(StateHash.START));
    h = StateHash.mix(h, sampleSequence);
    h = StateHash.mix(h, sampleTimeNs, sampled);
    return channels.mixInto(h);
  }

  private long bits() {
    return (channels.repeat() ? 1 : 0) << 16 | track.bits() << 24 | signs.bits() << 8 | last.bits();
  }

  /**
   * Folds in the mode: the state without the numbers that vary all the time.
   *
   * @param hash the hash so far
   * @return the hash with it
   */
  public long mixMode(long hash) {
    long h = gate.mixMode(judge.mixMode(hash));
    return StateHash.mix(h, (sampled ? 1 : 0) | track.modeBits() << 1);
  }
}
