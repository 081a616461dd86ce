package org.stopwell.harness.external;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * Recovers what a device did from the samples of a trial.
 *
 * <p>The speed over {@value #HALF} samples to either side says where the file turns. Every start,
 * stop and reversal is then fitted ({@link SpeedChange}), so that the times do not depend on a
 * threshold.
 */
final class Recovery {
  /** Samples to either side of the speed: 10 ms. */
  private static final int HALF = 20;

  /** A file turns above this speed, °/s: 12 rpm, assumed. */
  private static final double TURNS = 72;

  /** A shorter interval is noise, ns: assumed. */
  private static final long SHORTEST_NS = 15_000_000;

  /** A shorter rest between two turns the same way is none, ns: assumed. */
  private static final long REST_NS = 15_000_000;

  /** Samples after the farthest angle of a reversal that still belong to it: 1.5 ms, assumed. */
  private static final int TURNING = 3;

  /** Time before and after a change that its fit needs, ns: assumed. */
  private static final long AROUND_NS = 80_000_000;

  /** A file has slowed down below this share of its speed: assumed. */
  private static final double EASED = 0.85;

  /** A slower speed must last so long, ns: assumed. */
  private static final long EASED_NS = 60_000_000;

  /** A file that the hand has moved out by more is withdrawn, µm: assumed, above the tremor. */
  static final double WITHDRAWN = 200;

  /** Expanded uncertainty of the shank scale, µm: docs/devices.md. */
  private static final double SCALE = 10;

  /** Expanded uncertainty of a time that a fit gives, ms: half a period, skew and noise. */
  private static final double TIME_MS = 1;

  /** Share of the duration of a change by which an uneven change moves its ends: assumed. */
  private static final double UNEVEN = 0.08;

  private final WatchedTrack track;
  private final double foramen;
  private final double[] speed;
  private final List<Run> runs;

  /**
   * Recovers the acts of a trial.
   *
   * @param track its samples
   * @param foramenMicrons where the shank is when the tip is at the foramen, µm
   */
  Recovery(WatchedTrack track, double foramenMicrons) {
    this.track = track;
    this.foramen = foramenMicrons;
    this.speed = speeds();
    this.runs = turns();
  }

  List<Run> runs() {
    return runs;
  }

  /** Speed at a sample, °/s. */
  double speed(int i) {
    return speed[i];
  }

  private double[] speeds() {
    double[] all = new double[track.count()];
    for (int i = 0; i < all.length; i++) {
      int low = Math.max(0, i - HALF);
      int high = Math.min(all.length - 1, i + HALF);
      double seconds = (track.ns(high) - track.ns(low)) * 1e-9;
      all[i] = seconds > 0 ? (track.degrees(high) - track.degrees(low)) / seconds : 0;
    }
    return all;
  }

  private static int way(double degreesPerS) {
    return degreesPerS > TURNS ? 1 : degreesPerS < -TURNS ? -1 : 0;
  }

  private List<Run> turns() {
    List<Run> found = new ArrayList<>();
    int i = 0;
    while (i < speed.length) {
      int way = way(speed[i]);
      int end = i + 1;
      while (end < speed.length && way(speed[end]) == way) {
        end++;
      }
      if (way != 0 && track.ns(end - 1) - track.ns(i) >= SHORTEST_NS) {
        @Nullable Run last = found.isEmpty() ? null : found.get(found.size() - 1);
        if (last != null && last.way() == way && track.ns(i) - track.ns(last.to() - 1) < REST_NS) {
          found.set(found.size() - 1, new Run(last.from(), end, way));
        } else {
          found.add(new Run(i, end, way));
        }
      }
      i = end;
    }
    return List.copyOf(found);
  }

  /** Shank withdrawn after a run and before another, µm. */
  private double withdrawn(Run before, Run after) {
    double deepest = Double.NEGATIVE_INFINITY;
    double out = 0;
    int end = Math.min(after.from(), track.count() - 1);
    for (int i = Math.max(0, before.to() - 1); i <= end; i += 20) {
      deepest = Math.max(deepest, track.shank(i));
      out = Math.max(out, deepest - track.shank(i));
    }
    return out;
  }

  /** The run whose end counts: the last forward run before the file is withdrawn. */
  private int counted() {
    int last = -1;
    for (int i = 0; i < runs.size(); i++) {
      if (runs.get(i).way() > 0) {
        if (last >= 0 && withdrawn(runs.get(last), runs.get(i)) > WITHDRAWN) {
          return last;
        }
        last = i;
      }
    }
    return last;
  }

  Acts acts() {
    int n = track.count();
    if (n < 2 * HALF) {
      return Acts.nothing(0, 0);
    }
    long endNs = track.ns(n - 1);
    double deepest = Double.NEGATIVE_INFINITY;
    for (int i = 0; i + 10 <= n; i += 10) {
      double mean = 0;
      for (int k = 0; k < 10; k++) {
        mean += track.shank(i + k) / 10;
      }
      deepest = Math.max(deepest, mean);
    }
    int deepestMicrons = remaining(deepest);
    int rest = remaining(track.meanShank(endNs - 500_000_000, endNs));
    int at = counted();
    if (at < 0) {
      return Acts.nothing(deepestMicrons, rest);
    }
    Run first = runs.stream().filter(r -> r.way() > 0).findFirst().orElseThrow();
    Run run = runs.get(at);
    SpeedChange start = change(Math.max(0, first.from() - HALF), first.from(), first.to(), true);
    int startMicrons = remaining(place(start.beginNs())[0]);
    boolean goesOn = run.to() >= n - HALF;
    if (goesOn) {
      return new Acts(
          true,
          startMicrons,
          false,
          0,
          false,
          false,
          0,
          0,
          0,
          0,
          0,
          0,
          0,
          feed(track.ns(run.to() - 1)),
          deepestMicrons,
          rest,
          rest,
          0,
          0,
          Optional.empty());
    }
    boolean reversed =
        at + 1 < runs.size()
            && runs.get(at + 1).way() < 0
            && track.ns(runs.get(at + 1).from()) - track.ns(run.to() - 1) < 2 * AROUND_NS;
    SpeedChange stop = stop(run, reversed ? runs.get(at + 1) : null);
    long actNs = stop.beginNs();
    long stillNs = stop.stillNs();
    double[] trip = place(actNs);
    double changing = (stillNs - actNs) * 1e-6;
    double timeMs = Math.hypot(TIME_MS, UNEVEN * changing);
    double speedBefore = Math.abs(stop.beforeDegreesPerS());
    double angle = stop.stillDegrees() - stop.beginDegrees();
    @Nullable Integer eased = eased(run, actNs);
    Run last = reversed ? runs.get(at + 1) : run;
    @Nullable Run again =
        runs.subList(runs.indexOf(last) + 1, runs.size()).stream()
            .filter(r -> r.way() > 0)
            .findFirst()
            .orElse(null);
    long until = track.ns(last.to() - 1);
    boolean left = again != null || foramen - rest < deepest - WITHDRAWN;
    int restNow =
        left ? remaining(stillest(until, again == null ? endNs : track.ns(again.from()))) : rest;
    return new Acts(
        true,
        startMicrons,
        eased != null,
        eased == null ? 0 : eased,
        true,
        reversed,
        actNs,
        remaining(trip[0]),
        (int) Math.ceil(Math.hypot(SCALE, Math.abs(trip[1]) * timeMs * 1e-3)),
        (int) Math.round(changing * 1e3),
        (int) Math.ceil(timeMs * Math.sqrt(2) * 1e3),
        (int) Math.round(angle * 1e3),
        (int) Math.ceil(Math.hypot(500, speedBefore * timeMs)),
        feed(actNs),
        deepestMicrons,
        restNow,
        remaining(place(until)[0]),
        (int) runs.stream().filter(r -> r.way() > 0).count() - 1,
        again == null ? 0 : remaining(place(track.ns(again.from()))[0]),
        Optional.empty());
  }

  /** Mean place over the 300 ms between two times in which the shank moves least, µm. */
  private double stillest(long fromNs, long toNs) {
    double least = Double.POSITIVE_INFINITY;
    double place = track.meanShank(fromNs, toNs);
    for (long begin = fromNs; begin + 300_000_000 <= toNs; begin += 50_000_000) {
      double early = track.meanShank(begin, begin + 150_000_000);
      double late = track.meanShank(begin + 150_000_000, begin + 300_000_000);
      if (Math.abs(late - early) < least) {
        least = Math.abs(late - early);
        place = 0.5 * (early + late);
      }
    }
    return place;
  }

  private int remaining(double shank) {
    return (int) Math.round(foramen - shank);
  }

  /** Place of the shank and its speed at a time: µm, µm/s. */
  private double[] place(long ns) {
    return track.lineOfShank(ns - 12_000_000, ns + 12_000_000, ns);
  }

  private int feed(long ns) {
    return (int) Math.round(track.lineOfShank(ns - 300_000_000, ns, ns)[1]);
  }

  /** The start of a run: the file stands before it. */
  private SpeedChange change(int from, int crossing, int to, boolean rising) {
    int low = track.at(track.ns(from) - AROUND_NS);
    int high = Math.min(to, track.at(track.ns(crossing) + AROUND_NS));
    return SpeedChange.find(track, low, Math.max(high, low + 2 * HALF), !rising);
  }

  /** The end of a run, down to standstill or into the run back. */
  private SpeedChange stop(Run run, @Nullable Run back) {
    double even = evenSpeed(run);
    int begins = run.to() - 1;
    while (begins > run.from() && speed[begins] < 0.9 * even) {
      begins--;
    }
    int shortly = track.at(track.ns(run.to() - 1) - 40_000_000);
    if (back == null && speed[shortly] < 0.5 * even) {
      begins = longWayBack(run);
    }
    int low = Math.max(run.from(), track.at(track.ns(begins) - AROUND_NS));
    int high = track.at(track.ns(run.to() - 1) + AROUND_NS);
    if (back != null) {
      // Until the play of the gear is taken up, the file stands: what follows is another change.
      int most = begins;
      for (int i = begins; i < Math.min(back.to(), high); i++) {
        most = track.degrees(i) > track.degrees(most) ? i : most;
      }
      high = most + TURNING;
    }
    return SpeedChange.find(
        track, low, Math.min(track.count(), Math.max(high, low + 2 * HALF)), true);
  }

  /** Where a motor that comes to rest slowly began to: its speed sinks from there on. */
  private int longWayBack(Run run) {
    double most = median(run.from(), run.to());
    int at = run.to() - 1;
    while (true) {
      int earlier = track.at(track.ns(at) - 100_000_000);
      if (earlier <= run.from() || speed[earlier] - speed[at] < 0.04 * most) {
        return at;
      }
      at = earlier;
    }
  }

  /** The speed of a run shortly before its end, °/s: the median of the last 300 ms but for 60. */
  private double evenSpeed(Run run) {
    long endNs = track.ns(run.to() - 1);
    int from = Math.max(run.from(), track.at(endNs - 300_000_000));
    int to = Math.max(from + 1, Math.min(run.to(), track.at(endNs - 60_000_000)));
    return Math.abs(median(from, to));
  }

  private double median(int from, int to) {
    double[] some = Arrays.copyOfRange(speed, from, to);
    Arrays.sort(some);
    return some[some.length / 2];
  }

  /** Where the file slowed down before it acted; null when it did not. */
  private @Nullable Integer eased(Run run, long actNs) {
    int settled = track.at(track.ns(run.from()) + 100_000_000);
    int end = track.at(actNs - 30_000_000);
    if (end - settled < 8 * HALF) {
      return null;
    }
    double even = median(settled, settled + (end - settled) / 3 + 1);
    int since = -1;
    for (int i = settled; i < end; i++) {
      if (speed[i] < EASED * even) {
        since = since < 0 ? i : since;
      } else {
        since = -1;
      }
    }
    return since >= 0 && track.ns(end - 1) - track.ns(since) >= EASED_NS
        ? remaining(place(track.ns(since))[0])
        : null;
  }
}
