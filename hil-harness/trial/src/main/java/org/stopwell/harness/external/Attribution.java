package org.stopwell.harness.external;

import java.util.List;
import java.util.Optional;
import org.stopwell.harness.trial.TrialRunner;
import org.stopwell.rig.device.DeviceFault;

/**
 * Finds what went wrong in a trial, and whether it was the device or the rig. The rig is looked at
 * first: a device is blamed only where the rig is sound.
 */
final class Attribution {
  /** Samples farther apart miss some, ns: ten periods. */
  private static final long GAP_NS = 5_000_000;

  /** The clocks of board and host may differ by this share, and by this time, ns: assumed. */
  private static final double SKEW = 2e-3;

  private static final long SKEW_NS = 5_000_000;

  /** No file turns faster from sample to sample, °/s: 5,000 rpm, assumed. */
  private static final double FASTEST = 30_000;

  /** A witness hears a motor for so long before the sensor is blamed, ns: assumed. */
  private static final long HEARD_NS = 200_000_000;

  /** A network that steps may be marked for so long, ns: assumed; it settles in 1 ms. */
  private static final long STEPPING_NS = 20_000_000;

  /** A device acts within this time on what it sensed, ns: assumed. */
  private static final long ACTS_WITHIN_NS = 400_000_000;

  /** Way by which shank and carriage may differ, µm: assumed. */
  private static final double SLIP = 100;

  /** The feed may stand for so long while the file turns, ns: assumed. */
  private static final long STALL_NS = 1_500_000_000;

  /** The feed may differ from that of the plan by this share: ±2 % and the fit; assumed. */
  private static final double FEED_SHARE = 0.1;

  /** The feed is compared over at least this time, ns: assumed. */
  private static final long FEED_NS = 1_500_000_000;

  /** A device that stops farther from its target stopped for another reason, µm: assumed. */
  private static final int FAR = 2_000;

  /** Turns within one place that count as oscillation: assumed. */
  private static final int OSCILLATIONS = 4;

  /** A file that stands longer has stopped, ns: assumed. */
  private static final long STOPPED_NS = 600_000_000;

  /** A longer time from the act to standstill is running on, µs: assumed; a coast takes less. */
  private static final int RUNS_ON_MICROS = 600_000;

  /** The force that points to a torque limit: so many times the usual one, and above, mN. */
  private static final double FORCE_TIMES = 3;

  private static final double FORCE = 1_000;

  /** A speed that sinks by this share from the first to the last third: assumed. */
  private static final double SINKS = 0.025;

  private final WatchedTrack track;
  private final Recovery recovery;
  private final Acts acts;
  private final RigSide rig;
  private final int standoff;
  private final double foramen;

  Attribution(
      WatchedTrack track,
      Recovery recovery,
      Acts acts,
      RigSide rig,
      int standoffMicrons,
      double foramenMicrons) {
    this.track = track;
    this.recovery = recovery;
    this.acts = acts;
    this.rig = rig;
    this.standoff = standoffMicrons;
    this.foramen = foramenMicrons;
  }

  Optional<DeviceFault> find() {
    return ofRig().or(this::ofDevice).or(this::late);
  }

  private Optional<DeviceFault> ofRig() {
    if (!rig.notes().before().closed() || !rig.notes().after().closed()) {
      return Optional.of(DeviceFault.CABLE_OFF);
    }
    if (!rig.notes().before().floats() || !rig.notes().after().floats()) {
      return Optional.of(DeviceFault.LEAK);
    }
    int n = track.count();
    if (n < 2) {
      return Optional.of(DeviceFault.SAMPLES_LOST);
    }
    double skew = Math.abs((double) track.ns(n - 1) - rig.notes().hostNs());
    if (skew > SKEW_NS + SKEW * rig.notes().hostNs()) {
      return Optional.of(DeviceFault.CLOCK_SKEW);
    }
    int jumps = 0;
    for (int i = 1; i < n; i++) {
      double seconds = (track.ns(i) - track.ns(i - 1)) * 1e-9;
      if (seconds * 1e9 > GAP_NS) {
        return Optional.of(DeviceFault.SAMPLES_LOST);
      }
      if (Math.abs(track.degrees(i) - track.degrees(i - 1)) > FASTEST * 1e-3) {
        jumps++;
      }
    }
    if (jumps >= 2) {
      return Optional.of(DeviceFault.MARK_SLIPS);
    }
    if (heardOnly()) {
      return Optional.of(DeviceFault.MARK_OFF);
    }
    if (glitch()) {
      return Optional.of(DeviceFault.NETWORK_GLITCH);
    }
    if (rig.notes().carriageMicrons() - rig.shankMicrons() > SLIP) {
      return Optional.of(DeviceFault.FILE_SLIPS);
    }
    return feed();
  }

  /** Whether the second witness hears a motor for long that the sensor does not see. */
  private boolean heardOnly() {
    long heard = 0;
    for (int i = 1; i < track.count(); i++) {
      boolean only = track.witnessed(i) && Math.abs(recovery.speed(i)) < 36;
      heard = only ? heard + track.ns(i) - track.ns(i - 1) : 0;
      if (heard > HEARD_NS) {
        return true;
      }
    }
    return false;
  }

  /** Whether a run ends during or soon after a network that stepped for too long. */
  private boolean glitch() {
    int i = 0;
    while (i < track.count()) {
      if (!track.marked(i)) {
        i++;
        continue;
      }
      int end = i;
      while (end < track.count() && track.marked(end)) {
        end++;
      }
      long from = track.ns(i);
      long to = track.ns(end - 1);
      boolean acted =
          recovery.runs().stream()
              .mapToLong(r -> track.ns(r.to() - 1))
              .anyMatch(ns -> ns >= from && ns <= to + ACTS_WITHIN_NS);
      if (to - from > STEPPING_NS && acted) {
        return true;
      }
      i = end;
    }
    return false;
  }

