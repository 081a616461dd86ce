package org.stopwell.harness.external;

import java.util.Arrays;
import java.util.List;
import org.stopwell.rig.device.Watched;

/** The samples of one trial, in arrays that grow. */
final class WatchedTrack {
  private int count;
  private long[] timeNs = new long[16_384];
  private long[] milliDegrees = new long[16_384];
  private int[] shank = new int[16_384];
  private int[] force = new int[16_384];
  private byte[] flags = new byte[16_384];

  void addAll(List<Watched> samples) {
    for (Watched s : samples) {
      add(s);
    }
  }

  /** The samples of columns in the order of {@link #value}. */
  static WatchedTrack of(long[][] columns, int count) {
    WatchedTrack track = new WatchedTrack();
    for (int i = 0; i < count; i++) {
      long flags = columns[4][i];
      track.add(
          new Watched(
              columns[0][i],
              columns[1][i],
              (int) columns[2][i],
              (int) columns[3][i],
              (flags & 1) != 0,
              (flags & 2) != 0));
    }
    return track;
  }

  private void add(Watched s) {
    if (count == timeNs.length) {
      int more = Math.multiplyExact(count, 2);
      timeNs = Arrays.copyOf(timeNs, more);
      milliDegrees = Arrays.copyOf(milliDegrees, more);
      shank = Arrays.copyOf(shank, more);
      force = Arrays.copyOf(force, more);
      flags = Arrays.copyOf(flags, more);
    }
    timeNs[count] = s.timeNs();
    milliDegrees[count] = s.angleMilliDegrees();
    shank[count] = s.shankMicrons();
    force[count] = s.forceMilliNewtons();
    flags[count] = (byte) ((s.marked() ? 1 : 0) | (s.witnessed() ? 2 : 0));
    count++;
  }

  int count() {
    return count;
  }

  /** One column of a sample: time ns, angle m°, shank µm, force mN, flags. */
  long value(int column, int i) {
    return switch (column) {
      case 0 -> timeNs[i];
      case 1 -> milliDegrees[i];
      case 2 -> shank[i];
      case 3 -> force[i];
      default -> flags[i];
    };
  }

  /** Time of a sample, ns. */
  long ns(int i) {
    return timeNs[i];
  }

  /** Time of a sample, ms. */
  double ms(int i) {
    return timeNs[i] * 1e-6;
  }

  double degrees(int i) {
    return milliDegrees[i] * 1e-3;
  }

  double shank(int i) {
    return shank[i];
  }

  double force(int i) {
    return force[i];
  }

  boolean marked(int i) {
    return (flags[i] & 1) != 0;
  }

  boolean witnessed(int i) {
    return (flags[i] & 2) != 0;
  }

  /** The first sample at or after a time; the count when there is none. */
  int at(long ns) {
    int low = 0;
    int high = count;
    while (low < high) {
      int middle = (low + high) >>> 1;
      if (timeNs[middle] < ns) {
        low = middle + 1;
      } else {
        high = middle;
      }
    }
    return low;
  }

  /** Mean place of the shank from one time to another, µm; marked samples do not count. */
  double meanShank(long fromNs, long toNs) {
    double sum = 0;
    int n = 0;
    int end = at(toNs);
    for (int i = at(fromNs); i < end; i++) {
      if (!marked(i)) {
        sum += shank[i];
        n++;
      }
    }
    return n == 0 ? shank[Math.max(0, Math.min(count - 1, end))] : sum / n;
  }

  /** Place of the shank at a time and its speed, by a straight line over a window: µm, µm/s. */
  double[] lineOfShank(long fromNs, long toNs, long ns) {
    double n = 0;
    double sx = 0;
    double sy = 0;
    double sxx = 0;
    double sxy = 0;
    int end = at(toNs);
    for (int i = at(fromNs); i < end; i++) {
      if (!marked(i)) {
        double x = (timeNs[i] - ns) * 1e-9;
        n++;
        sx += x;
        sy += shank[i];
        sxx += x * x;
        sxy += x * shank[i];
      }
    }
    double d = n * sxx - sx * sx;
    if (!(n >= 4 && d > 0)) {
      return new double[] {meanShank(fromNs, toNs), 0};
    }
    double slope = (n * sxy - sx * sy) / d;
    return new double[] {(sy - slope * sx) / n, slope};
  }
}