  private Optional<DeviceFault> feed() {
    for (Run run : recovery.runs()) {
      long from = track.ns(run.from()) + rig.reactionNs() + 200_000_000;
      long to = track.ns(run.to() - 1);
      if (run.way() < 0) {
        continue;
      }
      for (long begin = from; begin + STALL_NS <= to; begin += 250_000_000) {
        double way =
            track.meanShank(begin + STALL_NS - 50_000_000, begin + STALL_NS)
                - track.meanShank(begin, begin + 50_000_000);
        boolean deep = track.meanShank(begin, begin + 50_000_000) > foramen;
        if (!deep
            && Math.abs(way) < 0.1 * rig.feedMicronsPerSecond() * STALL_NS * 1e-9
            && rig.steady()) {
          return Optional.of(DeviceFault.STAGE_STALLS);
        }
      }
      if (rig.steady() && to - from >= FEED_NS) {
        double seen = track.lineOfShank(from, to, to)[1];
        double allowed = FEED_SHARE * rig.feedMicronsPerSecond() + 4e9 * rig.tremor() / (to - from);
        if (seen - rig.feedMicronsPerSecond() > allowed) {
          return Optional.of(DeviceFault.FEED_WRONG);
        }
      }
    }
    return Optional.empty();
  }

  private Optional<DeviceFault> ofDevice() {
    if (!acts.started()) {
      return Optional.of(
          rig.notes().answer() == NetworkAnswer.TURNED
              ? DeviceFault.NO_READING
              : DeviceFault.NEVER_STARTED);
    }
    if (acts.startMicrons() > foramen + Recovery.WITHDRAWN) {
      return Optional.of(DeviceFault.TURNED_EARLY);
    }
    List<Run> forward = recovery.runs().stream().filter(r -> r.way() > 0).toList();
    int close = 0;
    boolean again = false;
    for (int i = 1; i < forward.size(); i++) {
      Run last = forward.get(i - 1);
      Run next = forward.get(i);
      if (withdrawn(last, next)) {
        break;
      }
      close++;
      // Far from the target a device stops and starts where the tip leaves the fluid.
      boolean near = foramen - track.shank(last.to() - 1) - standoff <= FAR;
      again |= near && track.ns(next.from()) - track.ns(last.to() - 1) > STOPPED_NS;
    }
    if (close >= OSCILLATIONS) {
      return Optional.of(DeviceFault.OSCILLATES);
    }
    if (again) {
      return Optional.of(DeviceFault.RESTARTED);
    }
    if (!acts.acted()) {
      return acts.deepestMicrons() < 0 ? Optional.of(DeviceFault.NO_STOP) : Optional.empty();
    }
    if (acts.actMicrons() - standoff > FAR) {
      return Optional.of(
          acts.reversed()
              ? DeviceFault.REVERSED_SHORT
              : forced() ? DeviceFault.TORQUE_STOP : DeviceFault.FALSE_STOP);
    }
    if (!acts.reversed() && acts.stillMicros() > RUNS_ON_MICROS) {
      return Optional.of(DeviceFault.RUNS_ON);
    }
    return sinks(forward.get(0)) ? Optional.of(DeviceFault.BATTERY_LOW) : Optional.empty();
  }

  private boolean withdrawn(Run before, Run after) {
    double deepest =
        track.meanShank(track.ns(before.to() - 1), track.ns(before.to() - 1) + 10_000_000);
    double then = track.meanShank(track.ns(after.from()) - 10_000_000, track.ns(after.from()));
    return deepest - then > Recovery.WITHDRAWN;
  }

  private boolean forced() {
    double before = 0;
    int n = 0;
    int to = track.at(acts.actNs() - 300_000_000);
    for (int i = Math.max(0, to - 1_000); i < to; i++) {
      before += track.force(i);
      n++;
    }
    double most = 0;
    int end = track.at(acts.actNs() + 20_000_000);
    for (int i = to; i < end; i++) {
      most = Math.max(most, track.force(i));
    }
    return n > 0 && most > FORCE && most > FORCE_TIMES * before / n;
  }

  /** Whether the speed sinks evenly over the first half of a run, in which no device eases. */
  private boolean sinks(Run run) {
    long from = track.ns(run.from()) + 200_000_000;
    long to = track.ns(run.from()) + 2 * (track.ns(run.to() - 1) - track.ns(run.from())) / 3;
    double began = recovery.speed(Math.min(track.count() - 1, track.at(from)));
    for (int i = track.at(from); i < track.at(to); i++) {
      // What a device slows down on purpose comes at once.
      if (i > 200 && recovery.speed(i) < 0.85 * recovery.speed(i - 200)) {
        to = track.ns(i - 200);
      }
    }
    if (began <= 0) {
      return false;
    }
    if (to - from < 900_000_000) {
      return false;
    }
    long third = (to - from) / 3;
    double first = mean(from, from + third);
    double second = mean(from + third, from + 2 * third);
    double last = mean(from + 2 * third, to);
    double half = 0.5 * (first - last);
    return last < (1 - SINKS) * first && Math.abs(first - second - half) < 0.5 * half;
  }

  private double mean(long from, long to) {
    int a = track.at(from);
    int b = track.at(to);
    return (track.degrees(b - 1) - track.degrees(a)) / ((track.ns(b - 1) - track.ns(a)) * 1e-9);
  }

  private Optional<DeviceFault> late() {
    return rig.notes().worstLatenessNs() > TrialRunner.LATE_NS
        ? Optional.of(DeviceFault.LATE_HOST)
        : Optional.empty();
  }
}
